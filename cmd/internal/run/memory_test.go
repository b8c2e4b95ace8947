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
	for _, c := range []struct {
		name, why, text string
		want            int64
	}{
		{"mebibytes", "IEC 80000-13", "512MiB", 512 << 20},
		{"megabytes", "powers of 1000", "512MB", 512_000_000},
		{"a letter", "as with other Unix tools", "2G", 2 << 30},
		{"small letters", "nobody means millibits", "2gib", 2 << 30},
		{"a fraction", "exact in binary", "1.5GiB", 3 << 29},
		{"bytes", "a plain number", "800000000", 800_000_000},
		{"space", "as people write it", " 24 GiB ", 24 << 30},
		{"no number", "refused", "MiB", 0},
		{"nothing", "refused", "", 0},
		{"no unit", "refused", "5 apples", 0},
		{"negative", "refused", "-5M", 0},
		{"zero", "refused", "0", 0},
		{"endless", "refused", "1e9T", 0},
		{"no number either", "refused", "NaN", 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			got, err := ParseSize(c.text)
			assert.Equal(t, c.want, got, c.why)
			assert.Equal(t, c.want == 0, err != nil, c.why)
		})
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
