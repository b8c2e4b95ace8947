package rests

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
)

// A staff that the score hides is seen, unless it has nothing to play beside one that is
// (MusicXML 4.0, staff-details, print-object).
func TestShownStaves(t *testing.T) {
	t.Parallel()
	view := func(number, more string) string {
		return `<attributes><staff-details` + number + more + `/></attributes>`
	}
	const hide, second = ` print-object="no"`, ` number="2"`
	note := func(staff string) string {
		return `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration><staff>` + staff + `</staff></note>`
	}
	rest := func(staff string) string {
		return strings.Replace(note(staff), `<pitch><step>C</step><octave>5</octave></pitch>`, `<rest/>`, 1)
	}
	const back = `<backup><duration>8</duration></backup>`
	for _, row := range []struct {
		why    string
		bars   []string
		staves int
		want   string // of each <staff-details>: its staff and print-object
	}{
		{"the only one", []string{view("", hide) + rest("1"), note("1")}, 1, ""}, {"the second, silent", []string{view(second, hide) + note("1") + back + rest("2"), view(second, ` print-object="yes"`) + note("1") + back + note("2")}, 2, "2no 2yes"}, {"the second, playing", []string{view(second, hide) + note("1") + back + note("2")}, 2, ""}, {"both", []string{view("", hide) + view(second, hide) + note("1")}, 2, ""},
		{"until it plays", []string{view(second, hide) + note("1"), view(second, "") + note("1") + back + note("2")}, 2, "2no 2yes"}, {"it plays later without a word", []string{view(second, hide) + note("1"), note("2")}, 2, ""}, {"with frets", []string{view("", hide+` show-frets="letters"`) + note("1")}, 1, "-"}, {"with lines", []string{`<attributes><staff-details print-object="no"><staff-lines>1</staff-lines></staff-details></attributes>` + note("1")}, 1, "-"},
		{"seen all the time", []string{view("", "") + note("1")}, 1, ""}, {"a note without a staff", []string{view("", hide) + `<note><pitch><step>C</step><octave>5</octave></pitch><duration>8</duration></note>`}, 2, ""},
	} {
		d := barsOf(t, row.bars...)
		d.Staves = row.staves
		showStaves(d)
		var got []string
		for _, e := range d.Part.FindElements("//staff-details") {
			got = append(got, musicxml.Attr(e, "number")+e.SelectAttrValue("print-object", "-"))
		}
		for _, attributes := range d.Part.FindElements("//attributes") {
			assert.NotEmpty(t, attributes.ChildElements(), row.why)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}
