package reading_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/reading"
)

func TestCompare(t *testing.T) {
	t.Parallel()
	const half = "[<note><pitch><step>C</step><octave>4</octave></pitch><duration>2</duration></note>]"
	const stroke = "[<note><unpitched/><duration>1</duration></note>]"
	for _, row := range []struct {
		name, why, want, got string
		diff                 []string
	}{
		{"the same", "nothing to say", "g:C4 D4 +F4 << E4", "g:C4 D4 +F4 << E4", nil},
		{"other voices and order", "a part out of a shared staff has other ones", "C4 D4 << E4 F4", "E4 F4 << C4 D4", nil},
		{"another pitch", "the sound differs", "C4 | D4", "C4 | Eb4", []string{"measure 2, beat 1: Eb4 sounds where D4 should"}},
		{"another octave", "the sound differs", "C4", "C5", []string{"measure 1, beat 1: C5 sounds where C4 should"}},
		{"another spelling", "the sound is the same", "D#4", "Eb4", []string{"measure 1, beat 1: Eb4 sounds where D#4 should"}},
		{"another length", "rhythm", half, "C4", []string{"measure 1, beat 1: C4 lasts 1 quarter notes and should last 2"}},
		{"missing", "one note of a chord", "C4 +E4", "C4", []string{"measure 1, beat 1: E4 is missing"}},
		{"extra", "a bar more", "C4", "C4 | D4", []string{"measure 2, beat 1: D4 is too much"}},
		{"missing grace note", "it has a place of its own", "g:D4 C4", "C4", []string{"measure 1, beat 1: grace note D4 is missing"}},
		{"grace notes in another order", "order is heard", "g:D4 g:E4 C4", "g:E4 g:D4 C4",
			[]string{"measure 1, beat 1: grace note E4 sounds where grace note D4 should", "measure 1, beat 1: grace note D4 sounds where grace note E4 should"}},
		{"tie lost", "it would be struck again", "C4~ | ~C4", "C4 | C4",
			[]string{"measure 1, beat 1: C4 is not tied as it should be", "measure 2, beat 1: C4 is not tied as it should be"}},
		{"stroke for a note", "a drum is no pitch", "B4", stroke, []string{"measure 1, beat 1: B4 is missing", "measure 1, beat 1: a stroke is too much"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, d := range reading.Compare(page(t, tune(row.want)).Sounding(), page(t, tune(row.got)).Sounding()) {
				got = append(got, d.String())
			}
			assert.Equal(t, row.diff, got, row.why)
		})
	}
}

func TestCompareSaysTheKind(t *testing.T) {
	t.Parallel()
	kind := func(want, got string) reading.Kind {
		return reading.Compare(page(t, tune(want)).Sounding(), page(t, tune(got)).Sounding())[0].Kind
	}
	assert.Equal(t, reading.Sounds, kind("C4", "D4"))
	assert.Equal(t, reading.Spelled, kind("C#4", "Db4"))
	assert.Equal(t, reading.Missing, kind("C4 D4", "C4"))
	assert.Equal(t, reading.Extra, kind("C4", "C4 D4"))
	assert.Equal(t, reading.TiedElse, kind("C4~ | ~C4", "C4 | C4"))
}

// A comparison must not be fooled by its own sorting: lists that share notes
// are left as they were.
func TestCompareLeavesItsListsAlone(t *testing.T) {
	t.Parallel()
	list := page(t, tune("E4 +C4 << G4 A4")).Sounding()
	before := append([]reading.Sound(nil), list...)
	reading.Compare(list, list)
	assert.Equal(t, before, list)
}
