package run_test

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/run"
)

func numbers(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// gauge remembers the most that was in use at once.
type gauge struct{ now, most atomic.Int64 }

func (g *gauge) add(n int64) {
	now := g.now.Add(n)
	for most := g.most.Load(); now > most && !g.most.CompareAndSwap(most, now); most = g.most.Load() {
	}
}

// Whatever the bounds, every result comes, in the order of the items, and the
// bounds hold. An item's pieces are work like any other.
func TestAllWithinBounds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why            string
		jobs                 int
		memory, whole, piece int64
		pieces               int
		mostWhole            int64 // the most items at once
	}{
		{"one worker", "one after another", 1, 1000, 10, 1, 5, 1},
		{"four workers", "as many as there are workers", 4, 1000, 10, 1, 5, 4},
		{"little memory", "two items fit, with one piece each", 4, 100, 30, 40, 5, 1},
		{"memory for two", "two items of 45", 4, 100, 5, 10, 5, 2},
		{"larger than all", "one item at a time, alone", 4, 100, 1000, 10, 5, 1},
		{"pieces larger than all", "one at a time as well", 4, 100, 10, 1000, 5, 1},
		{"many workers, no pieces", "nothing to share", 8, 1000, 1, 0, 0, 8},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var items, pieces gauge
			busy := make([]atomic.Bool, c.jobs)
			take := func(worker int) { assert.False(t, busy[worker].Swap(true), "no two at work have one number") }
			next := 0
			err := run.All(context.Background(), run.NewPool(c.jobs, c.memory), numbers(100), run.Work[int, string]{
				Cost: func(int) run.Cost { return run.Cost{Whole: c.whole, Piece: c.piece} },
				Do: func(ctx context.Context, w *run.Worker, i int) (string, error) {
					items.add(1)
					defer items.add(-1)
					var done sync.Map
					for n, err := range w.Each(ctx, c.pieces, func(_ context.Context, worker, n int) error {
						take(worker)
						defer busy[worker].Store(false)
						pieces.add(1)
						defer pieces.add(-1)
						runtime.Gosched()
						done.Store(n, true)
						return nil
					}) {
						assert.NoError(t, err)
						_, did := done.Load(n)
						assert.True(t, did)
					}
					if i%10 == 3 {
						return "", errors.New("bad")
					}
					return fmt.Sprint(i), nil
				},
				Deliver: func(r run.Result[int, string]) error {
					assert.Equal(t, next, r.Item, "in order")
					assert.Equal(t, r.Item%10 == 3, r.Err != nil, "a bad item is one bad item")
					next++
					return nil
				},
			})
			require.NoError(t, err)
			assert.Equal(t, 100, next)
			assert.LessOrEqual(t, items.most.Load(), c.mostWhole, c.why)
			assert.LessOrEqual(t, pieces.most.Load(), int64(c.jobs), "pieces have workers, too")
			inPieces := c.memory - c.whole
			if c.piece > 0 && inPieces >= c.piece {
				assert.LessOrEqual(t, pieces.most.Load()*c.piece, c.memory, "and memory")
			}
		})
	}
}

// inPieces has a pool of so many workers do items in so many pieces.
func inPieces(t *testing.T, jobs, items, pieces int, begin func(item int) (alone bool), do func(piece int)) {
	t.Helper()
	assert.NoError(t, run.All(context.Background(), run.NewPool(jobs, 1<<20), numbers(items), run.Work[int, int]{
		Do: func(ctx context.Context, w *run.Worker, item int) (int, error) {
			if begin(item) {
				return 0, nil
			}
			return 0, errors.Join(w.Each(ctx, pieces, func(_ context.Context, _, piece int) error {
				do(piece)
				return nil
			})...)
		},
	}))
}

// One item with many pieces has all workers: each piece waits until all are
// taken, which would hang if it had fewer.
func TestOneItemUsesAllWorkers(t *testing.T) {
	t.Parallel()
	const jobs = 4
	var met sync.WaitGroup
	met.Add(jobs)
	inPieces(t, jobs, 1, jobs, func(int) bool { return false }, func(int) {
		met.Done()
		met.Wait()
	})
}

// A worker that falls idle in the middle is used by whoever still has pieces.
func TestPiecesTakeWorkersThatFallIdle(t *testing.T) {
	t.Parallel()
	first := make(chan struct{})
	var met sync.WaitGroup
	met.Add(2)
	inPieces(t, 2, 2, 1000, func(item int) bool {
		if item == 0 {
			<-first // holds its worker until the other is at its first piece
		}
		return item == 0
	}, func(i int) {
		switch {
		case i == 0:
			close(first)
		case i >= 998: // the last two are only done together
			met.Done()
			met.Wait()
		default:
			runtime.Gosched()
		}
	})
}

func TestPanicIsOneItemsError(t *testing.T) {
	t.Parallel()
	var faults []int
	err := run.All(context.Background(), run.NewPool(2, 1<<20), numbers(4), run.Work[int, int]{
		Do: func(ctx context.Context, w *run.Worker, i int) (int, error) {
			switch i {
			case 1:
				panic("out of range")
			case 2:
				errs := w.Each(ctx, 3, func(_ context.Context, _, n int) error {
					if n == 1 {
						var none []int
						_ = none[n]
					}
					return nil
				})
				assert.NoError(t, errs[0])
				assert.NoError(t, errs[2])
				return 0, errs[1]
			}
			return i, nil
		},
		Deliver: func(r run.Result[int, int]) error {
			if fault, ok := errors.AsType[*run.Fault](r.Err); ok {
				faults = append(faults, r.Item)
				assert.NotEmpty(t, fault.Stack)
				assert.Contains(t, r.Err.Error(), "a mistake in the program itself (")
			}
			return nil
		},
	})
	require.NoError(t, err)
	assert.Equal(t, []int{1, 2}, faults)
}

// When the context ends, what was begun is delivered and nothing more is begun.
func TestRunStops(t *testing.T) {
	t.Parallel()
	cause := errors.New("stopped by a test")
	ctx, cancel := context.WithCancelCause(context.Background())
	var begun atomic.Int64
	delivered := 0
	err := run.All(ctx, run.NewPool(2, 1<<20), numbers(1000), run.Work[int, int]{
		Do: func(ctx context.Context, w *run.Worker, i int) (int, error) {
			if begun.Add(1) == 10 {
				cancel(cause)
			}
			errs := w.Each(ctx, 3, func(context.Context, int, int) error { return nil })
			return i, errors.Join(errs...)
		},
		Deliver: func(r run.Result[int, int]) error {
			assert.Equal(t, delivered, r.Item)
			delivered++
			if r.Err != nil {
				assert.ErrorIs(t, r.Err, cause)
			}
			return nil
		},
	})
	assert.ErrorIs(t, err, cause)
	assert.Equal(t, int(begun.Load()), delivered)
	assert.Less(t, delivered, 20)
}

// An error of Deliver, such as a full disk, ends the run.
func TestDeliverEndsTheRun(t *testing.T) {
	t.Parallel()
	full := errors.New("full")
	var begun atomic.Int64
	err := run.All(context.Background(), run.NewPool(2, 1<<20), numbers(100000), run.Work[int, int]{
		Do: func(context.Context, *run.Worker, int) (int, error) { begun.Add(1); return 0, nil },
		Deliver: func(r run.Result[int, int]) error {
			assert.Less(t, r.Item, 6, "nothing is delivered after it")
			if r.Item == 5 {
				return full
			}
			return nil
		},
	})
	assert.ErrorIs(t, err, full)
	assert.Less(t, begun.Load(), int64(3000), "no more than the lookahead is begun")
}

// A slow first item does not let results pile up without end: 1024 wait in the
// queue, one at its head, and one more is begun.
func TestLookaheadIsBounded(t *testing.T) {
	t.Parallel()
	const most = 1024 + 2
	var begun atomic.Int64
	full := make(chan struct{})
	err := run.All(context.Background(), run.NewPool(2, 1<<20), numbers(5000), run.Work[int, int]{
		Do: func(_ context.Context, _ *run.Worker, i int) (int, error) {
			if begun.Add(1) == most {
				close(full)
			}
			if i == 0 {
				<-full
				for range 1000 {
					runtime.Gosched()
				}
				assert.LessOrEqual(t, begun.Load(), int64(most))
			}
			return 0, nil
		},
	})
	assert.NoError(t, err)
	assert.Equal(t, int64(5000), begun.Load())
}

func TestRunOfNothing(t *testing.T) {
	t.Parallel()
	assert.NoError(t, run.All(context.Background(), run.NewPool(0, 0), nil, run.Work[int, int]{}))
}

// Items turn out to take more than was guessed: each gets its memory in the end, none
// waits for another that waits for it, and one that can never have it is refused.
func TestReserve(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		jobs      int
		really    run.Cost
		mostWhole int64
		refused   bool
	}{
		{"as guessed", "all workers", 4, run.Cost{Whole: 10}, 4, false},
		{"more", "one at a time", 4, run.Cost{Whole: 60}, 1, false},
		{"all there is", "one at a time", 4, run.Cost{Whole: 100}, 1, false},
		{"a piece more than fits twice", "fewer workers at the pieces", 4, run.Cost{Whole: 20, Piece: 50}, 1, false},
		{"less", "what is over is given back", 4, run.Cost{Whole: 1}, 4, false},
		{"more than there is", "refused, and told how much", 4, run.Cost{Whole: 51, Piece: 50}, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var held gauge
			var begun atomic.Int64
			done := 0
			err := run.All(t.Context(), run.NewPool(c.jobs, 100), numbers(200), run.Work[int, int]{
				Cost: func(int) run.Cost { return run.Cost{Whole: 10} },
				Do: func(_ context.Context, w *run.Worker, i int) (int, error) {
					begun.Add(1)
					if err := w.Reserve(c.really); err != nil {
						return 0, fmt.Errorf("wrapped: %w", err)
					}
					held.add(1)
					runtime.Gosched()
					held.add(-1)
					return i, nil
				},
				Deliver: func(r run.Result[int, int]) error {
					var much *run.TooMuch
					assert.Equal(t, c.refused, errors.As(r.Err, &much), c.why)
					if c.refused {
						assert.Equal(t, run.TooMuch{Wants: 101, Memory: 100}, *much)
					} else {
						assert.NoError(t, r.Err)
						assert.Equal(t, done, r.Value)
					}
					done++
					return nil
				}})
			require.NoError(t, err)
			assert.Equal(t, 200, done)
			assert.LessOrEqual(t, held.most.Load(), c.mostWhole, c.why)
		})
	}
}

// A work of several pieces reserves one after another, and starts again where the last
// does not fit; what it waited for it then has from the beginning.
func TestReserveOneAfterAnother(t *testing.T) {
	t.Parallel()
	var held gauge
	err := run.All(t.Context(), run.NewPool(4, 100), numbers(100), run.Work[int, int]{
		Do: func(_ context.Context, w *run.Worker, i int) (int, error) {
			for range 3 {
				if err := w.Reserve(run.Cost{Whole: 20}); err != nil {
					return 0, err
				}
				w.Settle()
			}
			held.add(60)
			runtime.Gosched()
			held.add(-60)
			return i, w.Reserve(run.Cost{Whole: 41})
		},
		Deliver: func(r run.Result[int, int]) error {
			var much *run.TooMuch
			if assert.ErrorAs(t, r.Err, &much) {
				assert.EqualValues(t, 101, much.Wants)
			}
			return nil
		}})
	require.NoError(t, err)
	assert.EqualValues(t, 60, held.most.Load(), "two do not fit at once")
}

// What is kept of one item is no longer there for the next, and whoever waits for more
// than is left is told so and does not wait for ever.
func TestKeep(t *testing.T) {
	t.Parallel()
	for _, jobs := range []int{1, 4} {
		pool := run.NewPool(jobs, 100)
		var refused, kept int
		err := run.All(t.Context(), pool, numbers(50), run.Work[int, int]{
			Cost: func(int) run.Cost { return run.Cost{Whole: 90} },
			Do: func(_ context.Context, w *run.Worker, i int) (int, error) {
				if err := w.Reserve(run.Cost{Whole: 60}); err != nil {
					return 0, err
				}
				w.Keep(20)
				return i, nil
			},
			Deliver: func(r run.Result[int, int]) error {
				if much, ok := errors.AsType[*run.TooMuch](r.Err); ok {
					refused++
					assert.Equal(t, run.TooMuch{Wants: 60, Memory: 40, Kept: 60}, *much)
				} else {
					assert.NoError(t, r.Err)
					kept++
				}
				return nil
			}})
		require.NoError(t, err)
		assert.Equal(t, 3, kept, "60 of 100, of 80 and of 60")
		assert.Equal(t, 47, refused, "40 are left")
	}
}
