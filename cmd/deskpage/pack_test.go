package main

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
)

// TestTextHoldsBytes reads the text back bit by bit, as its format says, and holds it
// against what HTML keeps.
func TestTextHoldsBytes(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	all := [][]byte{nil, {0}, {0, 0}, {0x1a, 0x34}, {0x78}, bytes.Repeat([]byte{0}, 9), bytes.Repeat([]byte{0x3c}, 20), bytes.Repeat([]byte{0xff}, 20)}
	for n := range 40 {
		data := make([]byte, n)
		for i := range data {
			data[i] = byte(random.UintN(256))
		}
		all = append(all, data)
	}
	for _, data := range all {
		text := asText(data)
		assert.True(t, utf8.ValidString(text))
		assert.False(t, strings.ContainsAny(text, "\x00\r<"), "%q", text)
		var bits strings.Builder // as zeros and ones
		seven := func(v int) {
			for b := 6; b >= 0; b-- {
				bits.WriteByte('0' + byte(v>>b&1))
			}
		}
		for _, r := range text {
			switch {
			case r < 0x80:
				seven(int(r))
			case r < 0x280:
				seven(int([]byte{0, 13, 60}[(r-0x100)/128]))
				seven(int(r) % 128)
			default:
				seven(int([]byte{0, 13, 60}[r-0x280]))
			}
		}
		var back []byte
		for s := bits.String(); len(s) >= 8; s = s[8:] {
			v := byte(0)
			for _, bit := range s[:8] {
				v = v<<1 | byte(bit-'0')
			}
			back = append(back, v)
		}
		assert.Equal(t, string(data), string(back))
	}
}
