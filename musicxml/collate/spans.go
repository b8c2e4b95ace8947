package collate

// spans joins the ends of slurs, hairpins and endings, so that a lost one is
// missed once and not at both ends.
type spans struct {
	open map[string]int
	last int
}

func newSpans() spans { return spans{open: map[string]int{}} }

// start opens a span under a name and returns its number.
func (s *spans) start(name string) int {
	s.last++
	s.open[name] = s.last
	return s.last
}

// stop closes the span of a name and returns its number, a new one where none is
// open.
func (s *spans) stop(name string) int {
	if n, ok := s.open[name]; ok {
		delete(s.open, name)
		return n
	}
	s.last++
	return s.last
}
