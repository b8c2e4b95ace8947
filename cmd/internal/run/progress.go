package run

import (
	"fmt"
	"io"
	"sync"

	"deskpart/cmd/internal/report"
)

// Progress shows how far a run is: a bar on a terminal, and nothing anywhere
// else. Messages go through it, so that they do not end up in the bar. It is for
// several goroutines at once.
type Progress struct {
	err     io.Writer
	results *report.ResultWriter // on the same terminal as the bar. nil: they are not
	mu      sync.Mutex
	bar     bar // nil: no bar
}

// bar is what shows on a terminal how far a run is.
type bar interface {
	Add(n int) error
	Clear() error
	RenderBlank() error
}

// NewProgress begins to show a run over so many inputs, unless quiet is set.
func NewProgress(s *report.Streams, what string, total int, quiet bool) *Progress {
	p := &Progress{err: s.Err}
	if s.ErrIsTerminal && !quiet && total > 1 {
		p.bar = newBar(s.Err, what, total)
		if results, is := s.Out.(*report.ResultWriter); is && s.OutIsTerminal {
			p.results = results
			results.Around(p.aboveBar)
		}
	}
	return p
}

// aboveBar has something written where the bar is, and the bar below it.
func (p *Progress) aboveBar(write func()) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Clear()
	}
	write()
	if p.bar != nil {
		p.bar.RenderBlank()
	}
}

// Step says that n more inputs are done.
func (p *Progress) Step(n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Add(n)
	}
}

// Say writes one message line above the bar.
func (p *Progress) Say(text string) {
	p.aboveBar(func() { fmt.Fprint(p.err, report.Message(text)) })
}

// Done takes the bar away.
func (p *Progress) Done() {
	if p.results != nil {
		p.results.Around(nil)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.bar != nil {
		p.bar.Clear()
		p.bar = nil
	}
}
