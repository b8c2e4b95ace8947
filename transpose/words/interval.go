package words

import (
	"strings"

	"deskpart/transpose/pitch"
)

// Interval names an interval's size with its article, without direction: "a minor
// third", "eine kleine Terz", "two octaves and a major second".
func (n *Names) Interval(i pitch.Interval) string {
	if isDown(i) {
		i = i.Negate()
	}
	if n.spans.Has(i.Name()) {
		return n.spans.In(n.Language, i.Name(), nil)
	}
	octaves := pitch.Octaves(i.Diatonic / 7)
	if octaves == (pitch.Interval{}) || octaves == i {
		return i.Name() // nothing that music has
	}
	return n.And(n.Interval(octaves), n.Interval(i.Sub(octaves)))
}

// Size is Interval without the article, as a name stands by itself: "minor third",
// "un'ottava" is "ottava".
func (n *Names) Size(i pitch.Interval) string {
	name := n.Interval(i)
	for _, article := range []string{"a ", "an ", "eine ", "une ", "una ", "un ", "un'"} {
		if rest, cut := strings.CutPrefix(name, article); cut {
			return rest
		}
	}
	return name
}

// isDown reports whether an interval leads downward; a unison is told by its
// semitones.
func isDown(i pitch.Interval) bool { return i.Diatonic < 0 || i.Diatonic == 0 && i.Chromatic < 0 }

// Moved says an interval with its direction: "a fifth up".
func (n *Names) Moved(i pitch.Interval) string { return n.sized(i, "up", "down") }

// Off says how far something lies beside another: "a fifth higher".
func (n *Names) Off(i pitch.Interval) string { return n.sized(i, "higher", "lower") }

// Astray says how far something lies beside where it should: "a fifth too high".
func (n *Names) Astray(i pitch.Interval) string { return n.sized(i, "too-high", "too-low") }

func (n *Names) sized(i pitch.Interval, up, down string) string {
	switch {
	case i == pitch.Interval{}:
		return n.Interval(i)
	case isDown(i):
		return n.term(down, Fill{"interval": n.Interval(i)})
	}
	return n.term(up, Fill{"interval": n.Interval(i)})
}
