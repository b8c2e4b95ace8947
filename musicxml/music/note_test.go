package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// What one <note> says, by the definitions of the standard's elements.
func TestReadNote(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, xml string
		check     func(*testing.T, *music.Note)
		why       string
	}{
		{"a note", note("F#4", 4, `<type>quarter</type><dot/><dot/><accidental>sharp</accidental><stem>up</stem><notehead>x</notehead>`), func(t *testing.T, n *music.Note) {
			assert.Equal(t, "F#4", n.Pitch.String())
			assert.True(t, n.Pitched() && n.Sounds())
			assert.False(t, n.Unpitched || n.Placed || n.Hidden || n.Small() || n.WholeBar())
			assert.Equal(t, "sharp", n.Sign())
			assert.Equal(t, 2, n.Dots)
			assert.Equal(t, "up", n.Stem.Text())
			assert.Equal(t, "x", n.Notehead.Text())
			assert.Equal(t, "quarter", n.Type.Text())
			assert.Equal(t, "pitch", n.Head.Tag)
			assert.Equal(t, fraction(1, 1), n.Duration)
		}, "pitch, dot, accidental, stem, notehead, type"},
		{"a microtone", note("G(-0.5)3", 4), func(t *testing.T, n *music.Note) {
			assert.Equal(t, "G(-0.5)3", n.Pitch.String())
		}, "alter is a decimal"},
		{"a rest", note(`<rest measure="yes"/>`, 16), func(t *testing.T, n *music.Note) {
			assert.False(t, n.Pitched() || n.Sounds() || n.Placed || n.Unpitched)
			assert.True(t, n.WholeBar())
			assert.Equal(t, "rest", n.Head.Tag)
		}, "rest, measure"},
		{"a rest on a line", note(`<rest><display-step>D</display-step><display-octave>5</display-octave></rest>`, 4), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Placed)
			assert.False(t, n.Pitched() || n.WholeBar())
			assert.Equal(t, "D5", n.Pitch.String())
		}, "display-step"},
		{"a stroke", note(`<unpitched/>`, 4), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Unpitched && n.Sounds())
			assert.False(t, n.Pitched() || n.Placed)
			assert.Equal(t, "B4", n.Pitch.String())
		}, "unpitched: on the middle line, as in treble clef"},
		{"a stroke on a line", note(`<unpitched><display-step>F</display-step><display-octave>4</display-octave></unpitched>`, 4), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Placed && n.Unpitched)
			assert.Equal(t, "F4", n.Pitch.String())
		}, "unpitched, display-step"},
		{"a stroke nowhere", note(`<unpitched><display-step>X</display-step><display-octave>4</display-octave></unpitched>`, 4), func(t *testing.T, n *music.Note) {
			assert.False(t, n.Placed)
			assert.Equal(t, "B4", n.Pitch.String())
		}, "a place that cannot be read is none"},
		{"a cue note", note("C4", 4, "<cue/>"), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Cue && n.Small() && n.Pitched())
			assert.False(t, n.Sounds())
		}, "cue: a silent note"},
		{"a cue note at full size", note("C4", 4, "<cue/>", `<type size="full">quarter</type>`), func(t *testing.T, n *music.Note) {
			assert.False(t, n.Small() || n.Sounds())
		}, "cue: specified as full size it still remains silent"},
		{"a note at cue size", note("C4", 4, `<type size="cue">quarter</type>`), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Small() && n.Sounds())
		}, "cue: normal notes that play can be specified as cue size"},
		{"a large cue note", note("C4", 4, "<cue/>", `<type size="large">quarter</type>`), func(t *testing.T, n *music.Note) {
			assert.False(t, n.Small())
		}, "symbol-size"},
		{"a grace note at cue size", note("C4", 0, `<type size="grace-cue">eighth</type>`), func(t *testing.T, n *music.Note) {
			assert.True(t, n.Small() && n.Grace)
			assert.Zero(t, n.Duration)
		}, "symbol-size"},
		{"a hidden note", `<note print-object="no"><rest/><duration>4</duration></note>`, func(t *testing.T, n *music.Note) {
			assert.True(t, n.Hidden)
			assert.Equal(t, "1", n.Voice)
			assert.Equal(t, 1, n.Staff)
		}, "print-object"},
		{"a note with another attribute", `<note print-object="yes" dynamics="90"><rest/><duration>4</duration></note>`, func(t *testing.T, n *music.Note) {
			assert.False(t, n.Hidden)
		}, "print-object"},
		{"a note without anything", `<note><duration>4</duration></note>`, func(t *testing.T, n *music.Note) {
			assert.Nil(t, n.Head)
			assert.False(t, n.Pitched())
			assert.Empty(t, n.Sign())
			_, ok := n.Notated()
			assert.False(t, ok)
		}, "not valid, and not refused here"},
		{"another namespace", `<note xmlns:x="urn:x"><x:pitch/><rest/><duration>4</duration></note>`, func(t *testing.T, n *music.Note) {
			assert.Equal(t, "rest", n.Head.Tag)
		}, "elements of others say nothing"},
		{"beams", note("C4", 1, `<beam number="1">begin</beam><beam number="2">forward hook</beam><beam>end</beam>`), func(t *testing.T, n *music.Note) {
			var got []any
			for level, does := range n.Beams() {
				got = append(got, level, does)
			}
			assert.Equal(t, []any{1, "begin", 2, "forward hook", 1, "end"}, got)
			for range n.Beams() {
				break
			}
		}, "beam: number is 1 by default"},
		{"no beams", note("C4", 1), func(t *testing.T, n *music.Note) {
			for range n.Beams() {
				t.Error("a beam")
			}
		}, ""},
		{"firsts of several", note("C4", 4, notations(`<fermata/>`), notations(`<slur type="start"/>`), `<lyric number="1"/>`, `<lyric number="2"/>`), func(t *testing.T, n *music.Note) {
			assert.NotNil(t, n.Notations.SelectElement("fermata"))
			assert.Equal(t, "1", n.Lyric.SelectAttrValue("number", ""))
		}, "the first of each"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			p := read(t, row.xml)
			require.Len(t, p.Notes, 1)
			row.check(t, &p.Notes[0])
		})
	}
}

func TestReadRefuses(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, xml, want string }{
		{"no such letter", note("<pitch><step>H</step><octave>4</octave></pitch>", 4), "letter"},
		{"no such octave", note("<pitch><step>C</step><octave>10</octave></pitch>", 4), "octave"},
		{"no octave", note("<pitch><step>C</step></pitch>", 4), "octave"},
		{"no such alteration", note("<pitch><step>C</step><alter>x</alter><octave>4</octave></pitch>", 4), "semitones"},
		{"no such transposition", `<attributes><transpose><chromatic>x</chromatic></transpose></attributes>` + note("C4", 4), "transposition"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := readErr(t, note("C4", 16), note("C4", 4)+row.xml)
			require.ErrorContains(t, err, row.want)
			at, ok := err.(*musicxml.Error)
			require.True(t, ok)
			assert.Equal(t, "2", at.Measure, "the place is said")
			assert.Equal(t, "2", at.Beat, "the place is said")
			assert.Equal(t, map[bool]string{true: "", false: "correct the note and export the score again"}[row.want == "transposition"], at.Hint)
		})
	}
}

// Note values in quarter notes (MusicXML 4.0, note-type-value; common practice for
// dots and tuplets).
func TestNotated(t *testing.T) {
	t.Parallel()
	triplet := `<time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification>`
	rows := []struct {
		xml  string
		n, d int64
	}{
		{`<type>maxima</type>`, 32, 1}, {`<type>long</type>`, 16, 1}, {`<type>breve</type>`, 8, 1}, {`<type>whole</type>`, 4, 1},
		{`<type>half</type>`, 2, 1}, {`<type>quarter</type>`, 1, 1}, {`<type>eighth</type>`, 1, 2}, {`<type>16th</type>`, 1, 4},
		{`<type>32nd</type>`, 1, 8}, {`<type>64th</type>`, 1, 16}, {`<type>128th</type>`, 1, 32}, {`<type>256th</type>`, 1, 64},
		{`<type>512th</type>`, 1, 128}, {`<type>1024th</type>`, 1, 256},
		{`<type>half</type><dot/>`, 3, 1}, {`<type>half</type><dot/><dot/>`, 7, 2}, {`<type>eighth</type><dot/><dot/><dot/>`, 15, 16},
		{`<type>eighth</type>` + triplet, 1, 3}, {`<type>quarter</type><dot/>` + triplet, 1, 1},
		{`<type>quarter</type><time-modification><actual-notes>2</actual-notes><normal-notes>1</normal-notes></time-modification>`, 1, 2},
		{`<type>quarter</type><time-modification><actual-notes>1</actual-notes><normal-notes>2</normal-notes></time-modification>`, 2, 1},
		{`<type>eighth</type><time-modification><actual-notes>2</actual-notes><normal-notes>0</normal-notes></time-modification>`, 1, 2},
		{`<type>eighth</type><time-modification><actual-notes>2</actual-notes><normal-notes>x</normal-notes></time-modification>`, 1, 2},
		{`<type>eighth</type><time-modification><actual-notes>0</actual-notes><normal-notes>2</normal-notes></time-modification>`, 1, 2},
		{`<type>eighth</type><time-modification><actual-notes>x</actual-notes></time-modification>`, 1, 2},
		{`<type>eighth</type><time-modification><actual-notes>99999999999999999999</actual-notes><normal-notes>2</normal-notes></time-modification>`, 1, 2},
		{`<type>eighth</type><time-modification><actual-notes>3</actual-notes><normal-notes>99999999999999999999</normal-notes></time-modification>`, 1, 2},
	}
	for _, row := range rows {
		n := read(t, note("C4", 4, row.xml)).Notes[0]
		length, ok := n.Notated()
		assert.True(t, ok, row.xml)
		assert.Equal(t, fraction(row.n, row.d), length, row.xml)
	}
	for xml, want := range map[string][2]int{triplet: {3, 2}, `<dot/>`: {}, `<time-modification><actual-notes>3</actual-notes></time-modification>`: {}, `<time-modification><actual-notes>0</actual-notes><normal-notes>2</normal-notes></time-modification>`: {},
		`<time-modification><actual-notes>x</actual-notes><normal-notes>2</normal-notes></time-modification>`: {}, `<time-modification><actual-notes>3</actual-notes><normal-notes>0</normal-notes></time-modification>`: {},
		`<time-modification><actual-notes>1</actual-notes><normal-notes>1</normal-notes></time-modification>`: {1, 1}} {
		actual, normal := read(t, note("C4", 4, xml)).Notes[0].Ratio()
		assert.Equal(t, want, [2]int{actual, normal}, "%s: both or neither", xml)
	}
	n := read(t, note("C4", 4, `<type>semiquaver</type>`)).Notes[0]
	_, ok := n.Notated()
	assert.False(t, ok, "not one of the standard's words")
	assert.True(t, music.Dotted(fraction(1, 1), 1000).Less(fraction(2, 1)), "dots without end come to nothing")
}
