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
	for _, row := range []struct {
		name, why string
		clef      Clef
		fifths    int
		want      []Place
	}{
		{"treble sharps", "F5 C5 G5 D5 A4 E5 B4", Treble(), 7, places("F5 C5 G5 D5 A4 E5 B4")},
		{"treble flats", "B4 E5 A4 D5 G4 C5 F4", Treble(), -7, places("B4 E5 A4 D5 G4 C5 F4")},
		{"bass sharps", "one line lower than the treble's", Bass(), 7, places("F3 C3 G3 D3 A2 E3 B2")},
		{"bass flats", "one line lower than the treble's", Bass(), -7, places("B2 E3 A2 D3 G2 C3 F2")},
		{"alto sharps", "a step lower on the page", Alto(), 7, places("F4 C4 G4 D4 A3 E4 B3")},
		{"alto flats", "a step lower on the page", Alto(), -7, places("B3 E4 A3 D4 G3 C4 F3")},
		{"tenor sharps", "begin low, or they would climb over the staff", Tenor(), 7, places("F3 C4 G3 D4 A3 E4 B3")},
		{"tenor flats", "a step higher than the treble's", Tenor(), -7, places("B3 E4 A3 D4 G3 C4 F3")},
		{"octave clef", "looks as without the 8", Clef{Sign: ClefG, Line: 2, Octave: -1}, 2, places("F4 C4")},
	} {
		var got []Place
		for _, s := range keySigns(row.clef, Key{Fifths: row.fifths}) {
			got = append(got, row.clef.PlaceAt(s.position))
		}
		assert.Equal(t, row.want, got, "%s: %s", row.name, row.why)
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
	for _, row := range []struct {
		name, why string
		old, key  Key
		naturals  int
	}{
		{"to no signature", "a change to no sharps or flats cancels all (MusicXML 4.0, cancel)", Key{Fifths: 3}, Key{}, 3},
		{"to another", "without <cancel> nothing is cancelled", Key{Fifths: 3}, Key{Fifths: -2}, 0},
		{"as the file says", "the cancelled letters that the new signature does not name", Key{Fifths: 4}, Key{Fifths: 2, Cancel: 4}, 2},
		{"from nothing", "nothing to cancel", Key{}, Key{}, 0},
	} {
		assert.Len(t, cancelled(Treble(), row.old, row.key), row.naturals, "%s: %s", row.name, row.why)
	}
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
