package music_test

import (
	"strings"
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
		{"a fourth, the usual one", "A4", "D5", "A6"}, {"a fifth", "A4", "E5", "E6"}, {"a third", "G4", "B4", "B6"}, {"a minor third", "A4", "C5", "E7"},
		{"an octave", "G3", "G4", "G4"}, {"a sixth", "G3", "E4", "B5"}, {"a twelfth", "G3", "D5", "D5"}, {"two octaves", "G3", "G5", "G5"},
		{"a tenth", "G3", "B4", "B5"}, {"spelled from the base", "Bb3", "Eb4", "Bb5"}, {"a fourth above an altered note", "F#4", "B4", "F#6"},
		{"a tone is no node", "A4", "B4", ""}, {"a tritone is none", "A4", "D#5", ""},
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

// TestHarmonicOf: of a chord what belongs to a harmonic, which note stands for it, and what
// is heard: as it is written, else by the partials of TestHeard.
func TestHarmonicOf(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why   string
		chord []string // pitch and role
		notes []int
		heard string
	}{
		{"no harmonic", []string{"A4", "D5"}, nil, ""},
		{"a circle over a note", []string{"A4 unsaid"}, nil, ""},
		{"stopped and touched", []string{"A4 base", "D5 touching"}, []int{0, 1}, "A6"},
		{"behind another note", []string{"E4", "A4 base", "D5 touching"}, []int{1, 2}, "A6"},
		{"touched first", []string{"D5 touching", "A4 base"}, []int{0, 1}, "A6"},
		{"what sounds is written", []string{"A4 base", "D5 touching", "B6 sounding"}, []int{0, 1, 2}, "B6"},
		{"only stopped", []string{"A4 base"}, []int{0}, ""},
		{"only touched", []string{"D5 touching", "D5"}, []int{0}, ""},
		{"no node", []string{"A4 base", "B4 touching"}, []int{0, 1}, ""},
		{"two that are stopped: the first counts", []string{"A4 base", "G4 base", "D5 touching"}, []int{0, 1, 2}, "A6"},
	} {
		roles := map[string]music.HarmonicRole{"": music.NoHarmonic, "unsaid": music.RoleUnsaid, "base": music.BasePitch, "touching": music.TouchingPitch, "sounding": music.SoundingPitch}
		var chord []music.HarmonicNote
		for _, text := range row.chord {
			name, role, _ := strings.Cut(text, " ")
			p, err := pitch.Parse(name)
			require.NoError(t, err)
			chord = append(chord, music.HarmonicNote{Role: roles[role], Pitch: p})
		}
		got, ok := music.HarmonicOf(chord)
		assert.Equal(t, row.notes != nil, ok, row.why)
		assert.Equal(t, row.notes, got.Notes, row.why)
		assert.Equal(t, row.heard != "", got.Known, row.why)
		if ok {
			assert.Equal(t, row.notes[0], got.Keep, row.why)
		}
		if got.Known {
			assert.Equal(t, row.heard, got.Heard.String(), row.why)
		}
	}
}
