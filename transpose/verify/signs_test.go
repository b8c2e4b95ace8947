package verify

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Another letter needs other signs: they are part of the respelling. In a bar
// without a respelled note they are differences.
func TestSignsOfRespelledBars(t *testing.T) {
	t.Parallel()
	respelled := Finding{Measure: "3", Text: "E6 in place of Fb6", Respelled: true}
	sign := Finding{Measure: "3", Text: "the accidental is natural in place of flat", sign: true}
	elsewhere := Finding{Measure: "4", Text: "the accidental is natural in place of flat", sign: true}
	rhythm := Finding{Measure: "3", Text: "the duration is 2 in place of 1"}
	for _, row := range []struct {
		name, why   string
		found, kept []Finding
		verdict     Verdict
	}{
		{"in the bar", "the sign follows from the letter", []Finding{respelled, sign}, []Finding{respelled}, Respelled},
		{"in another bar", "a sign of its own", []Finding{respelled, elsewhere}, []Finding{respelled, elsewhere}, Different},
		{"no note respelled", "a sign alone", []Finding{sign}, []Finding{sign}, Different},
		{"something else", "no respelling excuses it", []Finding{respelled, rhythm}, []Finding{respelled, rhythm}, Different},
	} {
		kept := withoutSignsOf(row.found)
		assert.Equal(t, row.kept, kept, "%s: %s", row.name, row.why)
		assert.Equal(t, row.verdict, VerdictOf(kept), "%s: %s", row.name, row.why)
	}
}
