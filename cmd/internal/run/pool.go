package run

import (
	"context"
	"errors"
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
	idle  chan int // the numbers of the workers that have nothing to do
	jobs  int
	bytes *semaphore.Weighted

	mu     sync.Mutex
	memory int64 // that is shared, without what is kept (Worker.Keep)
	kept   int64
	shrunk chan struct{} // closed when more is kept
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
	return &Pool{idle: idle, jobs: jobs, memory: memory, bytes: semaphore.NewWeighted(memory), shrunk: make(chan struct{})}
}

// Jobs is the number of workers. Their numbers run from 0 to Jobs()-1.
func (p *Pool) Jobs() int { return p.jobs }

// size is the memory shared, without what is kept, and what is closed when it becomes less.
func (p *Pool) size() (memory int64, shrunk <-chan struct{}) {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.memory, p.shrunk
}

// allKept is how much memory is kept.
func (p *Pool) allKept() int64 {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.kept
}

// keep takes memory out of what is shared, for good.
func (p *Pool) keep(bytes int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.memory -= bytes
	p.kept += bytes
	close(p.shrunk)
	p.shrunk = make(chan struct{})
}

// Cost is an estimate of the memory that an item takes, in bytes: Whole for as
// long as it is worked on, and Piece more for each worker that is at one of its
// pieces (Worker.Each). Before an item is begun it is a guess; Do says what it really
// is as soon as that is known (Worker.Reserve).
type Cost struct{ Whole, Piece int64 }

// And is what two things take together, one worker being at the pieces of one of them.
func (c Cost) And(other Cost) Cost {
	return Cost{Whole: c.Whole + other.Whole, Piece: max(c.Piece, other.Piece)}
}

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
// are delivered. An item whose guessed cost is larger than all memory runs alone. When ctx
// ends, no further item is started, those begun are delivered with whatever they
// came to, and the cause is returned.
//
// An item's memory and then its worker are acquired before it starts, and nothing
// more is waited for afterwards: whoever works can go on to the end, so that
// nothing waits in a circle. An item that turns out to need more than there is at the
// moment gives back all that it has, waits for the whole, and starts again.
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
	var guess Cost
	if work.Cost != nil {
		guess = work.Cost(item)
	}
	w, ok := pool.hire(ctx, guess)
	if !ok {
		return false
	}
	done := make(chan Result[I, R], 1)
	go func() {
		result := Result[I, R]{Item: item}
		for again := true; again; {
			result.Err = safely(func() (err error) {
				result.Value, err = work.Do(ctx, w, item)
				return err
			})
			pool.dismiss(w)
			if again = errors.Is(result.Err, errWait); again {
				if w, ok = pool.hire(ctx, w.wants); !ok {
					result.Err, again = context.Cause(ctx), false
					continue
				}
				w.least = w.held
			}
		}
		done <- result
	}()
	queue <- done // after starting: what is queued is always delivered
	return true
}

// hire waits for memory and a worker.
func (p *Pool) hire(ctx context.Context, cost Cost) (*Worker, bool) {
	bytes, most, ok := p.wait(ctx, cost)
	if !ok {
		return nil, false
	}
	select {
	case number := <-p.idle:
		return &Worker{pool: p, number: number, most: most, held: bytes}, true
	case <-ctx.Done():
		p.bytes.Release(bytes)
		return nil, false
	}
}

// wait waits for an item's share of the memory, which becomes less when more is kept.
func (p *Pool) wait(ctx context.Context, cost Cost) (bytes int64, most int, ok bool) {
	for {
		memory, shrunk := p.size()
		bytes, most = cost.share(memory, p.jobs)
		if p.bytes.TryAcquire(bytes) {
			return bytes, most, true
		}
		waiting, stop := context.WithCancel(ctx)
		go func() {
			select {
			case <-shrunk:
			case <-waiting.Done():
			}
			stop()
		}()
		err := p.bytes.Acquire(waiting, bytes)
		stop()
		if err == nil {
			return bytes, most, true
		}
		if ctx.Err() != nil {
			return 0, 0, false
		}
	}
}

// dismiss gives back what a worker has.
func (p *Pool) dismiss(w *Worker) {
	p.idle <- w.number
	p.bytes.Release(w.held)
}

// share is what to take of the memory for an item and how many of the workers may be at
// its pieces within it.
func (c Cost) share(memory int64, jobs int) (bytes int64, most int) {
	most = jobs
	if c.Piece > 0 {
		most = int(min(max((memory-c.Whole)/c.Piece, 1), int64(jobs)))
	}
	return min(c.with(most), max(memory, 0)), most
}

// with is what an item takes with so many workers at its pieces.
func (c Cost) with(workers int) int64 {
	return max(c.Whole, 0) + int64(workers)*max(c.Piece, 0)
}

// Worker is who works on an item. It is Do's own and not to be shared.
type Worker struct {
	pool   *Pool
	number int
	most   int   // workers at this item's pieces
	held   int64 // memory
	wants  Cost  // that was not to be had
	least  int64 // memory that it is not to go below: what it waited for
	// settled is what stays reserved, and last what was reserved beside it.
	settled, last Cost
}

// TooMuch says that an item would take more than all the memory that is shared, in bytes,
// beside what was kept of others.
type TooMuch struct{ Wants, Memory, Kept int64 }

func (e *TooMuch) Error() string {
	return fmt.Sprintf("this would take about %s, and there are %s for it", InWords(e.Wants), InWords(e.Memory))
}

// errWait is Do's error for an item that is to start again once its memory is there.
var errWait = errors.New("this has to wait for memory")

// Waits reports whether an error of Reserve means that its item starts again later.
func Waits(err error) bool { return errors.Is(err, errWait) }

// Reserve says what the item really takes, as soon as Do knows, before it is taken. An
// item that would not fit in all memory is refused by a *TooMuch. Any other error means
// that the memory is not to be had at the moment: Do lets go of what it has, returns
// that error, and is called again when it is there. So nothing that lasts is to be done
// before the last Reserve.
func (w *Worker) Reserve(cost Cost) error {
	w.last = cost
	cost = w.settled.And(cost)
	memory, _ := w.pool.size()
	if cost.with(1) > memory {
		return &TooMuch{Wants: cost.with(1), Memory: memory, Kept: w.pool.allKept()}
	}
	bytes, most := cost.share(memory, w.pool.jobs)
	for ; bytes > w.held && !w.pool.bytes.TryAcquire(bytes-w.held); bytes = cost.with(most) {
		if most--; most < 1 {
			w.wants = cost
			return errWait
		}
	}
	bytes = max(bytes, w.least)
	if bytes < w.held {
		w.pool.bytes.Release(w.held - bytes)
	}
	w.held, w.most = bytes, most
	return nil
}

// Settle makes what was reserved last stay until the item is done: what is reserved from
// then on comes on top.
func (w *Worker) Settle() { w.settled = w.settled.And(w.last) }

// Keep says that so many bytes of what was reserved stay in use when the item is done,
// to the end of the run: what is kept of all items and what the others take are within
// the memory together. It is for the end of Do, after the last Reserve.
func (w *Worker) Keep(bytes int64) {
	bytes = max(min(bytes, w.held), 0)
	w.held -= bytes
	w.pool.keep(bytes)
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
			defer func() { e.pool.idle <- helper }()
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
