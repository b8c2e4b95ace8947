package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
)

// Texts as scores have them (common practice, no source); whether they name a key
// or a pitch is judged by reading them.
func TestTextsThatNamePitches(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"in B", "in A", "muta in A", "Klar. in B", "in B♭", "in F#", "(in E)", "en si♭", "en la", "in Re", "in fa diesis",
		"G–D", "C D E", "G, D", "F♯, B", "G und D", "As-Es", "B♭ F", "C4", "low B♭", "concert Eb", "F# only", "pedal C1",
		"B-flat trumpet", "tune to E♭, B♭", strings.Repeat("x", 397) + " C4",
	} {
		assert.Equal(t, []string{"1:1"}, warned(movedWith(t, text), "text-names-pitch"), text)
	}
	for _, text := range []string{
		"a 2", "A2", "1.", "I", "solo", "a tempo", "A tempo", "Allegro", "in tempo", "in a slow tempo", "en la corde", "en dehors", "D.C.", "D.S. al Coda",
		"G.P.", "sul G", "sul D", "sul B♭", "Sul E e A4", strings.Repeat("x", 398) + " C4", "A", "B", "Coda", "div. a 3", "f", "8va", "molto espr.", "Ab hier", "Es klingt", "in 2", "E poi la coda", "Adagio", "",
	} {
		assert.Empty(t, warned(movedWith(t, text), "text-names-pitch"), text)
	}
}

func directionOf(text string) string {
	return `<direction><direction-type><words>` + text + `</words></direction-type></direction>`
}

// movedWith is an alto saxophone part with words at its start.
func movedWith(t *testing.T, text string) madePart {
	t.Helper()
	return ownPart(t, "Alto Saxophone", "treble "+directionOf(text)+" C4")
}

func TestTextsThatNamePitchesAreSaidWhereThePartMoved(t *testing.T) {
	t.Parallel()
	text := "treble C4:h " + directionOf("C D E") + " C4:h"
	assert.Equal(t, []string{"1:3"}, warned(ownPart(t, "Alto Saxophone", text), "text-names-pitch"))
	assert.Empty(t, warned(ownPart(t, "Oboe", text), "text-names-pitch"), "true as it was")

	change := "treble C4:h r:h | " + directionOf("change to Clarinet in A") + " C4:h"
	assert.Empty(t, warned(ownPart(t, "Alto Saxophone", change), "text-names-pitch"), "a change of instrument was carried out")

	made := ownPart(t, "Alto Saxophone", text)
	assert.Contains(t, made.sheet.Report.Warnings, musicxml.Warning{Code: "text-names-pitch", Measure: "1", Beat: "3",
		Text: `"C D E" names a key or a pitch and was left as it is, while the part was moved`})
}

// TestTextsElsewhere: what names a key or a pitch need not be words.
func TestTextsElsewhere(t *testing.T) {
	t.Parallel()
	of := func(element, text string) string {
		return "<direction><direction-type><" + element + ">" + text + "</" + element + "></direction-type></direction> C4"
	}
	for _, row := range []struct {
		music string
		said  []string
	}{
		{of("rehearsal", "Eb major"), []string{"1:1"}},
		{of("rehearsal", "B"), nil},
		{of("rehearsal", "B2"), nil},
		{of("other-direction", "in B"), []string{"1:1"}},
		{"C4«<other-notation·type=\"single\">low·B♭</other-notation>»", []string{"1:1"}},
		{strings.Replace(directionOf("dolce"), "</direction>", "<footnote>C# in the first edition</footnote></direction>", 1) + " C4", []string{"1:1"}},
		{strings.Replace(directionOf("dolce"), "</direction>", "<footnote>so in the first edition</footnote></direction>", 1) + " C4", nil},
	} {
		made := ownPart(t, "Alto Saxophone", "treble "+row.music)
		assert.Equal(t, row.said, warned(made, "text-names-pitch"), row.music)
	}
}
