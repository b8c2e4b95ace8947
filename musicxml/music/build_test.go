package music_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// read reads measures given as XML, in divisions of 4 to a quarter note.
func read(t testing.TB, measures ...string) *music.Part {
	t.Helper()
	p, err := readErr(t, measures...)
	require.NoError(t, err)
	return p
}

func readErr(t testing.TB, measures ...string) (*music.Part, error) {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<part id="P1">`)
	for i, m := range measures {
		divisions := ""
		if i == 0 {
			divisions = "<attributes><divisions>4</divisions></attributes>"
		}
		fmt.Fprintf(&b, `<measure number="%d">%s%s</measure>`, i+1, divisions, m)
	}
	b.WriteString(`</part>`)
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(b.String()))
	return music.ReadPart(doc.Root())
}

// note writes a note of a length in divisions (0: a grace note), with what stands in
// it: elements before <voice> or after it as they come, and "v2" and "s2" for voice
// and staff.
func note(name string, length int, inner ...string) string {
	voice, staff, before, after, head := "1", "", "", "", ""
	if p, err := pitch.Parse(name); err == nil {
		e := etree.NewElement("pitch")
		if err := music.WritePitch(e, p); err != nil {
			return err.Error()
		}
		text, _ := etree.NewDocumentWithRoot(e).WriteToString()
		head = text
	} else {
		head = name
	}
	duration := fmt.Sprintf("<duration>%d</duration>", length)
	if length == 0 {
		head, duration = "<grace/>"+head, ""
	}
	for _, x := range inner {
		switch {
		case x[0] == 'v':
			voice = x[1:]
		case x[0] == 's':
			staff = "<staff>" + x[1:] + "</staff>"
		case x == "<chord/>", x == "<cue/>":
			head = x + head
		case strings.HasPrefix(x, "<tie "):
			before += x
		default:
			after += x
		}
	}
	return "<note>" + head + duration + before + "<voice>" + voice + "</voice>" + staff + after + "</note>"
}

func notations(inner string) string { return "<notations>" + inner + "</notations>" }

func backup(length int) string {
	return fmt.Sprintf("<backup><duration>%d</duration></backup>", length)
}

func direction(inner string, rest ...string) string {
	return "<direction><direction-type>" + inner + "</direction-type>" + strings.Join(rest, "") + "</direction>"
}

// The ends of ties, as sound, on the page, and both.
const (
	tieStart, tieStop   = `<tie type="start"/>`, `<tie type="stop"/>`
	tiedStart, tiedStop = `<notations><tied type="start"/></notations>`, `<notations><tied type="stop"/></notations>`
)

func fraction(n, d int64) musicxml.Fraction { return musicxml.NewFraction(n, d) }
