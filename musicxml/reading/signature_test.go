package reading_test

import (
	"fmt"
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
	under := func(key string) string {
		var got []string
		for _, n := range page(t, tune(key+scale)).Notes {
			got = append(got, strings.TrimSuffix(n.Read.String(), "4"))
		}
		return strings.Join(got, " ")
	}
	assert.Equal(t, "C D E F G A B", under(""))
	for fifths, want := range map[int]string{
		1: "C D E F# G A B", 4: "C# D# E F# G# A B", 6: "C# D# E# F# G# A# B", 7: "C# D# E# F# G# A# B#", 8: "C# D# E# F## G# A# B#",
		-1: "C D E F G A Bb", -5: "C Db Eb F Gb Ab Bb", -7: "Cb Db Eb Fb Gb Ab Bb", -9: "Cb Db Ebb Fb Gb Ab Bbb",
	} {
		assert.Equal(t, want, under(fmt.Sprintf("[<attributes><key><fifths>%d</fifths></key></attributes>] ", fifths)))
	}
	for key, want := range map[string]string{
		"<fifths>-3</fifths><mode>dorian</mode>": "C D Eb F G Ab Bb", "<cancel>3</cancel><fifths>1</fifths>": "C D E F# G A B", // neither matters
		"<key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-1</key-alter>": "C D E F# G A Bb",
		"<key-step>E</key-step><key-alter>-0.5</key-alter>":                                             "C D E(-1/2) F G A B",
	} {
		assert.Equal(t, want, under("[<attributes><key>"+key+"</key></attributes>] "))
	}
}
