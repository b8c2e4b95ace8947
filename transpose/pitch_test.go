package transpose_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

func TestParsePitch(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text, want string
		midi       int
		why        string
	}{
		{"C4", "C4", 60, "middle C is MIDI 60 (MIDI 1.0)"},
		{"A4", "A4", 69, "the tuning note"},
		{"Cb4", "Cb4", 59, "the octave number stays with the letter (trade/notation-rules.md §1)"},
		{"B#3", "B#3", 60, "the same key as C4"},
		{"F#3", "F#3", 54, "contract: scientific pitch in ASCII"},
		{"Bb4", "Bb4", 70, "contract"},
		{"C##5", "C##5", 74, "contract"},
		{"Ebb2", "Ebb2", 38, "contract"},
		{"Cx5", "C##5", 74, "x is the double sharp's own shape"},
		{"f♯3", "F#3", 54, "small letters and the signs themselves are understood"},
		{"B♭-1", "Bb-1", 10, "octaves below MusicXML's can be named"},
		{"G9", "G9", 127, "the top of MIDI"},
	}
	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			t.Parallel()
			p, err := pitch.Parse(row.text)
			require.NoError(t, err, row.why)
			assert.Equal(t, row.want, p.String(), row.why)
			assert.Equal(t, pitch.Semitones(row.midi), p.MIDI(), row.why)
		})
	}
}

func TestParsePitchRefuses(t *testing.T) {
	t.Parallel()
	for _, bad := range []string{"", "H4", "C", "4", "C#", "C#b4", "C4.5", "C########4", "C 4", "Cis4", "C999", "c-", "C(x)4", "C(0.5", "♯C4"} {
		_, err := pitch.Parse(bad)
		assert.Error(t, err, bad)
	}
}

func TestPitchTextThereAndBack(t *testing.T) {
	t.Parallel()
	pitches := everyPitch()
	for _, text := range microtones {
		alter, err := pitch.ParseAlter(text)
		require.NoError(t, err)
		pitches = append(pitches, pitch.Pitch{Step: pitch.G, Alter: alter, Octave: 3})
	}
	for _, p := range pitches {
		got, err := pitch.Parse(p.String())
		require.NoError(t, err, p.String())
		require.Equal(t, p, got)
	}
}

func TestParseAlter(t *testing.T) {
	t.Parallel()
	rows := []struct{ text, want, why string }{
		{"0", "0", ""}, {"-0", "0", "no negative nothing"}, {"1", "1", ""}, {"+1", "1", "xs:decimal allows the plus"},
		{"-1.50", "-1.5", "the same number"}, {" 0.5\n", "0.5", "white space collapses"}, {".5", "0.5", "xs:decimal"},
		{"1.", "1", "xs:decimal"}, {"-.25", "-0.25", "xs:decimal"}, {"0.3333333333339", "0.333333333333", "twelve places are kept"},
	}
	for _, row := range rows {
		a, err := pitch.ParseAlter(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, a.String(), "%s: %s", row.text, row.why)
	}
	for _, bad := range []string{"", "-", "+", ".", "--1", "+-1", "1-", "0x1", "1e0", "½", "1,5", "101", "99999999999999999999", "1.5.2", "1. 5", "0.-5"} {
		_, err := pitch.ParseAlter(bad)
		assert.Error(t, err, bad)
	}
}

func TestReadPitchRefuses(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, xml string }{
		{"no octave", `<pitch><step>C</step></pitch>`},
		{"no step", `<pitch><octave>4</octave></pitch>`},
		{"octave 99", `<pitch><step>C</step><octave>99</octave></pitch>`},
		{"octave below 0", `<pitch><step>C</step><octave>-1</octave></pitch>`},
		{"step H", `<pitch><step>H</step><octave>4</octave></pitch>`},
		{"alter in words", `<pitch><step>C</step><alter>sharp</alter><octave>4</octave></pitch>`},
	}
	for _, row := range rows {
		_, err := transpose.ReadPitch(element(t, row.xml))
		assert.Error(t, err, row.name)
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
			e := element(t, row.from)
			require.NoError(t, transpose.WritePitch(e, spelled(t, row.pitch)))
			assert.Equal(t, row.want, text(e), row.why)
			got, err := transpose.ReadPitch(e)
			require.NoError(t, err)
			assert.Equal(t, row.pitch, got.String())
		})
	}
	assert.Error(t, transpose.WritePitch(element(t, `<pitch/>`), pitch.Pitch{Octave: 10}), "MusicXML ends at octave 9")
	assert.Error(t, transpose.WritePitch(element(t, `<pitch/>`), pitch.Pitch{Octave: -1}), "and begins at octave 0")
}
