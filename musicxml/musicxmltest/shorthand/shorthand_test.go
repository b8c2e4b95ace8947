package shorthand_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest/shorthand"
)

// What is written is read again as it was: each line of the notation in the package's
// documentation.
func TestThereAndBack(t *testing.T) {
	t.Parallel()
	for _, music := range []string{
		`C5:q E5:hd F5:et`, `C5+E5:h r:q`, `g!D5:e C5:w`, `E5:q( E5:q)`, `E5:q~ E5:q^`, `E5:e{ E5:e- E5:e}`, `E5:et[ E5:et]`,
		`E5:q#12`, `E5:q*`, `E5:q?`, `E5:q.`, `E5:q'la'`, `"1." E5:w`, `!p E5:h !< E5:h !.`, `R | R`, `E5:w / C5:w`, `C5:w // C4:w`,
		`F#5:q Bb4:q C##5:q Ebb5:q`,
	} {
		got := shorthand.Read(shorthand.Part(t, music))
		if music == `C5:w // C4:w` {
			music = `C5:w / C4:w` // staves are not told apart
		}
		assert.Equal(t, music, got)
	}
	assert.Equal(t, "[key -3] [clef F 4] [transpose -1 -2] C5:q", shorthand.ReadAll(shorthand.Part(t, "<attributes/> [key -3] <print/> [clef F 4] <print/> [transpose -1 -2] C5")))
	assert.Equal(t, "treble 2bass C5↑{ +E5↑ D5↓} << r! u!F4 g!G4 | tenor C4", shorthand.ReadStaff(shorthand.Part(t, "treble 2bass C5:e↑{ +E5:e↑ D5:e↓} << r! u!F4 g!G4 | tenor C4")))
}
