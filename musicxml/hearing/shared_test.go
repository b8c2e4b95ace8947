package hearing_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/hearing"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
)

// soundingParts hears the parts of a score as they sound, by the reader that checks
// the program. What kin is, the names say: "Horn 1" and "Horn 2".
func soundingParts(t testing.TB, file string) (parts []hearing.Heard, names []string) {
	t.Helper()
	score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
	require.NoError(t, err)
	for i, p := range score.ScoreParts() {
		part, err := score.ReadPart(i, new(musicxml.Slabs))
		require.NoError(t, err)
		page, err := reading.Read(part)
		require.NoError(t, err)
		heard := hearing.Heard{Part: &hearing.Part{}, Kin: strings.TrimRight(p.Name, " 0123456789")}
		sounds := page.Sounding()
		require.Len(t, sounds, len(page.Notes), "%s, %s: no octave doublings", file, p.Name)
		for k := range page.Notes {
			if n := &page.Notes[k]; !n.Unpitched && !n.Cue {
				heard.Add(n.Start, n.Start.Add(n.Duration), int(sounds[k].MIDI.Num()/sounds[k].MIDI.Den()))
			}
		}
		parts, names = append(parts, heard), append(names, p.Name)
	}
	return parts, names
}

// The editions are right about their transpositions, and the quartets and songs have
// none: no part would sound better elsewhere. Each of them read wrong by a tone, a
// third or a fifth, either way, is found and set right.
func TestEveryPartOfTheEditions(t *testing.T) {
	ear, err := hearing.New()
	require.NoError(t, err)
	wrong, found, exact, right, asked := 0, 0, 0, 0, 0
	for _, file := range musicxmltest.SharedSpread(t, "scores/written/*.mxl", "scores/quartets/*.mxl", "scores/songs/*.mxl") {
		parts, names := soundingParts(t, file)
		right += len(parts)
		for _, d := range ear.Doubts(parts) {
			asked++
			t.Logf("%s: %s is asked about: %+d semitones, %+v", filepath.Base(file), names[d.Part], d.Shift, d.Evidence)
		}
		for i := range parts {
			parts[i].Sure = true
		}
		for i := range parts {
			parts[i].Sure = false
			for _, off := range []int{-7, -4, -3, -2, 2, 3, 4, 7} {
				parts[i].Shift = off
				for _, d := range ear.Doubts(parts) {
					found++
					if (d.Shift+off)%12 == 0 {
						exact++
					}
				}
				wrong++
			}
			parts[i].Shift, parts[i].Sure = 0, true
		}
	}
	t.Logf("%d right parts, %d asked about; %d wrong ones, %d found, %d of them set right", right, asked, wrong, found, exact)
	assert.LessOrEqual(t, float64(asked), 0.02*float64(right))
	assert.GreaterOrEqual(t, float64(found), 0.9*float64(wrong))
	assert.GreaterOrEqual(t, float64(exact), 0.95*float64(found))
}
