package assign

import (
	"strings"

	"deskpart/instruments"
)

// clefNames are the names that a plan may use.
const clefNames = "treble, treble-8vb, treble-8va, bass, bass-8vb, bass-8va, alto, tenor, soprano, mezzo, baritone and percussion"

// ClefsNamed reads the clefs of a plan: "tenor", or "bass; tenor" with the usual
// one first.
func ClefsNamed(text string) ([]instruments.Clef, bool) {
	var clefs []instruments.Clef
	for name := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ';' || r == ',' }) {
		c, ok := instruments.ParseClef(strings.ToLower(strings.TrimSpace(name)))
		if !ok {
			return nil, false
		}
		clefs = append(clefs, c)
	}
	return clefs, len(clefs) > 0
}
