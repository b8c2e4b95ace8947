package report

import (
	"io"
	"io/fs"
	"os"
	"sync"

	"golang.org/x/term"
)

// Streams are what a command reads and writes besides files, together with
// whether a person sits there. Tests have buffers instead.
type Streams struct {
	In  io.Reader
	Out io.Writer
	Err io.Writer
	// OutIsTerminal and ErrIsTerminal: default false.
	OutIsTerminal, ErrIsTerminal bool
}

// SystemStreams are the process's own.
func SystemStreams() *Streams {
	results := NewResultWriter(os.Stdout)
	if wasClosed(os.Stdout) {
		results.to = nowhere{}
	}
	return &Streams{
		In: os.Stdin, Out: results, Err: os.Stderr,
		OutIsTerminal: term.IsTerminal(int(os.Stdout.Fd())),
		ErrIsTerminal: term.IsTerminal(int(os.Stderr.Fd())),
	}
}

// Say writes one message line to standard error.
func (s *Streams) Say(text string) { io.WriteString(s.Err, Message(text)) }

// OutErr is what went wrong with standard output, an *OutputError, or nil. A
// command looks at it before it ends, because results that nobody got are no
// success.
func (s *Streams) OutErr() error {
	if w, ok := s.Out.(*ResultWriter); ok {
		return w.Err()
	}
	return nil
}

// Gone tells whether whoever read standard output has gone away, as "| head -1" does:
// no fault, but nobody wants more of it.
func (s *Streams) Gone() bool {
	w, ok := s.Out.(*ResultWriter)
	return ok && w.Gone()
}

// nowhere is a standard output that is closed.
type nowhere struct{}

func (nowhere) Write([]byte) (int, error) { return 0, fs.ErrClosed }

// ResultWriter writes results and remembers the first error, after which it writes
// nothing. A reader who goes away is no error. It is for several goroutines at once.
type ResultWriter struct {
	to io.Writer
	// Around is called for each write. Default: the write alone.
	around func(write func())
	mu     sync.Mutex
	gone   bool
	err    error
}

// NewResultWriter returns a writer of results to w.
func NewResultWriter(w io.Writer) *ResultWriter { return &ResultWriter{to: w} }

// Around has each write made by do, such as below a bar that is taken away for it. nil
// is the write alone.
func (w *ResultWriter) Around(do func(write func())) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.around = do
}

// Write returns an *OutputError if not all of p could be written, now or before.
func (w *ResultWriter) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch {
	case w.gone:
		return len(p), nil
	case w.err != nil:
		return 0, w.err
	}
	n, err := 0, error(nil)
	write := func() { n, err = w.to.Write(p) }
	if w.around != nil {
		w.around(write)
	} else {
		write()
	}
	if err == nil && n < len(p) {
		err = io.ErrShortWrite
	}
	switch {
	case isGone(err):
		w.gone = true
		return len(p), nil
	case err != nil:
		w.err = NewOutputError("standard output", err)
	}
	return n, w.err
}

// Gone tells whether whoever read has gone away.
func (w *ResultWriter) Gone() bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.gone
}

// Err is the first error.
func (w *ResultWriter) Err() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.err
}
