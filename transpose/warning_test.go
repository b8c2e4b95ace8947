package transpose_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/transpose"
)

// What cannot be moved safely is said, with its place, and in words for a musician;
// everything else is not.
func TestWarnings(t *testing.T) {
	t.Parallel()
	chord := func(root, kind string) string {
		return "{<harmony><root>" + root + "</root>" + kind + "</harmony>}"
	}
	head := func(text string) string {
		return "[<notehead-text><display-text>" + text + "</display-text></notehead-text>]"
	}
	rows := []struct {
		name, part string
		to         []transpose.Stretch
		want       []string
	}{
		{"nothing", "tr:-1,-2 key:2 D4 F#4 | G#4+sharp", sounding, nil},
		{"an octave said in one number only", "C4 | C4 {<attributes><transpose><diatonic>-1</diatonic><chromatic>-14</chromatic></transpose></attributes>} D4", sounding,
			[]string{"transpose-steps 2:2 a <transpose> of -14 semitones says -1 letter steps, which cannot be meant; the usual interval of that size was taken"}},
		{"a figure without a bass", "C4 {<figured-bass><figure><prefix>sharp</prefix></figure></figured-bass>}", clarinetBFlat,
			[]string{"figured-bass 1:2 a figure's accidental has no bass note to be counted from"}},
		{"a figure without a sign of its own", "C4 {<figured-bass><figure><prefix>plus</prefix></figure></figured-bass>}", clarinetBFlat, nil},
		{"a figure that no sign stands for", "{<figured-bass><figure><prefix>flat-flat</prefix><figure-number>5</figure-number></figure></figured-bass>} B2", to(1, 2, 0),
			[]string{"figured-bass 1:1 the accidental of a figure cannot be written in the new key"}},
		{"a diagram with an open string", frame(0, 1, 2), clarinetBFlat,
			[]string{"fret-frame 1:1 the fretboard diagram describes the chord at its old pitch and was left out"}},
		{"a chord without a letter", chord("<root-step>X</root-step>", "<kind>major</kind>") + " C4", clarinetBFlat,
			[]string{"chord-text 1:1 a chord symbol without a readable letter was left as it is"}},
		{"a chord printed in another language", chord(`<root-step text="La">A</root-step>`, "<kind>minor</kind>") + " C4", clarinetBFlat,
			[]string{`chord-text 1:1 the chord symbol was printed as "La"; it is now printed as its letter`}},
		{"a kind that seems to name a note", chord("<root-step>C</root-step>", `<kind text="m7/H">minor-seventh</kind>`) + " C4", clarinetBFlat,
			[]string{`chord-text 1:1 the chord symbol prints "m7/H", which seems to name a note and was left as it is`}},
		{"pedals that cannot be set", "key:0 " + strings.ReplaceAll("{"+harpPedals("D", "C", "B", "E", "F", "G", "A")+"} C4", "<pedal-alter>0<", "<pedal-alter>1<"), clarinetBFlat,
			[]string{"harp-pedals 1:1 the pedal for C cannot be set to what the moved music needs", "harp-pedals 1:1 the pedal for F cannot be set to what the moved music needs"}},
		{"a letter in a notehead that is not its note's", "C4" + head("D"), clarinetBFlat,
			[]string{`notehead-text 1:1 the letter "D" in a notehead does not name its note and was left as it is`}},
		{"a syllable in a notehead", "C4" + head("do"), clarinetBFlat,
			[]string{`notehead-text 1:1 the text "do" in a notehead may name its note, and was left as it is`}},
		{"a number in a notehead", "C4" + head("5"), clarinetBFlat, nil},
		{"a letter in a notehead that is its note's", "C4" + head("C"), clarinetBFlat, nil},
		{"a syllable in a notehead that does not move", "C4" + head("do"), sounding, nil},
		{"an ornament's sign that no sign follows", "D4[<notations><ornaments><turn/><accidental-mark>triple-sharp</accidental-mark></ornaments></notations>]", clarinetBFlat,
			[]string{`no-sign 1:1 the accidental "triple-sharp" of an ornament cannot be moved to E4`}},
		{"a sign that contradicts its note", "key:0 R F4+sharp", clarinetBFlat,
			[]string{`wrong-sign 1:2 the score prints "sharp" at a note that is F4; the part has "natural"`}},
		{"a sign of another system", "key:0 C4+sori", to(0, -1, 0), []string{`no-sign 1:1 the accidental "sori" cannot be moved to Db4`}},
		{"a note that no sign stands for", "key:0 C(0.25)4", clarinetBFlat, []string{"no-sign 1:1 no printed accidental stands for D(0.25)4"}},
		{"a note that another letter says", "key:0 C(-2.5)4", clarinetBFlat, []string{"respelled 1:1 no printed accidental stands for D(-2.5)4; the part has C(-0.5)4"}},
		{"steps that are not said", "{<attributes><transpose><chromatic>-2</chromatic></transpose></attributes>} D4", sounding, nil},
		{"the octaves of single signs", `{<attributes><key><fifths>1</fifths><key-octave number="1">5</key-octave></key></attributes>} C4`, clarinetBFlat,
			[]string{"key-octave 1:1 the octaves that the score gave to single signs of its key signature do not fit the new one and were left out"}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, result := moved(t, row.part, options(row.to))
			var got []string
			for _, w := range result.Warnings {
				got = append(got, fmt.Sprintf("%s %s:%s %s", w.Code, w.Measure, w.Beat, w.Text))
			}
			assert.Equal(t, row.want, got)
		})
	}
}

// A figured bass belongs to the next note at its place or later, grace notes aside.
func TestBassOfAFigure(t *testing.T) {
	t.Parallel()
	const figure = "{<figured-bass><figure><prefix>natural</prefix><figure-number>5</figure-number></figure></figured-bass>}"
	rows := []struct{ name, part, want, why string }{
		{"the next note", "C3 " + figure + " E3", "sharp", "B over E is C sharp over F sharp"},
		{"not the one before", "E3 " + figure + " C3", "natural", "G over C is A over D"},
		{"not a grace note", figure + " g:C3 E3", "sharp", "the note that it leads to"},
		{"in the next voice", "E3 " + figure + " back:1 v2:C3 v2:E3", "sharp", "the note at its place"},
		{"behind a rest", figure + " R E3", "sharp", "the next that there is"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, "key:0 "+row.part)
			move(t, e, options(clarinetBFlat))
			assert.Equal(t, row.want, e.FindElement("//prefix").Text(), row.why)
		})
	}
}
