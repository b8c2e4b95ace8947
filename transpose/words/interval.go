package words

import "deskpart/transpose/pitch"

// Interval names an interval's size with its article, without direction: "a minor
// third", "eine kleine Terz", "two octaves and a major second".
func (n *Names) Interval(i pitch.Interval) string { return i.WithArticle(n.Language) }

// Size is Interval without the article, as a name stands by itself: "minor third",
// "ottava".
func (n *Names) Size(i pitch.Interval) string { return i.NameIn(n.Language) }

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
	case i.IsDown():
		return n.term(down, Fill{"interval": n.Interval(i)})
	}
	return n.term(up, Fill{"interval": n.Interval(i)})
}
