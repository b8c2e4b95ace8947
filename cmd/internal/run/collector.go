package run

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"sync"
	"sync/atomic"
)

// garbageAllowed is how much garbage may lie about before it is collected, in bytes
// for a run and for each worker. What is large is used again, so that little garbage
// is made: a single score is done before any is collected.
const garbageAllowed, garbagePerWorker = 32 << 20, 12 << 20

// uncounted is what the process takes without the collector's knowing, in bytes: the
// program's code, mostly.
const uncounted = 16 << 20

// TuneCollector has the collector let an amount of garbage lie about that does not
// grow with what is in use, as its own measure, a percentage of that, would: a run
// through an archive is as quick and takes half the memory. A frugal run has half as much:
// one that reckons long over little memory. Near the memory limit, in
// bytes, it works harder. Whoever sets GOGC or GOMEMLIMIT decides instead. It goes on
// until stop is called; when the last run of several has stopped, the collector is as it
// was before the first.
func TuneCollector(jobs int, memory int64, frugal bool) (stop func()) {
	tuning.begin()
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memory - uncounted)
	}
	if os.Getenv("GOGC") != "" {
		return sync.OnceFunc(tuning.end)
	}
	allowed := uint64(garbageAllowed + jobs*garbagePerWorker)
	if frugal {
		allowed /= 2
	}
	debug.SetGCPercent(percentOf(allowed, smallestHeap))
	rest := afterEachCollection(func() { tuning.allow(allowed) })
	return sync.OnceFunc(func() {
		rest()
		tuning.end()
	})
}

// tuning is how the process's one collector was before runs began to tune it.
var tuning tuned

type tuned struct {
	mu      sync.Mutex
	runs    int
	percent int
	limit   int64
}

func (t *tuned) begin() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.runs++; t.runs == 1 {
		t.limit = debug.SetMemoryLimit(-1)
		t.percent = debug.SetGCPercent(percentOf(garbageAllowed, smallestHeap))
	}
}

// allow lets so much garbage lie about, as long as a run goes on.
func (t *tuned) allow(garbage uint64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.runs > 0 {
		debug.SetGCPercent(percentOf(garbage, liveHeap()))
	}
}

func (t *tuned) end() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.runs--; t.runs == 0 {
		debug.SetMemoryLimit(t.limit)
		debug.SetGCPercent(t.percent)
	}
}

// smallestHeap is what the collector takes to be in use before its first round, in
// bytes (package runtime, defaultHeapMinimum).
const smallestHeap = 4 << 20

// leastPercent keeps the collector from running all the time where much is in use.
const leastPercent = 25

// percentOf is the collector's percentage by which garbage may grow, given how much
// is in use.
func percentOf(allowed, inUse uint64) int {
	return max(int(100*allowed/max(inUse, smallestHeap)), leastPercent)
}

// liveHeap is what the last collection found in use, in bytes.
func liveHeap() uint64 {
	sample := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(sample)
	if sample[0].Value.Kind() != metrics.KindUint64 {
		return smallestHeap
	}
	return sample[0].Value.Uint64()
}

// afterEachCollection has do called after every collection until stop is called: an
// object that nobody holds is found by each, and its cleanup makes the next.
func afterEachCollection(do func()) (stop func()) {
	var stopped atomic.Bool
	var mark func(struct{})
	mark = func(struct{}) {
		if !stopped.Load() {
			do()
			runtime.AddCleanup(new([16]byte), mark, struct{}{})
		}
	}
	runtime.AddCleanup(new([16]byte), mark, struct{}{})
	return func() { stopped.Store(true) }
}
