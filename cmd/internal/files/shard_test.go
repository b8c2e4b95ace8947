package files_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/files"
)

func TestParseShard(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why, text string
		want            files.Shard
		ok              bool
	}{
		{"third of eight", "as in the contract", "3/8", files.Shard{K: 3, N: 8}, true},
		{"one of one", "all", "1/1", files.Shard{K: 1, N: 1}, true},
		{"none", "all", "", files.Shard{}, true},
		{"zero", "slices count from 1", "0/8", files.Shard{}, false},
		{"beyond", "there is no ninth of eight", "9/8", files.Shard{}, false},
		{"negative", "no number of slices", "1/-8", files.Shard{}, false},
		{"half", "both are needed", "3", files.Shard{}, false},
		{"rest", "nothing may follow", "3/8/1", files.Shard{}, false},
		{"words", "numbers are needed", "a/b", files.Shard{}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := files.ParseShard(c.text)
			assert.Equal(t, c.ok, err == nil, c.why)
			assert.Equal(t, c.want, got, c.why)
			if c.ok {
				assert.Equal(t, c.text, got.String())
			}
		})
	}
}

// Every path is in exactly one slice, and no slice is much larger than its share:
// with 10,000 paths in 8 slices the count has a standard deviation of 33, and six
// of them are 200.
func TestShardsShareOut(t *testing.T) {
	t.Parallel()
	counts := make([]int, 8)
	for i := range 10000 {
		in := 0
		for k := range counts {
			if (files.Shard{K: k + 1, N: 8}).Includes(fmt.Sprintf("suite %d/movement.mxl", i)) {
				counts[k]++
				in++
			}
		}
		require.Equal(t, 1, in)
	}
	for _, n := range counts {
		assert.InDelta(t, 1250, n, 200)
	}
}

// The slices must never change, or machines with different versions would leave
// a file out. The first eight bytes of sha256sum's
// answers are 1e9480f927f83f90, 82229d90f4d40de9 and 6fc5716e102e2815; modulo 7
// they leave 1, 3 and 0, and slices count from 1.
func TestShardsStay(t *testing.T) {
	t.Parallel()
	for key, k := range map[string]int{"a.mxl": 2, "b/c.musicxml": 4, "Flöte.xml": 1} {
		assert.True(t, files.Shard{K: k, N: 7}.Includes(key), key)
	}
	assert.True(t, files.Shard{K: 1, N: 7}.Includes("Flo\u0308te.xml"), "the same in either Unicode form")
}

// What cannot be an input is said by the one slice that would have had it.
func TestShardsShareProblems(t *testing.T) {
	t.Parallel()
	said := map[string]int{}
	for k := 1; k <= 3; k++ {
		list := strings.NewReader("gone/a.xml\ngone/b.xml\ngone/c.xml\ngone/d.xml\n")
		inputs, problems, err := files.Search{FilesFrom: "-", In: list, Shard: files.Shard{K: k, N: 3}}.Find(t.Context())
		require.NoError(t, err)
		assert.Empty(t, inputs)
		for _, p := range problems {
			said[p.Path]++
		}
	}
	assert.Equal(t, map[string]int{"gone/a.xml": 1, "gone/b.xml": 1, "gone/c.xml": 1, "gone/d.xml": 1}, said)
}
