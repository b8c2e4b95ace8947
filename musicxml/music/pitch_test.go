package music_test

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

func TestReadPitchRefuses(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, xml, says string }{
		{"no octave", `<pitch><step>C</step></pitch>`, "a <pitch> lacks its step or its octave"},
		{"no step", `<pitch><octave>4</octave></pitch>`, "a <pitch> lacks its step or its octave"},
		{"octave 10", `<pitch><step>C</step><octave>10</octave></pitch>`, `octave "10" is not one of 0 to 9`},
		{"octave in words", `<pitch><step>C</step><octave>four</octave></pitch>`, `octave "four" is not one of 0 to 9`},
		{"octave below 0", `<pitch><step>C</step><octave>-1</octave></pitch>`, `octave "-1" is not one of 0 to 9`},
		{"step H", `<pitch><step>H</step><octave>4</octave></pitch>`, ""},
		{"alter in words", `<pitch><step>C</step><alter>sharp</alter><octave>4</octave></pitch>`, ""},
	}
	for _, row := range rows {
		_, err := music.ReadPitch(musicxmltest.Element(t, row.xml))
		assert.Error(t, err, row.name)
		if row.says != "" {
			assert.EqualError(t, err, row.says)
		}
	}
	for octave := range 10 {
		p, err := music.ReadPitch(musicxmltest.Element(t, fmt.Sprintf(`<pitch><step>C</step><octave>%d</octave></pitch>`, octave)))
		assert.NoError(t, err)
		assert.Equal(t, octave, p.Octave)
		e := musicxmltest.Element(t, `<pitch/>`)
		assert.NoError(t, music.WritePitch(e, p))
		assert.Equal(t, fmt.Sprintf(`<pitch><step>C</step><octave>%d</octave></pitch>`, octave), xmlOf(t, e))
	}
}

func TestWritePitch(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, from, pitch, want, why string }{
		{"alter appears", `<pitch><step>C</step><octave>4</octave></pitch>`, "F#5",
			`<pitch><step>F</step><alter>1</alter><octave>5</octave></pitch>`, "the schema's order"},
		{"alter goes", `<pitch><step>C</step><alter>1</alter><octave>4</octave></pitch>`, "G4",
			`<pitch><step>G</step><octave>4</octave></pitch>`, "a 0 says nothing"},
		{"alter of 0 stays", `<pitch><step>C</step><alter>0</alter><octave>4</octave></pitch>`, "D4",
			`<pitch><step>D</step><alter>0</alter><octave>4</octave></pitch>`, "only what must change changes"},
		{"microtone", `<pitch><step>C</step><alter>0.5</alter><octave>4</octave></pitch>`, "D(-0.5)4",
			`<pitch><step>D</step><alter>-0.5</alter><octave>4</octave></pitch>`, "decimals are kept"},
		{"comment stays", `<pitch><!--x--><step>C</step><octave>4</octave></pitch>`, "D4",
			`<pitch><!--x--><step>D</step><octave>4</octave></pitch>`, "what is not understood stays in place"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := musicxmltest.Element(t, row.from)
			require.NoError(t, music.WritePitch(e, shorthand.Pitch(t, row.pitch)))
			assert.Equal(t, row.want, xmlOf(t, e), row.why)
			got, err := music.ReadPitch(e)
			require.NoError(t, err)
			assert.Equal(t, row.pitch, got.String())
		})
	}
	assert.EqualError(t, music.WritePitch(musicxmltest.Element(t, `<pitch/>`), pitch.Pitch{Octave: 10}), "C10 lies outside the octaves 0 to 9 that MusicXML can write")
	assert.EqualError(t, music.WritePitch(musicxmltest.Element(t, `<pitch/>`), pitch.Pitch{Octave: -1}), "C-1 lies outside the octaves 0 to 9 that MusicXML can write")
}

func TestPitchOf(t *testing.T) {
	t.Parallel()
	p, pitched, err := music.PitchOf(musicxmltest.Element(t, note("F#4", 4, "<chord/>")))
	require.NoError(t, err)
	assert.True(t, pitched)
	assert.Equal(t, "F#4", p.String())
	for _, none := range []string{note("<rest/>", 4), note("<unpitched/>", 4)} {
		_, pitched, err = music.PitchOf(musicxmltest.Element(t, none))
		require.NoError(t, err)
		assert.False(t, pitched, none)
	}
	for _, broken := range []string{note("<pitch/>", 4), "<note><duration>4</duration></note>"} {
		_, _, err = music.PitchOf(musicxmltest.Element(t, broken))
		assert.Error(t, err, broken)
	}
}

// xmlOf writes an element.
func xmlOf(t testing.TB, e *etree.Element) string {
	t.Helper()
	text, err := etree.NewDocumentWithRoot(e.Copy()).WriteToString()
	require.NoError(t, err)
	return text
}
