package transpose

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

// A semitone, and half of it.
const (
	semitone    = pitch.Semitone
	quarterTone = pitch.Semitone / 2
)

// Every sign that stands for a fixed alteration (MusicXML 4.0, accidental-value), the
// one that is printed for an alteration, and the style that is kept.
func TestAccidentalTables(t *testing.T) {
	t.Parallel()
	values := map[string]pitch.Alter{
		"triple-flat": -3 * semitone, "flat-flat": -2 * semitone, "flat": -semitone, "natural": 0, "sharp": semitone, "double-sharp": 2 * semitone, "triple-sharp": 3 * semitone,
		"sharp-sharp": 2 * semitone, "natural-sharp": semitone, "natural-flat": -semitone,
		"three-quarters-flat": -3 * quarterTone, "quarter-flat": -quarterTone, "quarter-sharp": quarterTone, "three-quarters-sharp": 3 * quarterTone,
	}
	for name, want := range values {
		value, known := AccidentalValue(name)
		assert.True(t, known, name)
		assert.Equal(t, want, value, name)
	}
	_, known := AccidentalValue("sori")
	assert.False(t, known)
	assert.Len(t, accidentalValues, len(values))
	plain := map[pitch.Alter]string{
		-3 * semitone: "triple-flat", -2 * semitone: "flat-flat", -semitone: "flat", 0: "natural", semitone: "sharp", 2 * semitone: "double-sharp", 3 * semitone: "triple-sharp",
		-3 * quarterTone: "three-quarters-flat", -quarterTone: "quarter-flat", quarterTone: "quarter-sharp", 3 * quarterTone: "three-quarters-sharp",
	}
	for value, want := range plain {
		name, ok := AccidentalName(value)
		assert.True(t, ok, value)
		assert.Equal(t, want, name, value)
	}
	for _, none := range []pitch.Alter{4 * semitone, -4 * semitone, quarterTone / 2, 5 * quarterTone} {
		_, ok := AccidentalName(none)
		assert.False(t, ok, none)
	}
	rows := []struct {
		alter     pitch.Alter
		old, want string
	}{
		{2 * semitone, "sharp-sharp", "sharp-sharp"}, {2 * semitone, "double-sharp", "double-sharp"}, {2 * semitone, "sharp", "double-sharp"},
		{-semitone, "natural-flat", "natural-flat"}, {semitone, "natural-flat", "natural-sharp"}, {semitone, "natural-sharp", "natural-sharp"}, {-semitone, "natural-sharp", "natural-flat"},
		{0, "natural-flat", "natural"}, {2 * semitone, "natural-sharp", "double-sharp"}, {-semitone, "sharp", "flat"}, {semitone, "sori", "sharp"},
	}
	for _, row := range rows {
		name, ok := accidentalFor(row.alter, row.old)
		assert.True(t, ok)
		assert.Equal(t, row.want, name, "%s after %s", row.alter, row.old)
	}
}

// said is a sign, and whether it does not say where its note went.
func said(sign string, ok bool) string {
	if !ok {
		return sign + ", unsaid"
	}
	return sign
}

// A printed sign after its note went to another alteration.
func TestMovedAccidental(t *testing.T) {
	t.Parallel()
	rows := []struct {
		old       string
		from, to  pitch.Alter
		asPrinted bool
		want, why string
	}{
		{"sharp", semitone, 0, false, "natural", "the sign follows the note"},
		{"flat", -semitone, 0, true, "natural", "by as much as the note"},
		{"sharp", 0, semitone, false, "sharp", "a sign that contradicts its note is put right"},
		{"sharp", 0, semitone, true, "double-sharp", "or moves with it, as printed"},
		{"flat", -semitone, 4 * semitone, false, "flat, unsaid", "no sign says it"},
		{"natural-up", 0, semitone, false, "sharp-up", "the arrow stays"},
		{"sharp-down", semitone, 0, true, "natural-down", "the arrow stays"},
		{"flat-up", -semitone, -2 * semitone, false, "flat-flat-up", "the arrow stays"},
		{"double-flat-up", -2 * semitone, -semitone, false, "flat-up", "either name of the double flat"},
		{"sharp-up", semitone, 2 * semitone, false, "double-sharp-up", "the arrow stays"},
		{"double-sharp-down", 2 * semitone, semitone, false, "sharp-down", "the arrow stays"},
		{"flat-flat-up", -2 * semitone, -semitone, false, "flat-up", "the arrow stays"},
		{"double-flat-up", -2 * semitone, 0, false, "natural-up", "the arrow stays"},
		{"double-sharp-up", 2 * semitone, 3 * semitone, false, "double-sharp-up, unsaid", "no arrow stands at a triple sharp"},
		{"sharp-up", semitone, semitone, false, "sharp-up", "nothing moves"},
		{"sharp-up", semitone, 3 * quarterTone, false, "sharp-up", "no arrow moves by a quarter tone"},
		{"sori", quarterTone, quarterTone, false, "sori", "another system, unmoved"},
		{"sori", quarterTone, 3 * quarterTone, false, "sori, unsaid", "and moved"},
		{"slash-up", 0, semitone, false, "slash-up, unsaid", "an arrow on what takes none"},
		{"quarter-sharp", quarterTone, 3 * quarterTone, false, "three-quarters-sharp", "quarter tones move by semitones"},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, said(movedAccidental(row.old, row.from, row.to, row.asPrinted)), "%s: %s", row.old, row.why)
	}
}

// The spelling one letter away that a reader finds simpler.
func TestSimpleNeighbour(t *testing.T) {
	t.Parallel()
	rows := []struct {
		pitch  string
		fifths int
		want   string // "" where the note stays
		why    string
	}{
		{"F##4", 0, "G4", "a double sharp"}, {"Ebb4", 0, "D4", "a double flat"}, {"E#4", 0, "F4", "a white key with a sign"},
		{"Cb5", 0, "B4", "over the octave"}, {"F#4", 0, "", "a black key"}, {"Bb4", 0, "", "a black key"},
		{"E#4", 6, "", "the signature has it"}, {"F##4", 8, "", "the signature has it"}, {"G##4", 0, "A4", "a double sharp"},
		{"A##4", 0, "B4", "a double sharp"}, {"E##4", 0, "F#4", "one sign less"}, {"Fbb4", 0, "Eb4", "one sign less"},
		{"C4", 0, "", "no sign at all"}, {"C4", 7, "", "a natural"}, {"C(0.5)4", 0, "", "a quarter tone"}, {"C(1.5)4", 0, "", "three quarter tones"},
	}
	for _, row := range rows {
		p, ok := simpleNeighbour(shorthand.Pitch(t, row.pitch), traditional(signature{}, row.fifths).alters)
		assert.Equal(t, row.want != "", ok, "%s: %s", row.pitch, row.why)
		if ok {
			assert.Equal(t, row.want, p.String(), row.why)
		}
	}
	// Two and a half sharps over C are a quarter sharp over D, two and a half flats under E a quarter flat under D.
	for from, want := range map[string]string{"C###4": "D#4", "G####4": "A##4", "Abbbb4": "Gbb4", "B(2.5)3": "C(1.5)4", "F(-2.5)4": "E(-1.5)4", "D(2.5)4": "E(0.5)4",
		"C(2.5)4": "D(0.5)4", "E(-2.5)4": "D(-0.5)4", "B(2.5)4": "C(1.5)5", "C(-2.5)4": "B(-1.5)3", "C####4": "D##4", "Ebbbb4": "Dbb4"} {
		p, ok := sayableNeighbour(shorthand.Pitch(t, from))
		assert.True(t, ok, from)
		assert.Equal(t, want, p.String(), from)
	}
	for _, none := range []pitch.Alter{quarterTone / 2, 6 * semitone} {
		_, ok := sayableNeighbour(pitch.Pitch{Step: pitch.C, Alter: none, Octave: 4})
		assert.False(t, ok, "an eighth of a tone has no sign on any letter, nor have six sharps")
	}
}

// On which side ornaments have their auxiliary note (MusicXML 4.0; trade/
// notation-rules.md §14), and what its sign becomes.
func TestAuxiliaries(t *testing.T) {
	t.Parallel()
	above, both := []int{1}, []int{1, -1}
	want := map[string][]int{"trill-mark": above, "shake": above, "inverted-mordent": above, "mordent": {-1},
		"turn": both, "delayed-turn": both, "inverted-turn": both, "delayed-inverted-turn": both, "vertical-turn": both, "inverted-vertical-turn": both}
	assert.Equal(t, want, auxiliarySides)
}

// The signs of figures (MusicXML 4.0, prefix and suffix), a figure's note counted from
// the bass.
func TestMovedFigure(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"flat-flat": "-2", "double-flat": "-2", "flat": "-1", "natural": "0", "sharp": "1", "double-sharp": "2", "sharp-sharp": "2"} {
		assert.True(t, isFigureSign(name))
		assert.Equal(t, want, figureSigns[name].String(), name)
	}
	for _, other := range []string{"plus", "slash", "back-slash", "triple-sharp", ""} {
		assert.False(t, isFigureSign(other), other)
	}
}

// What the sign of an ornament or a figure becomes, so many letters from a note that goes to
// another pitch.
func TestSignsBesideANote(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		moved        func(printedAccidental, pitch.Pitch, int) (string, bool)
		sign, at, to string
		steps        int
		want, why    string
	}{
		{movedMark, "sharp", "E4", "F#4", 1, "sharp", "F sharp above E is G sharp above F sharp"},
		{movedMark, "natural", "A4", "F#4", 1, "sharp", "B above A is G sharp above F sharp"},
		{movedMark, "flat", "B3", "C#4", 1, "flat", "C flat above B is D flat above C sharp, over the octave"},
		{movedMark, "sharp", "C4", "D4", -1, "double-sharp", "B sharp below C is C double sharp below D"},
		{movedMark, "sharp", "D4", "C#4", -1, "sharp", "C sharp below D is B sharp below C sharp"},
		{movedMark, "triple-sharp", "D4", "E4", 1, "triple-sharp, unsaid", "E three sharps above D is F four sharps above E"},
		{movedMark, "sori", "C4", "D4", 1, "sori", "another system of signs, at a note that stays natural"},
		{movedMark, "sori", "C4", "C#4", 1, "sori, unsaid", "another system of signs, which no semitone moves"},
		{movedMark, "natural-up", "E4", "F#4", 1, "sharp-up", "an arrow moves as the note does"},
		{movedMark, "natural-up", "F#4", "G4", 1, "flat-up", "G and a bit above F sharp is A flat and a bit above G"},
		{movedFigure, "sharp", "E3", "F#3", 5, "sharp", "C sharp over E is D sharp over F sharp"},
		{movedFigure, "natural", "E3", "F#3", 4, "sharp", "B over E is C sharp over F sharp"},
		{movedFigure, "natural", "G2", "E2", 2, "sharp", "B over G is G sharp over E"},
		{movedFigure, "double-sharp", "C3", "D3", 1, "double-sharp", "D double sharp over C is E double sharp over D"},
		{movedFigure, "sharp-sharp", "C3", "D3", 1, "sharp-sharp", "in its own style"},
		{movedFigure, "flat", "B2", "C#3", 0, "natural", "B flat is C natural"},
		{movedFigure, "flat-flat", "B2", "A2", 4, "flat-flat, unsaid", "F flat flat over B would be E three flats over A"},
		{movedFigure, "double-sharp", "E3", "Eb3", 1, "sharp", "F double sharp over E is F sharp over E flat"},
	} {
		assert.Equal(t, row.want, said(row.moved(printedAccidental{row.sign, shorthand.Pitch(t, row.at)}, shorthand.Pitch(t, row.to), row.steps)), row.why)
	}
}

// A printed note name in its own kind of letters and signs.
func TestRespellText(t *testing.T) {
	t.Parallel()
	rows := []struct {
		text, from, to, want string
		ok                   bool
		why                  string
	}{
		{"B", "B4", "C#5", "C♯", true, "a sign where none was is the sign itself"}, {"Bb", "Bb4", "C5", "C", true, "a sign that goes"},
		{"Bb", "Bb4", "Cb5", "Cb", true, "in ASCII"}, {"B♭", "Bb4", "Cb5", "C♭", true, "as print has it"}, {"b", "B4", "A4", "a", true, "a small letter"},
		{"F#", "F#4", "Bbb4", "Bbb", true, "two flats"}, {"F♯", "F#4", "G##4", "G♯♯", true, "two sharps"},
		{"B𝄫", "Bbb4", "Cbb5", "C♭♭", true, "a double flat in one sign"}, {"F𝄪", "F##4", "G#4", "G♯", true, "a double sharp in one sign"},
		{"Fx", "F##4", "G##4", "G##", true, "a double sharp in a letter"}, {"F", "F#4", "G#4", "G", true, "the sign is printed elsewhere"},
		{"F", "G4", "A4", "", false, "another letter"}, {"F#", "F4", "G4", "", false, "another alteration"}, {"F#", "Fb4", "G4", "", false, "another alteration"},
		{"Fis", "F#4", "G#4", "", false, "another language"}, {"F", "F4", "G###4", "", false, "three sharps"}, {"F", "F4", "Gbbb4", "", false, "three flats"},
		{"F", "F4", "G(0.5)4", "", false, "a quarter tone"}, {"", "F4", "G4", "", false, "nothing"},
	}
	for _, row := range rows {
		got, ok := respellText(row.text, shorthand.Pitch(t, row.from), shorthand.Pitch(t, row.to))
		assert.Equal(t, row.ok, ok, "%s: %s", row.text, row.why)
		assert.Equal(t, row.want, got, "%s: %s", row.text, row.why)
	}
}

// What a letter was read with in a bar: a second alteration is a doubt.
func TestReadings(t *testing.T) {
	t.Parallel()
	var r readings
	assert.False(t, r.otherThan(0), "nothing was read")
	r.add(pitch.Semitone)
	assert.False(t, r.otherThan(pitch.Semitone))
	assert.True(t, r.otherThan(0))
	r.add(0)
	assert.True(t, r.otherThan(pitch.Semitone), "both were read")
	assert.True(t, r.otherThan(0), "both were read")
	var down readings
	down.add(0)
	down.add(pitch.Semitone)
	assert.True(t, down.otherThan(0))
	assert.True(t, down.otherThan(pitch.Semitone))
}

// On which side of its note the note of an ornament's accidental lies: the mark's own place
// says it, else the ornament: a mordent goes down, all others first up (MusicXML 4.0,
// accidental-mark, mordent).
func TestSideOfAnOrnament(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		placement, ornament string
		want                int
	}{{"above", "mordent", 1}, {"below", "trill-mark", -1}, {"", "mordent", -1}, {"", "inverted-mordent", 1}, {"", "trill-mark", 1}, {"", "shake", 1}, {"", "turn", 1}, {"", "inverted-turn", 1}, {"", "", 1}, {"", "schleifer", 1}, {"beside", "mordent", -1}} {
		mark := musicxmltest.Element(t, `<accidental-mark placement="`+row.placement+`">sharp</accidental-mark>`)
		assert.Equal(t, row.want, AuxiliarySide(mark, row.ornament), "%q of a %s", row.placement, row.ornament)
	}
}

// Signs of figures over a bass that goes from C to D: those of the same step over D in the
// major scale (MusicXML 4.0, figured-bass; theory).
func TestMovedFigures(t *testing.T) {
	t.Parallel()
	at := func(text string) pitch.Pitch {
		p, err := pitch.Parse(text)
		require.NoError(t, err)
		return p
	}
	for _, row := range []struct {
		bass, to, sign string
		steps          int
		want           string
	}{
		{"C3", "D3", "natural", 2, "sharp"}, {"C3", "D3", "flat", 2, "natural"}, {"C3", "D3", "sharp", 5, "sharp"}, {"C3", "D3", "flat", 6, "natural"}, {"C3", "D3", "natural", 6, "sharp"}, {"C3", "D3", "natural", 5, "natural"},
		{"C3", "D3", "natural", 9, "sharp"}, {"B3", "A3", "sharp", 1, "natural"}, {"B3", "A3", "sharp", 4, "natural"}, {"C3", "C4", "flat", 2, "flat"},
	} {
		name, ok := movedFigure(printedAccidental{at: at(row.bass), name: row.sign}, at(row.to), row.steps)
		assert.True(t, ok)
		assert.Equal(t, row.want, name, "%v", row)
	}
}
