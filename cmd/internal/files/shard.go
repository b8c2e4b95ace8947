package files

import (
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// Shard is one of N slices of a list of inputs, K counting from 1. The zero
// value is the whole list.
type Shard struct{ K, N int }

// ParseShard reads "K/N" with 1 ≤ K ≤ N. The empty string is the whole list.
func ParseShard(text string) (Shard, error) {
	if text == "" {
		return Shard{}, nil
	}
	left, right, _ := strings.Cut(text, "/")
	k, errK := strconv.Atoi(left)
	n, errN := strconv.Atoi(right)
	if errK != nil || errN != nil || k < 1 || k > n {
		return Shard{}, fmt.Errorf("shard %q is not K/N with K from 1 to N; write 3/8 for the third of eight slices", text)
	}
	return Shard{k, n}, nil
}

// Includes tells whether the slice has the input of this path below the folder
// that was searched. It looks at nothing but the path, so that machines that
// know nothing of each other, and mount the same archive in different places,
// agree. The path is put in Unicode form C first: file systems differ in that.
func (s Shard) Includes(path string) bool {
	if s.N <= 1 {
		return true
	}
	sum := sha256.Sum256([]byte(norm.NFC.String(path)))
	return binary.BigEndian.Uint64(sum[:8])%uint64(s.N) == uint64(s.K-1)
}

// String gives "K/N", and nothing for the whole list.
func (s Shard) String() string {
	if s.N == 0 {
		return ""
	}
	return fmt.Sprintf("%d/%d", s.K, s.N)
}
