package explain

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// Worked works one note aloud: its letters counted, its semitones checked.
func Worked(t *texts.Texts, from, to pitch.Pitch) string {
	e := &Explanation{t: t}
	p := Pair{From: from, To: to}
	return e.wayText(way{letters: e.lettersText(p), check: e.checkText(p)})
}
