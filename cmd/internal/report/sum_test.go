package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The sums of no bytes and of "abc": FIPS 180-2, B.1, and the XXH64 of seed 0 as the
// algorithm's own specification gives it (xxHash, XXH64 test values).
func TestSums(t *testing.T) {
	t.Parallel()
	assert.Equal(t, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", Sum([]byte("abc")))
	assert.Equal(t, "ef46db3751d8e999", QuickSum(nil))
	assert.Equal(t, "44bc2cf5ad770999", QuickSum([]byte("abc")))
}

// A source is summed in full unless an earlier manifest knows it by its quick sum.
func TestSourceSums(t *testing.T) {
	t.Parallel()
	data := []byte("abc")
	for name, c := range map[string]struct {
		old  *Manifest
		want string
	}{
		"no manifest":            {nil, Sum(data)},
		"one without quick sums": {&Manifest{Source: Source{SHA256: "old"}}, Sum(data)},
		"another source":         {&Manifest{Source: Source{SHA256: "old"}, Quick: &QuickSums{Source: QuickSum(nil)}}, Sum(data)},
		"the same source":        {&Manifest{Source: Source{SHA256: "old"}, Quick: &QuickSums{Source: QuickSum(data)}}, "old"},
	} {
		var m Manifest
		m.SourceSums(data, c.old)
		assert.Equal(t, c.want, m.Source.SHA256, name)
		assert.Equal(t, QuickSum(data), m.Quick.Source, name)
	}
}
