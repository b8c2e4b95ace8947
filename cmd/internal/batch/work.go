package batch

import (
	"context"
	"fmt"
	"runtime"
	"runtime/debug"
	"sync"

	"golang.org/x/sync/semaphore"
)

// lookahead is how many items may be started beyond the last one delivered. It
// bounds the results that wait behind one slow item.
const lookahead = 1024

// Crew is what a run may use at once: a number of seats, one for each worker,
// and an amount of memory.
type Crew struct {
	seats  chan int // the free seats' numbers
	jobs   int
	memory int64
	bytes  *semaphore.Weighted
}

// NewCrew returns a crew of jobs workers (below 1: one for each processor) that
// share memory bytes (below 1: DefaultMemory).
func NewCrew(jobs int, memory int64) *Crew {
	if jobs < 1 {
		jobs = runtime.GOMAXPROCS(0)
	}
	if memory < 1 {
		memory = DefaultMemory()
	}
	seats := make(chan int, jobs)
	for seat := range jobs {
		seats <- seat
	}
	return &Crew{seats: seats, jobs: jobs, memory: memory, bytes: semaphore.NewWeighted(memory)}
}

// Jobs is the number of seats. Seat numbers run from 0 to Jobs()-1.
func (c *Crew) Jobs() int { return c.jobs }

// Memory is the memory shared, in bytes.
func (c *Crew) Memory() int64 { return c.memory }

// Cost is an estimate of the memory that an item takes, in bytes: Whole for as
// long as it is worked on, and Piece more for each worker that is at one of its
// pieces (Worker.Each).
type Cost struct{ Whole, Piece int64 }

// Work is what is done with each item of a run.
type Work[I, R any] struct {
	// Cost estimates the memory an item takes. Default: nothing.
	Cost func(I) Cost
	// Do works on one item, together with others' Do. A panic in it becomes the
	// item's error, a *Fault.
	Do func(ctx context.Context, w *Worker, item I) (R, error)
	// Deliver takes the results, one at a time and in the order of the items.
	// An error of Do is in the result and stops nothing. An error returned here
	// stops the run. Default: nothing.
	Deliver func(Result[I, R]) error
}

// Result is what became of one item.
type Result[I, R any] struct {
	Item  I
	Value R
	Err   error
}

// Run works on every item within the crew's bounds and returns when all results
// are delivered. An item that is larger than all memory runs alone. When ctx
// ends, no further item is started, those begun are delivered with whatever they
// came to, and the cause is returned.
//
// An item's memory and then its seat are taken before it starts, and nothing
// more is waited for afterwards: whoever has a seat can go on to the end, so
// that nothing waits in a circle.
func Run[I, R any](ctx context.Context, c *Crew, items []I, work Work[I, R]) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	queue := make(chan chan Result[I, R], lookahead)
	go func() {
		defer close(queue)
		for _, item := range items {
			if !begin(ctx, c, work, item, queue) {
				return
			}
		}
	}()
	deliver := work.Deliver
	for done := range queue {
		result := <-done
		if deliver == nil {
			continue
		}
		if err := deliver(result); err != nil {
			cancel(err)
			deliver = nil
		}
	}
	return context.Cause(ctx)
}

// begin waits for the item's memory and a seat and starts the work. It reports
// whether the run goes on.
func begin[I, R any](ctx context.Context, c *Crew, work Work[I, R], item I, queue chan<- chan Result[I, R]) bool {
	var cost Cost
	if work.Cost != nil {
		cost = work.Cost(item)
	}
	bytes, hands := c.share(cost)
	if c.bytes.Acquire(ctx, bytes) != nil {
		return false
	}
	seat, ok := c.sit(ctx)
	if !ok {
		c.bytes.Release(bytes)
		return false
	}
	done := make(chan Result[I, R], 1)
	go func() {
		defer c.bytes.Release(bytes)
		defer c.stand(seat)
		result := Result[I, R]{Item: item}
		result.Err = safely(func() (err error) {
			result.Value, err = work.Do(ctx, &Worker{crew: c, seat: seat, hands: hands}, item)
			return err
		})
		done <- result
	}()
	queue <- done // after starting: what is queued is always delivered
	return true
}

// share is the memory to take for an item and how many workers may be at its
// pieces within it.
func (c *Crew) share(cost Cost) (bytes int64, hands int) {
	hands = c.jobs
	if cost.Piece > 0 {
		hands = int(min(max((c.memory-cost.Whole)/cost.Piece, 1), int64(c.jobs)))
	}
	return min(max(cost.Whole, 0)+int64(hands)*max(cost.Piece, 0), c.memory), hands
}

func (c *Crew) sit(ctx context.Context) (seat int, ok bool) {
	select {
	case seat = <-c.seats:
		return seat, true
	case <-ctx.Done():
		return 0, false
	}
}

func (c *Crew) stand(seat int) { c.seats <- seat }

// Worker is who works on an item. It is Do's own and not to be shared.
type Worker struct {
	crew  *Crew
	seat  int
	hands int // the most workers at this item's pieces
}

// Seat is the worker's number, from 0 to Jobs()-1. No two workers at work have
// the same, so that it can choose memory that is used again and again.
func (w *Worker) Seat() int { return w.seat }

// Each works on the pieces 0 to n-1 of an item, such as the parts of a score:
// in the worker's own seat and in whatever seats nobody else has a use for at
// the moment. It returns one error a piece, nil where it went well: a *Fault
// after a panic, the context's after it ended.
func (w *Worker) Each(ctx context.Context, n int, piece func(ctx context.Context, seat, i int) error) []error {
	e := &pieces{worker: w, errs: make([]error, n), free: w.hands - 1}
	e.do = func(seat, i int) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return safely(func() error { return piece(ctx, seat, i) })
	}
	e.pull(w.seat)
	e.helpers.Wait()
	return e.errs
}

// pieces is one Each at work.
type pieces struct {
	worker  *Worker
	do      func(seat, i int) error
	errs    []error
	mu      sync.Mutex
	next    int // the next piece
	free    int // how many more helpers may join
	helpers sync.WaitGroup
}

// pull does pieces until none is left. Whoever pulls looks first for an empty
// seat, because seats fall empty while the pieces are worked on.
func (e *pieces) pull(seat int) {
	for {
		e.recruit()
		e.mu.Lock()
		i := e.next
		e.next++
		e.mu.Unlock()
		if i >= len(e.errs) {
			return
		}
		e.errs[i] = e.do(seat, i)
	}
}

// recruit starts one more helper if there is a piece for it, besides the
// caller's own next one, and an empty seat.
func (e *pieces) recruit() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.free < 1 || len(e.errs)-e.next < 2 {
		return
	}
	crew := e.worker.crew
	select {
	case seat := <-crew.seats:
		e.free--
		e.helpers.Go(func() {
			defer crew.stand(seat)
			e.pull(seat)
		})
	default:
	}
}

// Fault is a panic that was caught at a worker's edge: a mistake in the program.
type Fault struct {
	Value any
	Stack []byte
}

// Error says so in one line; the stack is for whoever mends it.
func (f *Fault) Error() string {
	return fmt.Sprintf("a mistake in the program itself (%v); please report it with this file", f.Value)
}

// safely runs f and returns its error, or a *Fault if it panicked.
func safely(f func() error) (err error) {
	defer func() {
		if value := recover(); value != nil {
			err = &Fault{Value: value, Stack: debug.Stack()}
		}
	}()
	return f()
}
