package svgread_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/engraving/svgread"
)

// page wraps the inside of one staff.
func page(staff string) string {
	return `<svg class="music"><g class="staff"><title>Flute</title><desc>words</desc>` +
		`<path class="lines" d="M0 -20H9M0 -10H9M0 0H9M0 10H9M0 20H9"/>` + staff + `</g></svg>`
}

const (
	trebleClef = `<g class="clef"><use href="#dp-clef-g" x="5" y="10"/></g>`
	bassClef   = `<g class="clef"><use href="#dp-clef-f" x="5" y="-10"/></g>`
	oneSharp   = `<g class="key"><use href="#dp-sharp" x="30" y="-20"/></g>`
)

// Worked by hand: a staff space is ten units, so a step is five; the treble clef
// names the G of the second line (y = 10), the bass clef the F of the fourth.
func TestReadByHand(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, staff string
		want             []string
	}{
		{"middle line", "B4 in the treble clef", trebleClef + `<g data-bar="1"><use href="#dp-head-black" x="50" y="0"/></g>`, []string{"B4"}},
		{"below the staff", "middle C on its ledger line", trebleClef + `<g data-bar="1"><use href="#dp-head-half" x="50" y="30"/></g>`, []string{"C4"}},
		{"bass", "D3 on the middle line", bassClef + `<g data-bar="1"><use href="#dp-head-black" x="50" y="0"/></g>`, []string{"D3"}},
		{"signature", "F sharp by the signature, in every octave", trebleClef + oneSharp +
			`<g data-bar="1"><use href="#dp-head-black" x="50" y="15"/><use href="#dp-head-black" x="70" y="-20"/></g>`, []string{"F#4", "F#5"}},
		{"accidental", "holds to the end of the bar on its line, not in another octave", trebleClef +
			`<g data-bar="1"><use href="#dp-flat" x="40" y="0"/><use href="#dp-head-black" x="50" y="0"/><use href="#dp-head-black" x="70" y="0"/><use href="#dp-head-black" x="90" y="35"/></g>` +
			`<g data-bar="2"><use href="#dp-head-black" x="150" y="0"/></g>`, []string{"Bb4", "Bb4", "B3", "B4"}},
		{"tie", "carries the accidental over the barline for the tied note alone", trebleClef +
			`<g data-bar="1"><use href="#dp-sharp" x="40" y="-5"/><use href="#dp-head-black" x="50" y="-5"/></g>` +
			`<g data-bar="2"><use href="#dp-head-black" x="100" y="-5"/><use href="#dp-head-black" x="120" y="-5"/></g>` +
			`<path class="tie" d="M63 -10C70 -16 90 -16 99 -10C90 -13 70 -13 63 -10z"/>`, []string{"C#5", "C#5", "C5"}},
		{"new clef", "counts from where it stands", trebleClef + `<g data-bar="1"><use href="#dp-head-black" x="50" y="0"/>` +
			`<g class="clef"><use href="#dp-clef-c-s" x="60" y="0"/></g><use href="#dp-head-black" x="80" y="0"/></g>`, []string{"B4", "C4"}},
		{"over a note", "an accidental over a note stands before none", trebleClef +
			`<g data-bar="1"><use href="#dp-head-black" x="50" y="0"/></g><use href="#dp-flat" class="auxiliary" x="50" y="-40"/>`, []string{"B4"}},
	} {
		lines, err := svgread.Read(page(row.staff))
		require.NoError(t, err, row.name)
		var got []string
		for _, bar := range lines[0].Staves[0].Bars {
			for _, n := range bar.Notes {
				got = append(got, n.String())
			}
		}
		assert.Equal(t, row.want, got, "%s: %s", row.name, row.why)
		assert.Equal(t, 5, lines[0].Staves[0].Lines)
		assert.Equal(t, "Flute", lines[0].Staves[0].Title)
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, text string }{
		{"nothing", "no music at all", "<p/>"},
		{"broken", "not well-formed", "<svg class='music'><g>"},
		{"no place", "a head must stand somewhere", page(trebleClef + `<g data-bar="1"><use href="#dp-head-black"/></g>`)},
		{"no number", "a bar must be counted", page(`<g data-bar="x"/>`)},
		{"short tie", "a tie has two ends", page(`<path class="tie" d="M1 1"/>`)},
	} {
		_, err := svgread.Read(row.text)
		assert.Error(t, err, "%s: %s", row.name, row.why)
	}
}
