package report

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"github.com/cespare/xxhash/v2"
)

// Sum is the SHA-256 of data in hexadecimal: what a file was made of, and that it is
// what was made.
func Sum(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// QuickSum is the XXH64 of data in hexadecimal. By it a later run sees whether a file is
// what it was, ten times as fast as by the SHA-256; it is no proof against anybody who
// means to deceive, and nothing is written over because of it.
func QuickSum(data []byte) string { return QuickSumOf(xxhash.Sum64(data)) }

// QuickSumOf writes a XXH64.
func QuickSumOf(sum uint64) string { return fmt.Sprintf("%016x", sum) }
