package transpose_test

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// A page that is moved as printed remembers what the new key cannot hold, and nothing
// that comes back by itself. Each row says what is then to be found at a path.
func TestWhatAPageRemembers(t *testing.T) {
	t.Parallel()
	head := func(inner string) string { return "[<notehead-text>" + inner + "</notehead-text>]" }
	rows := []struct {
		name, part string
		to         []transpose.Stretch
		path, want string
		why        string
	}{
		{"a key that changes with the transposition, and on the page, too", "key:1 tr:2,3 C4*4 | key:3 tr:-1,-2 C#4*4", sounding, "measure[2]//key", "<key><fifths>1</fifths></key>", "nobody would make it anew"},
		{"a signature said again at a change", "key:1 tr:2,3 C4*4 | key:1 tr:-1,-2 C4*4", sounding, "measure[2]//key", "<key><fifths>-1</fifths><?deskpart key?></key>", "it is a change of key here, and would not be made anew on the way back"},
		{"a key of two staves that move apart", "key:0 tr2:-1,-2 C5 back:1 s2:D4", sounding, "//key[@number='1']", `<key number="1"><fifths>0</fifths><?deskpart parted?></key>`, "it was one"},
		{"its second half", "key:0 tr2:-1,-2 C5 back:1 s2:D4", sounding, "//key[@number='2']", `<key number="2"><fifths>-2</fifths></key>`, "said once"},
		{"the sign of a trill without signature", "key!0 E4[<notations><ornaments><trill-mark/></ornaments></notations>]", to(1, 2, 0), "//accidental-mark", `<accidental-mark placement="above">flat<?deskpart auxiliary?></accidental-mark>`, "F above E is E flat above D, where the page has E"},
		{"a sign alone in a notehead", "key:0 F#4+sharp" + head("<accidental-text>sharp</accidental-text>"), clarinetBFlat, "//notehead-text", "<notehead-text><accidental-text>sharp</accidental-text></notehead-text>", "it stays"},
		{"a letter", "key:0 C4" + head("<display-text>C</display-text>"), clarinetBFlat, "//notehead-text",
			"<notehead-text><display-text>D</display-text></notehead-text>", "D moved back is C again"},
		{"a letter and its sign", "key:0 F#4+sharp" + head("<display-text>F</display-text><accidental-text>sharp</accidental-text>"), clarinetBFlat, "//notehead-text",
			"<notehead-text><display-text>G</display-text><accidental-text>sharp</accidental-text></notehead-text>", "comes back"},
		{"a plain sign", "key:0 F#4+sharp", clarinetBFlat, "//accidental", "<accidental>sharp</accidental>", "comes back"},
		{"a natural-flat that becomes a natural", "key:0 Bb4+natural-flat", clarinetBFlat, "//accidental", "<accidental>natural<?deskpart sign natural-flat at Bb4?></accidental>", "a plain flat would come back"},
		{"a chord symbol's letter", `{<harmony><root><root-step text="A">A</root-step></root><kind>major</kind></harmony>} C4`, clarinetBFlat, "//root-step",
			`<root-step text="B">B</root-step>`, "moved back it is A again"},
		{"a chord symbol's letter and its sign", `{<harmony><root><root-step text="Bb">B</root-step><root-alter>-1</root-alter></root><kind>major</kind></harmony>} C4`, clarinetBFlat, "//root-step",
			`<root-step text="C">C<?deskpart was 1,2 88c330d3 <root-step text="Bb">C</root-step>?></root-step>`, "moved back it would be printed with the sign itself"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, row.part)
			o := options(row.to)
			o.AsPrinted = true
			move(t, e, o)
			found := e.FindElement(row.path)
			if assert.NotNil(t, found) {
				assert.Equal(t, row.want, text(found), row.why)
			}
		})
	}
	e := partOf(t, frame(0, 1, 2))
	o := options(clarinetBFlat)
	o.AsPrinted = true
	move(t, e, o)
	assert.Nil(t, e.FindElement("//harmony/frame"))
	assert.Equal(t, 1, remarks(e.FindElement("//harmony")), "the diagram is kept in the chord symbol")
	e = partOf(t, "key:0 F#4 F#4+sharp")
	move(t, e, o)
	assert.Equal(t, "key:2 tr:-1,-2 G#4 G#4+sharp", inShorthand(t, e), "a sign that is missing is missing there, too")
	for _, note := range e.FindElements("//note") {
		assert.Zero(t, remarks(note))
	}
}

// remarks counts what an element remembers.
func remarks(e *etree.Element) int {
	n := 0
	for _, token := range e.Child {
		if _, ok := token.(*etree.ProcInst); ok {
			n++
		}
	}
	return n
}

// What one key cannot hold comes back with the source's own key, by whatever way: each
// row goes to a clarinet in B flat, on to one in A, and back.
func TestWhatAPageRemembersComesBack(t *testing.T) {
	t.Parallel()
	symbol := func(inner string) string { return "key:0 {<harmony>" + inner + "</harmony>} C4" }
	head := func(inner string) string { return "[<notehead-text>" + inner + "</notehead-text>]" }
	numeral := func(fifths string) string {
		return symbol("<numeral><numeral-root>1</numeral-root><numeral-key><numeral-fifths>" + fifths + "</numeral-fifths><numeral-mode>major</numeral-mode></numeral-key></numeral><kind>major</kind>")
	}
	for _, row := range []struct{ name, part, path, flat, inA, why string }{
		{"a double sharp as x", symbol(`<root><root-step text="">F</root-step><root-alter>2</root-alter></root><kind text="Fx7">dominant</kind>`), "//kind", "G##7", "A#7", "an F moved back is written with two signs"},
		{"a small bass in the text", symbol(`<root><root-step>C</root-step></root><kind text="m7/g">minor-seventh</kind>`), "//kind", "m7/a", "m7/b♭", "its case is kept"},
		{"a numeral in six sharps", numeral("6"), "//numeral-fifths", "-4", "3", "eight sharps are four flats; nine sharps would be three flats less"},
		{"a numeral in six flats", numeral("-6"), "//numeral-fifths", "-4", "3", "nine flats are three sharps"},
		{"a diagram with an open string", frame(0, 1, 2), "//root-step", "D", "E", "it is left out on the way"},
		{"a letter with the sign of a double flat taken back", "key:0 Bb4" + head("<display-text>B</display-text><accidental-text>natural-flat</accidental-text>"), "//accidental-text", "natural", "flat", "a natural-flat at B flat"},
	} {
		e := partOf(t, row.part)
		for i, to := range [][]transpose.Stretch{clarinetBFlat, clarinetA, to(0, 0, 0)} {
			o := options(to)
			o.AsPrinted = true
			move(t, e, o)
			found := e.FindElement(row.path)
			require.NotNil(t, found, row.name)
			said := found.Text()
			if row.path == "//kind" {
				said = found.SelectAttrValue("text", "")
			}
			if i < 2 {
				assert.Equal(t, []string{row.flat, row.inA}[i], said, "%s: %s", row.name, row.why)
			}
		}
		assertSamePage(t, partOf(t, row.part), e, row.name)
	}
}

// The way home may lead by any instruments, by one that sounds an octave lower as well; the
// page comes back, and forgets.
func TestBackByOtherWays(t *testing.T) {
	t.Parallel()
	tenorSax := bassClarinet // both sound a ninth lower
	symbol := func(inner string) string { return "key:0 {<harmony>" + inner + "</harmony>} C4" }
	key := func(tones ...string) string {
		text := "{<attributes><key>"
		for i := 0; i < len(tones); i += 2 {
			text += "<key-step>" + tones[i] + "</key-step><key-alter>" + tones[i+1] + "</key-alter>"
		}
		return text + "</key></attributes>} "
	}
	tones := key("E", "-1")
	for _, row := range []struct {
		name, part string
		via        [][]transpose.Stretch
		path       string
		says       []string
	}{
		{"a natural-flat by two keys that have a natural there", "key:0 Bb4+natural-flat", [][]transpose.Stretch{clarinetBFlat, altoSax}, "//accidental", []string{"natural", "natural"}},
		{"a double sharp as x, an octave on", symbol(`<root><root-step text="">F</root-step><root-alter>2</root-alter></root><kind text="Fx7">dominant</kind>`), [][]transpose.Stretch{clarinetBFlat, tenorSax}, "//root-step", []string{"G", "G"}},
		{"a letter and its sign, an octave on", symbol(`<root><root-step text="Bb">B</root-step><root-alter>-1</root-alter></root><kind>major</kind>`), [][]transpose.Stretch{clarinetBFlat, tenorSax, altoSax}, "//root-step", []string{"C", "C", "G"}},
		{"two keys that stay two", "key1:0 key2:-2 tr2:-1,-2 C5 back:1 s2:C4", [][]transpose.Stretch{sounding, clarinetBFlat}, "//key[@number='2']/fifths", []string{"-4", "-2"}},
		{"the octaves of a signature's signs", "{<attributes><key><fifths>1</fifths><key-octave number=\"1\">5</key-octave></key></attributes>} F#5", [][]transpose.Stretch{clarinetBFlat, altoSax}, "//key/fifths", []string{"3", "4"}},
		{"tones that stay on the page where the transposition changes", tones + "tr:-2,-3 C4*4 | tr:-1,-2 C4*4", [][]transpose.Stretch{sounding}, "//measure[2]//key-step", []string{"D"}},
		{"a change where only the lower voice begins a note", "key:0 C5*4 back:4 v2:C5*2 v2:D5*2", [][]transpose.Stretch{{clarinetBFlat[0], {Onset: musicxml.NewFraction(2, 1), To: clarinetA[0].To}}}, "//attributes[2]/key/fifths", []string{"-3"}},
		// Sounding both have E flat and F sharp; from the first the second would come as G sharp, C sharp.
		{"tones of the same sound there, in an order of their own", key("E", "-1", "G", "-1", "B", "-1") + "tr:-2,-3 C4*4 | " + key("C", "1", "G", "1") + "tr:-1,-2 C4*4", [][]transpose.Stretch{sounding}, "//measure[2]//key-step", []string{"F"}},
		{"the same with signs of their own", key("E", "-1", "G", "-1", "B", "-1") + "tr:-2,-3 C4*4 | " + strings.ReplaceAll(key("G", "1", "C", "1"), "</key-alter>", "</key-alter><key-accidental>sharp</key-accidental>") + "tr:-1,-2 C4*4", [][]transpose.Stretch{sounding}, "//measure[2]//key-step", []string{"F"}},
		{"tones that are said again there", tones + "tr:-2,-3 C4*4 | " + tones + "tr:-1,-2 C4*4", [][]transpose.Stretch{sounding}, "//measure[2]//key-step", []string{"D"}},
	} {
		e := partOf(t, row.part)
		own := stretchesOf(t, e)
		for i, to := range append(row.via, own) {
			o := options(to)
			o.AsPrinted = true
			move(t, e, o)
			if i < len(row.via) {
				require.NotNil(t, e.FindElement(row.path), row.name)
				assert.Equal(t, row.says[i], e.FindElement(row.path).Text(), row.name)
			}
		}
		assertSamePage(t, partOf(t, row.part), e, row.name)
	}
}

// What someone corrects on the page holds: what the page remembered of it is forgotten. By
// hand: the clarinet's signature was corrected from three sharps to one, so that the score has
// one flat; of two staves' keys the lower one was, so that they no longer are one.
func TestCorrectedSince(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, part, correct, text string
		there, back               []transpose.Stretch
		path                      string
		want                      []string
	}{
		{"a signature with octaves", `{<attributes><key><fifths>1</fifths><key-octave number="1">5</key-octave></key></attributes>} C5`, "//key/fifths", "1", clarinetBFlat, sounding, "//key", []string{"<key><fifths>-1</fifths></key>"}},
		{"a signature with octaves, on its way elsewhere", `{<attributes><key><fifths>1</fifths><key-octave number="1">5</key-octave></key></attributes>} C5`, "//key/fifths", "1", clarinetBFlat, altoSax, "//key", []string{"<key><fifths>2</fifths></key>"}},
		{"one key of two staves", "key:0 tr2:-1,-2 C5 back:1 s2:D4", "//key[@number='2']/fifths", "-3", sounding, []transpose.Stretch{{Staff: 1, AsIs: true}, {Staff: 2, To: clarinetBFlat[0].To, AsIs: true}}, "//key",
			[]string{`<key number="1"><fifths>0</fifths><?deskpart parted?></key>`, `<key number="2"><fifths>-1</fifths></key>`}},
	} {
		e := partOf(t, row.part)
		o := options(row.there)
		o.AsPrinted = true
		move(t, e, o)
		e.FindElement(row.correct).SetText(row.text)
		o.Stretches = row.back
		move(t, e, o)
		var got []string
		for _, key := range e.FindElements(row.path) {
			got = append(got, text(key))
		}
		assert.Equal(t, row.want, got, row.name)
	}
	e := partOf(t, `{<attributes><key id="k"><fifths>0</fifths></key></attributes>} tr2:-1,-2 C5 back:1 s2:D4`)
	move(t, e, options(sounding))
	assert.Len(t, e.FindElements("//key"), 2)
	assert.Empty(t, e.FindElements("//key[@id]"), "an id is of one element (XML 1.0, validity constraint: ID)")
}

// What someone corrects in a chord symbol or a notehead on the page is moved as it stands then:
// the text, and a diagram for a chord that is another now, or has a diagram again, are forgotten.
func TestChordsCorrectedSince(t *testing.T) {
	t.Parallel()
	symbol := func(inner string) string { return "key:0 {<harmony>" + inner + "</harmony>} C4" }
	set := func(path, attr, to string) func(*etree.Element) {
		return func(part *etree.Element) {
			if e := part.FindElement(path); attr != "" {
				e.CreateAttr(attr, to)
			} else {
				e.SetText(to)
			}
		}
	}
	drawn := func(part *etree.Element) {
		musicxml.AddInOrder(part.FindElement("//harmony"), partOf(t, frame(3, 4, 5)).FindElement("//frame").Copy())
	}
	for _, row := range []struct {
		why, part string
		correct   func(*etree.Element)
		path      string // of what is read
		want      []string
	}{
		{"a double sharp as x", symbol(`<root><root-step>F</root-step><root-alter>2</root-alter></root><kind text="Fx7">dominant</kind>`), func(*etree.Element) {}, "//kind/@text", []string{"Fx7"}},
		{"and another chord since", symbol(`<root><root-step>F</root-step><root-alter>2</root-alter></root><kind text="Fx7">dominant</kind>`), set("//kind", "text", "Gx9"), "//kind/@text", []string{"F##9"}},
		{"a letter with its sign", symbol(`<root><root-step text="Bb">B</root-step><root-alter>-1</root-alter></root><kind>major</kind>`), set("//root-step", "text", "c"), "//root-step/@text", []string{"b♭"}},
		{"a letter in a notehead", "key:0 F##4+double-sharp[<notehead-text><display-text>Fx</display-text></notehead-text>]", set("//display-text", "", "G"), "//display-text", []string{"F"}},
		{"a diagram", frame(0, 1, 2), func(*etree.Element) {}, "//fret", []string{"0", "1", "2"}},
		{"a diagram that was drawn since", frame(0, 1, 2), drawn, "//fret", []string{"1", "2", "3"}},
		{"a diagram of another chord", frame(0, 1, 2), set("//root-step", "", "E"), "//fret", nil},
		{"a diagram beside what says no chord", frame(0, 1, 2), func(part *etree.Element) { part.FindElement("//harmony").CreateElement("offset").SetText("1") }, "//fret", []string{"0", "1", "2"}},
	} {
		e := partOf(t, row.part)
		o := options(clarinetBFlat)
		o.AsPrinted = true
		move(t, e, o)
		row.correct(e)
		o.Stretches = sounding
		move(t, e, o)
		path, attr, _ := strings.Cut(row.path, "/@")
		var got []string
		for _, found := range e.FindElements(path) {
			said := found.Text()
			if attr != "" {
				said = found.SelectAttrValue(attr, "")
			}
			got = append(got, said)
		}
		assert.Equal(t, row.want, got, row.why)
		assert.LessOrEqual(t, len(e.FindElements("//frame")), 1, row.why)
	}
}
