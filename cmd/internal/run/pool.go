package run

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

// Pool is what a run may use at once: a number of workers and an amount of memory.
type Pool struct {
	idle   chan int // the numbers of the workers that have nothing to do
	jobs   int
	memory int64
	bytes  *semaphore.Weighted
}

// NewPool returns a pool of jobs workers (below 1: one for each processor) that
// share memory bytes (below 1: DefaultMemory).
func NewPool(jobs int, memory int64) *Pool {
	if jobs < 1 {
		jobs = runtime.GOMAXPROCS(0)
	}
	if memory < 1 {
		memory = DefaultMemory()
	}
	idle := make(chan int, jobs)
	for worker := range jobs {
		idle <- worker
	}
	return &Pool{idle: idle, jobs: jobs, memory: memory, bytes: semaphore.NewWeighted(memory)}
}

// Jobs is the number of workers. Their numbers run from 0 to Jobs()-1.
func (p *Pool) Jobs() int { return p.jobs }

// Memory is the memory shared, in bytes.
func (p *Pool) Memory() int64 { return p.memory }

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

// All works on every item within the pool's bounds and returns when all results
// are delivered. An item that is larger than all memory runs alone. When ctx
// ends, no further item is started, those begun are delivered with whatever they
// came to, and the cause is returned.
//
// An item's memory and then its worker are acquired before it starts, and nothing
// more is waited for afterwards: whoever works can go on to the end, so that
// nothing waits in a circle.
func All[I, R any](ctx context.Context, pool *Pool, items []I, work Work[I, R]) error {
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	queue := make(chan chan Result[I, R], lookahead)
	go func() {
		defer close(queue)
		for _, item := range items {
			if !begin(ctx, pool, work, item, queue) {
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

// begin waits for the item's memory and a worker and starts the work. It reports
// whether the run goes on.
func begin[I, R any](ctx context.Context, pool *Pool, work Work[I, R], item I, queue chan<- chan Result[I, R]) bool {
	var cost Cost
	if work.Cost != nil {
		cost = work.Cost(item)
	}
	bytes, most := pool.share(cost)
	if pool.bytes.Acquire(ctx, bytes) != nil {
		return false
	}
	number, ok := pool.acquire(ctx)
	if !ok {
		pool.bytes.Release(bytes)
		return false
	}
	done := make(chan Result[I, R], 1)
	go func() {
		defer pool.bytes.Release(bytes)
		defer pool.release(number)
		result := Result[I, R]{Item: item}
		result.Err = safely(func() (err error) {
			result.Value, err = work.Do(ctx, &Worker{pool: pool, number: number, most: most}, item)
			return err
		})
		done <- result
	}()
	queue <- done // after starting: what is queued is always delivered
	return true
}

// share is the memory to take for an item and how many workers may be at its
// pieces within it.
func (p *Pool) share(cost Cost) (bytes int64, most int) {
	most = p.jobs
	if cost.Piece > 0 {
		most = int(min(max((p.memory-cost.Whole)/cost.Piece, 1), int64(p.jobs)))
	}
	return min(max(cost.Whole, 0)+int64(most)*max(cost.Piece, 0), p.memory), most
}

// acquire waits for an idle worker.
func (p *Pool) acquire(ctx context.Context) (number int, ok bool) {
	select {
	case number = <-p.idle:
		return number, true
	case <-ctx.Done():
		return 0, false
	}
}

// release makes a worker idle again.
func (p *Pool) release(number int) { p.idle <- number }

// Worker is who works on an item. It is Do's own and not to be shared.
type Worker struct {
	pool   *Pool
	number int
	most   int // workers at this item's pieces
}

// Number is the worker's, from 0 to Jobs()-1. No two workers at work have the
// same, so that it can choose memory that is used again and again.
func (w *Worker) Number() int { return w.number }

// Each works on the pieces 0 to n-1 of an item, such as the parts of a score: the
// worker itself, and whatever workers nobody else has a use for at the moment. It
// returns one error a piece, nil where it went well: a *Fault after a panic, the
// context's after it ended.
func (w *Worker) Each(ctx context.Context, n int, piece func(ctx context.Context, worker, i int) error) []error {
	e := &pieces{pool: w.pool, errs: make([]error, n), free: w.most - 1}
	e.do = func(worker, i int) error {
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
		return safely(func() error { return piece(ctx, worker, i) })
	}
	e.pull(w.number)
	e.helpers.Wait()
	return e.errs
}

// pieces is one Each at work.
type pieces struct {
	pool    *Pool
	do      func(worker, i int) error
	errs    []error
	mu      sync.Mutex
	next    int // the next piece
	free    int // how many more helpers may join
	helpers sync.WaitGroup
}

// pull does pieces until none is left. Whoever pulls looks first for an idle
// worker, because workers fall idle while the pieces are worked on.
func (e *pieces) pull(worker int) {
	for {
		e.recruit()
		e.mu.Lock()
		i := e.next
		e.next++
		e.mu.Unlock()
		if i >= len(e.errs) {
			return
		}
		e.errs[i] = e.do(worker, i)
	}
}

// recruit starts one more helper if there is a piece for it, besides the
// caller's own next one, and an idle worker.
func (e *pieces) recruit() {
	e.mu.Lock()
	defer e.mu.Unlock()
	if e.free < 1 || len(e.errs)-e.next < 2 {
		return
	}
	select {
	case helper := <-e.pool.idle:
		e.free--
		e.helpers.Go(func() {
			defer e.pool.release(helper)
			e.pull(helper)
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
	return fmt.Sprintf("a mistake in the program itself (%v)", f.Value)
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

// Abandon does work that changes nothing outside it, such as thinking up exercises, and
// leaves it where it is when ctx ends: the cause is then returned. A panic in it becomes
// a *Fault.
func Abandon(ctx context.Context, work func() error) error {
	done := make(chan error, 1)
	go func() { done <- safely(work) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return context.Cause(ctx)
	}
}
