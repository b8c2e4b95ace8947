package engraving

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The signs of a signature have fixed places in each clef (notation-rules.md §6,
// from the harmony textbook named there); the places of seven sharps and seven
// flats are those of printed music, common practice.
func TestSignsOfASignatureHaveFixedPlaces(t *testing.T) {
	t.Parallel()
	for clef, want := range map[Clef]struct{ sharps, flats string }{
		Treble():                           {"F5 C5 G5 D5 A4 E5 B4", "B4 E5 A4 D5 G4 C5 F4"},
		Bass():                             {"F3 C3 G3 D3 A2 E3 B2", "B2 E3 A2 D3 G2 C3 F2"}, // a line lower than the treble's
		Alto():                             {"F4 C4 G4 D4 A3 E4 B3", "B3 E4 A3 D4 G3 C4 F3"}, // a step lower on the page
		Tenor():                            {"F3 C4 G3 D4 A3 E4 B3", "B3 E4 A3 D4 G3 C4 F3"}, // sharps begin low, or they would climb over the staff
		{Sign: ClefG, Line: 2, Octave: -1}: {"F4 C4 G4 D4 A3 E4 B3", "B3 E4 A3 D4 G3 C4 F3"}, // looks as without the 8
	} {
		placed := func(fifths int) (got []Place) {
			for _, s := range keySigns(clef, Key{Fifths: fifths}) {
				got = append(got, clef.PlaceAt(s.position))
			}
			return got
		}
		assert.Equal(t, places(want.sharps), placed(7), "%+v", clef)
		assert.Equal(t, places(want.flats), placed(-7), "%+v", clef)
		assert.Equal(t, places(want.sharps[:5]), placed(2), "%+v", clef)
	}
}

// places reads names like "F5 C5".
func places(text string) []Place {
	var list []Place
	for i := 0; i < len(text); i += 3 {
		list = append(list, Place{strings.Index("CDEFGAB", text[i:i+1]), int(text[i+1] - '0')})
	}
	return list
}

func TestCancelledSigns(t *testing.T) {
	t.Parallel()
	naturals := func(old, key Key) int { return len(cancelled(Treble(), old, key)) }
	assert.Equal(t, 3, naturals(Key{Fifths: 3}, Key{}), "a change to no sharps or flats cancels all (MusicXML 4.0, cancel)")
	assert.Zero(t, naturals(Key{Fifths: 3}, Key{Fifths: -2}), "without <cancel> nothing is cancelled")
	assert.Equal(t, 2, naturals(Key{Fifths: 4}, Key{Fifths: 2, Cancel: 4}), "the cancelled letters that the new signature does not name")
	assert.Zero(t, naturals(Key{}, Key{}), "nothing to cancel")
}

// A signature's effect on each letter, from the order of sharps F C G D A E B and
// of flats the other way.
func TestKeyAltersItsLetters(t *testing.T) {
	t.Parallel()
	for fifths := -7; fifths <= 7; fifths++ {
		for i, step := range orderOfSharps {
			want := 0.0
			if i < fifths {
				want = 1
			}
			if 6-i < -fifths {
				want = -1
			}
			assert.InDelta(t, want, Key{Fifths: fifths}.alter(step), 0, "%d fifths, step %d", fifths, step)
		}
	}
	assert.InDelta(t, 2, Key{Fifths: 8}.alter(3), 0, "the eighth sharp is F double sharp")
	assert.InDelta(t, -2, Key{Fifths: -8}.alter(6), 0, "the eighth flat is B double flat")
}
