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
		left, ok := addressSpace()
		require.True(t, ok)
		assert.Positive(t, left)
		assert.Less(t, left, int64(2000000<<10))
		const grown = 16 << 20 // the process meanwhile
		assert.InDelta(t, left/2, DefaultMemory(), grown)
		assert.InDelta(t, left, MemoryLimit(), grown)
		return
	}
	cmd := exec.Command("/bin/sh", "-c", `ulimit -v 2000000; exec "$0" -test.run '^TestAddressSpaceLimit$'`, os.Args[0])
	cmd.Env = append(os.Environ(), limit+"=1")
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
}
