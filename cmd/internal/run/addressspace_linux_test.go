package run

import (
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestLeftOf(t *testing.T) {
	t.Parallel()
	left, ok := leftOf(1000*4096, "600 50 20 1 0 30 0", 4096)
	assert.True(t, ok)
	assert.EqualValues(t, 450*4096, left, "400 pages are free, 50 are its own already")
	left, _ = leftOf(100, "600 50", 4096)
	assert.EqualValues(t, 1, left, "next to nothing")
	left, _ = leftOf(100, "", 4096)
	assert.EqualValues(t, 100, left)
}

// TestAddressSpaceLimit runs a process of this test under ulimit -v.
func TestAddressSpaceLimit(t *testing.T) {
	const limit = "DESKPART_TEST_LIMITED"
	if os.Getenv(limit) != "" {
		before, ok := addressSpace()
		require.True(t, ok)
		half, whole := DefaultMemory(), MemoryLimit()
		after, _ := addressSpace()
		assert.Positive(t, after)
		assert.Less(t, before, int64(2000000<<10))
		// Meanwhile the process may set aside another arena, and have more in memory.
		const grown = 16 << 20
		low, high := after-grown, before+grown
		assert.True(t, low/2 <= half && half <= high/2, "%d: %d to %d", half, low/2, high/2)
		assert.True(t, low <= whole && whole <= high, "%d: %d to %d", whole, low, high)
		return
	}
	cmd := exec.Command("/bin/sh", "-c", `ulimit -v 2000000; exec "$0" -test.run '^TestAddressSpaceLimit$'`, os.Args[0])
	cmd.Env = append(os.Environ(), limit+"=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
}
