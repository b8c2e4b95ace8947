package music_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// TestHeard: the partials of a string, by hand. Touched at 1/n of its length it sounds
// n times as high: 2 an octave, 3 an octave and a fifth, 4 two octaves, 5 two octaves and
// a third, 6 two octaves and a fifth.
func TestHeard(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ why, base, touching, heard string }{
		{"a fourth, the usual one", "A4", "D5", "A6"},
		{"a fifth", "A4", "E5", "E6"},
		{"a third", "G4", "B4", "B6"},
		{"a minor third", "A4", "C5", "E7"},
		{"an octave", "G3", "G4", "G4"},
		{"a sixth", "G3", "E4", "B5"},
		{"spelled from the base", "Bb3", "Eb4", "Bb5"},
		{"a fourth above an altered note", "F#4", "B4", "F#6"},
		{"a tone is no node", "A4", "B4", ""},
		{"a tritone is none", "A4", "D#5", ""},
	} {
		base, err := pitch.Parse(row.base)
		require.NoError(t, err)
		touching, err := pitch.Parse(row.touching)
		require.NoError(t, err)
		heard, ok := music.Heard(base, touching)
		assert.Equal(t, row.heard != "", ok, row.why)
		if ok {
			assert.Equal(t, row.heard, heard.String(), row.why)
		}
	}
}

// TestRoleOf: MusicXML 4.0, harmonic: at most one of three elements says which pitch the
// note is.
func TestRoleOf(t *testing.T) {
	t.Parallel()
	for inner, want := range map[string]music.HarmonicRole{
		"":                                music.NoHarmonic,
		"<harmonic/>":                     music.RoleUnsaid,
		"<harmonic><natural/></harmonic>": music.RoleUnsaid,
		"<harmonic><artificial/><base-pitch/></harmonic>":     music.BasePitch,
		"<harmonic><artificial/><touching-pitch/></harmonic>": music.TouchingPitch,
		"<harmonic><artificial/><sounding-pitch/></harmonic>": music.SoundingPitch,
	} {
		document := etree.NewDocument()
		require.NoError(t, document.ReadFromString("<note><notations><technical>"+inner+"</technical></notations></note>"))
		assert.Equal(t, want, music.RoleOf(document.Root()), inner)
	}
}
