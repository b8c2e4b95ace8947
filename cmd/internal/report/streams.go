package report

import (
	"io"
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
	return &Streams{
		In: os.Stdin, Out: &ResultWriter{to: os.Stdout}, Err: os.Stderr,
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

// ResultWriter writes results and remembers the first error, after which it
// writes nothing. It is for several goroutines at once.
type ResultWriter struct {
	to  io.Writer
	mu  sync.Mutex
	err error
}

// NewResultWriter returns a writer of results to w.
func NewResultWriter(w io.Writer) *ResultWriter { return &ResultWriter{to: w} }

// Write returns an *OutputError if not all of p could be written, now or before.
func (w *ResultWriter) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.err != nil {
		return 0, w.err
	}
	n, err := w.to.Write(p)
	if err == nil && n < len(p) {
		err = io.ErrShortWrite
	}
	if err != nil {
		w.err = NewOutputError("standard output", err)
	}
	return n, w.err
}

// Err is the first error.
func (w *ResultWriter) Err() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.err
}
