package run

import (
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestParseSize(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]int64{
		"512MiB":    512 << 20, // IEC 80000-13
		"512MB":     512_000_000,
		"2G":        2 << 30, // as with other Unix tools
		"2gib":      2 << 30, // nobody means millibits
		"1.5GiB":    3 << 29,
		"800000000": 800_000_000,
		" 24 GiB ":  24 << 30,
		// What is no size is refused.
		"MiB": 0, "": 0, "5 apples": 0, "-5M": 0, "0": 0, "1e9T": 0, "NaN": 0,
	} {
		got, err := ParseSize(text)
		assert.Equal(t, want, got, text)
		assert.Equal(t, want == 0, err != nil, text)
	}
}

func TestInWords(t *testing.T) {
	t.Parallel()
	for bytes, want := range map[int64]string{1: "1MiB", 1 << 20: "1MiB", 1<<20 + 1: "2MiB", 256 << 20: "256MiB", 10 << 30: "10240MiB", 11<<30 - 1: "11GiB"} {
		assert.Equal(t, want, InWords(bytes))
		again, err := ParseSize(want)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, again, bytes, "it is enough")
	}
}

func TestLeast(t *testing.T) {
	t.Parallel()
	is := func(n int64) func() (int64, bool) { return func() (int64, bool) { return n, true } }
	unknown := func() (int64, bool) { return 0, false }
	assert.EqualValues(t, 1<<30, least(unknown, unknown), "1 GiB is taken")
	assert.EqualValues(t, 5<<30, least(is(5<<30), unknown), "the machine's")
	assert.EqualValues(t, 2, least(is(5), is(2), is(3)), "the least of all")
}

// The machine's memory is known on every system that these tests run on; the kernel's own
// file says the same where there is one.
func TestMachineMemory(t *testing.T) {
	memory, ok := machineMemory()
	require.True(t, ok)
	assert.Greater(t, memory, int64(256<<20))
	info, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		t.Skip("no /proc/meminfo")
	}
	var kib int64
	_, err = fmt.Sscanf(string(info), "MemTotal: %d kB", &kib)
	require.NoError(t, err)
	assert.Equal(t, kib<<10, memory)
}
