package reading_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// scale is read under a signature without any sign.
const scale = "C4 D4 E4 F4 G4 A4 B4"

// Sharps come in the order F C G D A E B, flats in the reverse order
// (trade/notation-rules.md, section 6). Past seven they become double signs in
// the same order (MusicXML 4.0, fifths has no bound).
func TestSignature(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, key, want string }{
		{"none", "", "C D E F G A B"},
		{"one sharp", "<fifths>1</fifths>", "C D E F# G A B"},
		{"four sharps", "<fifths>4</fifths>", "C# D# E F# G# A B"},
		{"six sharps", "<fifths>6</fifths>", "C# D# E# F# G# A# B"},
		{"seven sharps", "<fifths>7</fifths>", "C# D# E# F# G# A# B#"},
		{"eight sharps", "<fifths>8</fifths>", "C# D# E# F## G# A# B#"},
		{"one flat", "<fifths>-1</fifths>", "C D E F G A Bb"},
		{"five flats", "<fifths>-5</fifths>", "C Db Eb F Gb Ab Bb"},
		{"seven flats", "<fifths>-7</fifths>", "Cb Db Eb Fb Gb Ab Bb"},
		{"nine flats", "<fifths>-9</fifths>", "Cb Db Ebb Fb Gb Ab Bbb"},
		{"mode does not matter", "<fifths>-3</fifths><mode>dorian</mode>", "C D Eb F G Ab Bb"},
		{"cancel does not matter", "<cancel>3</cancel><fifths>1</fifths>", "C D E F# G A B"},
		{"not traditional", "<key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter>", "C D E F# G A Bb"},
		{"quarter tone", "<key-step>E</key-step><key-alter>-0.5</key-alter>", "C D E(-1/2) F G A B"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			music := scale
			if row.key != "" {
				music = "[<attributes><key>" + row.key + "</key></attributes>] " + scale
			}
			var got []string
			for _, n := range page(t, tune(music)).Notes {
				got = append(got, strings.TrimSuffix(n.Read.String(), "4"))
			}
			assert.Equal(t, row.want, strings.Join(got, " "))
		})
	}
}
