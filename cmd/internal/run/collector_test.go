package run

import (
	"runtime"
	"runtime/debug"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestPercentOf(t *testing.T) {
	t.Parallel()
	for inUse, want := range map[uint64]int{
		0:        1100, // the collector takes 4 MB for the least
		44 << 20: 100,  // percent of the amount in use
		88 << 20: 50,   // the garbage does not grow with it
		4 << 30:  leastPercent,
	} {
		assert.Equal(t, want, percentOf(44<<20, inUse))
	}
}

// TestAfterEachCollection: something is done after one collection and the next, until
// it is stopped.
func TestAfterEachCollection(t *testing.T) {
	var times atomic.Int32
	stop := afterEachCollection(func() { times.Add(1) })
	for want := int32(1); want <= 3; want++ {
		require.Eventually(t, func() bool { runtime.GC(); return times.Load() >= want }, 10*time.Second, time.Millisecond)
	}
	stop()
	runtime.GC()
	time.Sleep(10 * time.Millisecond)
	settled := times.Load()
	for range 5 {
		runtime.GC()
	}
	assert.Equal(t, settled, times.Load())
}

func TestLiveHeap(t *testing.T) {
	runtime.GC()
	assert.Greater(t, liveHeap(), uint64(100_000))
}

// When the last of several runs has stopped, the collector is as it was before the first.
func TestTuneCollectorRestores(t *testing.T) {
	setting := func() (int, int64) {
		percent := debug.SetGCPercent(100)
		debug.SetGCPercent(percent)
		return percent, debug.SetMemoryLimit(-1)
	}
	percent, limit := setting()
	first, second := TuneCollector(2, 1<<30, false), TuneCollector(1, 2<<30, true)
	first()
	first() // once more does nothing
	runtime.GC()
	tunedPercent, tunedLimit := setting()
	assert.NotEqual(t, percent, tunedPercent, "one goes on")
	assert.NotEqual(t, limit, tunedLimit)
	second()
	for range 3 {
		runtime.GC()
		time.Sleep(5 * time.Millisecond)
	}
	restored, restoredLimit := setting()
	assert.Equal(t, percent, restored)
	assert.Equal(t, limit, restoredLimit)
}
