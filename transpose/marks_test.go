package transpose_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/transpose"
)

// What stands beside the notes and is tied to written pitch. Each row gives a
// part, where it goes, and what is then found at a path, as XML.
func TestMarks(t *testing.T) {
	t.Parallel()
	notations := func(xml string) string { return "[<notations>" + xml + "</notations>]" }
	ornaments := func(xml string) string { return notations("<ornaments>" + xml + "</ornaments>") }
	rows := []struct {
		name, part string
		to         []transpose.Stretch
		path       string
		want       []string
		why        string
	}{
		{"trill to a sharp", "key:0 E4" + ornaments(`<trill-mark/><accidental-mark placement="above">sharp</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark placement="above">sharp</accidental-mark>`}, "E and F sharp become F sharp and G sharp"},
		{"trill to a natural becomes one to a sharp", "key:-3 A4+natural" + ornaments(`<trill-mark/><accidental-mark>natural</accidental-mark>`), clarinetEFlat,
			"//accidental-mark", []string{`<accidental-mark>sharp</accidental-mark>`}, "A and B natural in three flats become F sharp and G sharp without any"},
		{"turn, both signs", "key:0 D4" + ornaments(`<turn/><accidental-mark placement="above">flat</accidental-mark><accidental-mark placement="below">sharp</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark placement="above">natural</accidental-mark>`, `<accidental-mark placement="below">sharp</accidental-mark>`},
			"E flat above D becomes F natural above E, C sharp below it D sharp (gehrkens-mnt s.71)"},
		{"mordent, sign without a placement", "key:0 D4" + ornaments(`<mordent/><accidental-mark>sharp</accidental-mark>`), to(1, 1, 0),
			"//accidental-mark", []string{`<accidental-mark>sharp</accidental-mark>`}, "the lower note: C sharp below D becomes B sharp below C sharp"},
		{"inverted mordent, sign without a placement", "key:0 D4" + ornaments(`<inverted-mordent/><accidental-mark>flat</accidental-mark>`), to(1, 1, 0),
			"//accidental-mark", []string{`<accidental-mark>natural</accidental-mark>`}, "the upper note: E flat above D becomes D natural above C sharp"},
		{"editorial sign over the note", "key:0 F4+sharp" + notations(`<accidental-mark>sharp</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark>sharp</accidental-mark>`}, "it stands for the note itself: G sharp"},
		{"an editor's natural over the note", "key:0 B4" + notations(`<accidental-mark>natural</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark>sharp</accidental-mark>`}, "B natural becomes C sharp: the note's own sign"},
		{"arrow over the note", "key:0 B4" + notations(`<accidental-mark>natural-up</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark>sharp-up</accidental-mark>`}, "the arrow stays, on the sign of C sharp"},
		{"quarter tones over the note", "C4" + notations(`<accidental-mark>quarter-sharp</accidental-mark>`), clarinetBFlat,
			"//accidental-mark", []string{`<accidental-mark>quarter-sharp</accidental-mark>`}, "test suite 32aa"},

		{"letter in a notehead", "key:0 B4[<notehead-text><display-text>B</display-text></notehead-text>]", clarinetBFlat,
			"//notehead-text/*", []string{"<display-text>C♯</display-text>"}, "the letter moves with its note, its sign with it"},
		{"letter and sign in a notehead", "key:0 F#4+sharp[<notehead-text><display-text>F</display-text><accidental-text>sharp</accidental-text></notehead-text>]", clarinetBFlat,
			"//notehead-text/*", []string{"<display-text>G</display-text>", "<accidental-text>sharp</accidental-text>"}, "two elements"},
		{"sign in a notehead that becomes a natural", "key:-3 Ab4[<notehead-text><display-text>A</display-text><accidental-text>flat</accidental-text></notehead-text>]", altoSax,
			"//notehead-text/*", []string{"<display-text>F</display-text>", "<accidental-text>natural</accidental-text>"}, "A flat up a sixth is F"},
		{"syllable in a notehead", "key:0 C4[<notehead-text><display-text>do</display-text></notehead-text>]", clarinetBFlat,
			"//notehead-text/*", []string{"<display-text>do</display-text>"}, "no letter: a moving do moves with the key"},

		{"root and bass", "key:0 {<harmony><root><root-step>B</root-step><root-alter>-1</root-alter></root><kind>major</kind><bass><bass-step>D</bass-step></bass></harmony>} C4", clarinetBFlat,
			"//harmony/*", []string{"<root><root-step>C</root-step></root>", "<kind>major</kind>", "<bass><bass-step>E</bass-step></bass>"}, "cnx-tr: letter and written bass letter move, the rest stays"},
		{"alteration with a place stays", "key:0 {<harmony><root><root-step>B</root-step><root-alter location=\"right\">-1</root-alter></root><kind>major</kind></harmony>} C4", clarinetBFlat,
			"//root", []string{`<root><root-step>C</root-step><root-alter location="right">0</root-alter></root>`}, "its attributes would be lost"},
		{"printed root", "key:0 {<harmony><root><root-step text=\"Bb\">B</root-step><root-alter>-1</root-alter></root><kind>dominant</kind></harmony>} C4", clarinetBFlat,
			"//root-step", []string{`<root-step text="C">C</root-step>`}, "what is printed in place of the letter moves with it"},
		{"printed root, small and with a sign", "key:0 {<harmony><root><root-step text=\"a\">A</root-step></root><kind>minor</kind></harmony>} C4", clarinetA,
			"//root-step", []string{`<root-step text="c">C</root-step>`}, "a small letter stays small"},
		{"printed root that no one can read", "key:0 {<harmony><root><root-step text=\"La\">A</root-step></root><kind>minor</kind></harmony>} C4", clarinetA,
			"//root-step", []string{`<root-step>C</root-step>`}, "taken out and reported"},
		{"degrees and inversion", "key:0 {<harmony><root><root-step>G</root-step></root><kind text=\"7\">dominant</kind><inversion>1</inversion><degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree></harmony>} C4", clarinetBFlat,
			"//degree", []string{"<degree><degree-value>9</degree-value><degree-alter>-1</degree-alter><degree-type>add</degree-type></degree>"}, "relative to the chord"},
		{"numeral with its own key", "key:0 {<harmony><numeral><numeral-root>5</numeral-root><numeral-key><numeral-fifths>1</numeral-fifths><numeral-mode>major</numeral-mode></numeral-key></numeral><kind>dominant</kind></harmony>} C4", clarinetBFlat,
			"//numeral/*", []string{"<numeral-root>5</numeral-root>", "<numeral-key><numeral-fifths>3</numeral-fifths><numeral-mode>major</numeral-mode></numeral-key>"},
			"the degree stays, its key moves as a signature (w3c-xsd numeral)"},
		{"chord in a respelled stretch", "key:-6 {<harmony><root><root-step>G</root-step><root-alter>-1</root-alter></root><kind>major</kind></harmony>} Gb4", clarinetA,
			"//root", []string{"<root><root-step>A</root-step></root>"}, "G flat up a minor third is B double flat, taken as A as the notes are"},

		{"figures", "key:-1 {<figured-bass><figure><prefix>sharp</prefix><figure-number>6</figure-number></figure></figured-bass>} E3", clarinetBFlat,
			"//figure/*", []string{"<prefix>sharp</prefix>", "<figure-number>6</figure-number>"}, "C sharp over E becomes D sharp over F sharp"},
		{"a figure with its sign behind it", "key:-1 {<figured-bass><figure><figure-number>6</figure-number><suffix>sharp</suffix></figure></figured-bass>} E3", clarinetBFlat,
			"//figure/*", []string{"<figure-number>6</figure-number>", "<suffix>sharp</suffix>"}, "C sharp over E becomes D sharp over F sharp"},
		{"a natural behind the figure", "key:-1 {<figured-bass><figure><figure-number>5</figure-number><suffix>natural</suffix></figure></figured-bass>} E3", clarinetBFlat,
			"//figure/*", []string{"<figure-number>5</figure-number>", "<suffix>sharp</suffix>"}, "B natural over E becomes C sharp over F sharp"},
		{"a figure over an octave", "key:-3 {<figured-bass><figure><prefix>natural</prefix><figure-number>10</figure-number></figure></figured-bass>} G2", clarinetEFlat,
			"//figure/*", []string{"<prefix>sharp</prefix>", "<figure-number>10</figure-number>"}, "a tenth is a third: B natural over G becomes G sharp over E"},
		{"figure whose sign changes kind", "key:-1 {<figured-bass><figure><prefix>natural</prefix><figure-number>5</figure-number></figure></figured-bass>} E3", clarinetBFlat,
			"//figure/*", []string{"<prefix>sharp</prefix>", "<figure-number>5</figure-number>"}, "B natural over E becomes C sharp over F sharp"},
		{"a sign alone is the third", "key:-3 {<figured-bass><figure><prefix>natural</prefix></figure></figured-bass>} G2", clarinetEFlat,
			"//figure/*", []string{"<prefix>sharp</prefix>"}, "B natural over G becomes G sharp over E"},
		{"a figure that no sign stands for", "{<figured-bass><figure><prefix>flat-flat</prefix><figure-number>5</figure-number></figure></figured-bass>} B2", to(1, 2, 0),
			"//figure/*", []string{"<prefix>flat-flat</prefix>", "<figure-number>5</figure-number>"}, "F flat flat over B would be E three flats over A: reported"},
		{"figures over a rest before a change", "tr:-1,-2 {<figured-bass><figure><prefix>sharp</prefix></figure></figured-bass>} R tr:-2,-3 D4", sounding,
			"//figure/*", []string{"<prefix>sharp</prefix>"}, "F sharp over D becomes D sharp over B, as the bass note goes"},
		{"a slash stays", "key:0 {<figured-bass><figure><figure-number>6</figure-number><suffix>slash</suffix></figure></figured-bass>} E3", clarinetBFlat,
			"//figure/*", []string{"<figure-number>6</figure-number>", "<suffix>slash</suffix>"}, "it raises by a semitone in any key"},

		{"harp pedals", "key:-3 {" + harpPedals("D", "C", "Bb", "Eb", "F", "G", "Ab") + "} C4", clarinetBFlat, "//pedal-tuning",
			pedalTunings("D", "C", "Bb", "E", "F", "G", "A"), "E flat major becomes F major, in the pedals' own order"},
		{"a diagram that lacks a pedal", "key:-3 {" + harpPedals("D", "C", "Bb", "Eb", "F", "G") + "} C4", clarinetBFlat, "//pedal-tuning",
			pedalTunings("D", "C", "Bb", "Eb", "F", "G"), "nobody knows the seventh tone: it stays"},
		{"a pedal that says nothing", "key:-3 {" + strings.Replace(harpPedals("D", "C", "Bb", "Eb", "F", "G", "Ab"), "<pedal-step>F</pedal-step><pedal-alter>0<", "<pedal-step>F</pedal-step><pedal-alter>x<", 1) + "} C4", clarinetBFlat, "//pedal-tuning",
			slices.Replace(pedalTunings("D", "C", "Bb", "Eb", "F", "G", "Ab"), 4, 5, "<pedal-tuning><pedal-step>F</pedal-step><pedal-alter>x</pedal-alter></pedal-tuning>"), "what it is set to is not known: the diagram stays"},
		{"harp pedals that stay", "key:-3 {" + harpPedals("D", "C", "Bb", "Eb", "F", "G", "Ab") + "} C4", piccolo, "//pedal-tuning",
			pedalTunings("D", "C", "Bb", "Eb", "F", "G", "Ab"), "an octave changes no pedal"},

		{"frame on the neck", frame(2, 3, 5), to(-1, -2, 0), "//frame//fret", []string{"<fret>4</fret>", "<fret>5</fret>", "<fret>7</fret>"}, "two frets for two semitones"},
		{"frame with an open string", frame(0, 1, 2), to(-1, -2, 0), "//frame", nil, "an open string cannot be shifted: the diagram is left out"},
		{"open strings in another octave", frame(0, 1, 2), piccolo, "//frame//fret", []string{"<fret>0</fret>", "<fret>1</fret>", "<fret>2</fret>"}, "the chord is the same"},
		{"a chord symbol before the change of its moment", "key:0 C4 {<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>} tr:-1,-2 D4", sounding, "//root-step", []string{"<root-step>B</root-step>"}, "at one moment a change holds for what stands before it, too"},
		{"a plus before the figure and a sign behind it", "key:-1 {<figured-bass><figure><prefix>plus</prefix><figure-number>5</figure-number><suffix>natural</suffix></figure></figured-bass>} E3", clarinetBFlat, "//figure/*", []string{"<prefix>plus</prefix>", "<figure-number>5</figure-number>", "<suffix>sharp</suffix>"}, "B natural over E becomes C sharp over F sharp"},
		{"a sign alone in a notehead", "key:0 F#4+sharp[<notehead-text><accidental-text>sharp</accidental-text></notehead-text>]", clarinetA, "//notehead-text/*", []string{"<accidental-text>sharp</accidental-text>"}, "it names no note"},
		{"a natural letter and its sign in a notehead", "key:0 B4[<notehead-text><display-text>B</display-text><accidental-text>natural</accidental-text></notehead-text>]", clarinetBFlat, "//notehead-text/*", []string{"<display-text>C</display-text>", "<accidental-text>sharp</accidental-text>"}, "its sign has an element of its own"},
		{"a key tone by tone, all flats", "{<attributes><key><key-step>F</key-step><key-alter>1</key-alter></key></attributes>} C4", to(-1, -1, 0), "//key/*",
			[]string{"<key-step>D</key-step>", "<key-alter>-1</key-alter>", "<key-step>A</key-step>", "<key-alter>-1</key-alter>", "<key-step>E</key-step>", "<key-alter>-1</key-alter>", "<key-step>B</key-step>", "<key-alter>-1</key-alter>"}, "F sharp becomes G; C, D, G and A become flat"},
		{"a key tone by tone whose order the move loses", "{<attributes><key><key-step>B</key-step><key-alter>-1</key-alter><key-step>F</key-step><key-alter>1</key-alter></key></attributes>} C4", clarinetBFlat, "//key/*",
			[]string{"<key-step>G</key-step>", "<key-alter>1</key-alter>", "<key-step>F</key-step>", "<key-alter>1</key-alter>"}, "B flat becomes C, F sharp G sharp, E F sharp"},
		{"a key of two staves that move apart", "key:0 tr2:-1,-2 C5 back:1 s2:D4", sounding, "//key", []string{`<key number="1"><fifths>0</fifths></key>`, `<key number="2"><fifths>-2</fifths></key>`}, "one for each"},
		{"a signature that is said again", `{<attributes><key id="k"><cancel>2</cancel><fifths>0</fifths></key></attributes>} C4 | C4`, []transpose.Stretch{clarinetBFlat[0], {Measure: 1, To: clarinetA[0].To}}, "//key", []string{`<key id="k"><cancel>4</cancel><fifths>2</fifths></key>`, "<key><fifths>-3</fifths></key>"}, "no second id, and nothing to cancel"},
		{"frame in another octave", frame(2, 3, 5), piccolo, "//frame//fret", []string{"<fret>2</fret>", "<fret>3</fret>", "<fret>5</fret>"}, "the chord is the same"},

		{"doubling stays", "key:0 {<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><double/></transpose></attributes>} C4", clarinetA,
			"//transpose", []string{"<transpose><diatonic>-2</diatonic><chromatic>-3</chromatic><double/></transpose>"}, "it is an octave from what is written"},
		{"mode stays", "{<attributes><key><fifths>0</fifths><mode>dorian</mode></key></attributes>} D4", clarinetBFlat,
			"//key", []string{"<key><fifths>2</fifths><mode>dorian</mode></key>"}, "test suite 13b"},
		{"cancel is what it cancels", "key:2 F#4 {<attributes><key><cancel>2</cancel><fifths>-1</fifths></key></attributes>} Bb4", clarinetBFlat,
			"//key/*", []string{"<fifths>4</fifths>", "<cancel>4</cancel>", "<fifths>1</fifths>"}, "MusicXML 4.0, cancel"},
		{"cancel after a respelled key", "key:-6 Gb4 {<attributes><key><cancel>-6</cancel><fifths>0</fifths></key></attributes>} C4", clarinetA,
			"//key/*", []string{"<fifths>3</fifths>", "<cancel>3</cancel>", "<fifths>-3</fifths>"}, "it cancels what stands in this part"},
		{"key-octave goes", "{<attributes><key><fifths>1</fifths><key-octave number=\"1\">5</key-octave></key></attributes>} C4", clarinetBFlat,
			"//key", []string{"<key><fifths>3</fifths></key>"}, "the signs are others"},
		{"key-octave moves by octaves", "{<attributes><key><fifths>1</fifths><key-octave number=\"1\">5</key-octave></key></attributes>} C4", piccolo,
			"//key", []string{`<key><fifths>1</fifths><key-octave number="1">4</key-octave></key>`}, "the signs are the same, an octave lower"},
		{"a key tone by tone", "{<attributes><key><key-step>F</key-step><key-alter>1</key-alter><key-step>A</key-step><key-alter>-1</key-alter><key-step>B</key-step><key-alter>-1</key-alter></key></attributes>} C4", clarinetBFlat,
			"//key/*", []string{"<key-step>G</key-step>", "<key-alter>1</key-alter>", "<key-step>B</key-step>", "<key-alter>-1</key-alter>", "<key-step>F</key-step>", "<key-alter>1</key-alter>"},
			"test suite 13c: F sharp, A flat, B flat become G sharp, B flat and C; E becomes F sharp, which has to be said"},
		{"a key with microtones and their signs", "{<attributes><key><key-step>B</key-step><key-alter>-0.5</key-alter><key-accidental>quarter-flat</key-accidental></key></attributes>} C4", clarinetBFlat,
			"//key/*", []string{"<key-step>C</key-step>", "<key-alter>0.5</key-alter>", "<key-accidental>quarter-sharp</key-accidental>", "<key-step>F</key-step>", "<key-alter>1</key-alter>", "<key-accidental>sharp</key-accidental>"},
			"test suite 13d: B a quarter flat up a major second is C a quarter sharp"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			e := partOf(t, row.part)
			move(t, e, options(row.to))
			var got []string
			for _, found := range e.FindElements(row.path) {
				got = append(got, text(found))
			}
			assert.Equal(t, row.want, got, row.why)

			e = spaced(partOf(t, row.part))
			move(t, e, options(row.to))
			got = nil
			for _, found := range e.FindElements(row.path) {
				got = append(got, tight(text(found)))
			}
			assert.Equal(t, row.want, got, "lines and remarks between the elements change nothing")

			e = partOf(t, row.part)
			own := stretchesOf(t, e)
			o := options(row.to)
			o.AsPrinted = true
			move(t, e, o)
			move(t, e, transpose.Options{Stretches: own, AsPrinted: true})
			assertSamePage(t, partOf(t, row.part), e, "there and back")
		})
	}
}

// tight takes out what spaced puts in.
func tight(xml string) string {
	return regexp.MustCompile(`\n *|<!--remark-->`).ReplaceAllString(xml, "")
}

// harpPedals is a direction with a pedal diagram, pedalTunings its pedals.
func harpPedals(tones ...string) string {
	return "<direction><direction-type><harp-pedals>" + strings.Join(pedalTunings(tones...), "") + "</harp-pedals></direction-type></direction>"
}

func pedalTunings(tones ...string) []string {
	var tunings []string
	for _, tone := range tones {
		alter := map[bool]string{true: "-1", false: "0"}[strings.HasSuffix(tone, "b")]
		tunings = append(tunings, "<pedal-tuning><pedal-step>"+tone[:1]+"</pedal-step><pedal-alter>"+alter+"</pedal-alter></pedal-tuning>")
	}
	return tunings
}

// frame is a chord symbol with a fretboard diagram of three strings.
func frame(frets ...int) string {
	xml := "key:0 {<harmony><root><root-step>C</root-step></root><kind>major</kind><frame><frame-strings>6</frame-strings><frame-frets>9</frame-frets>"
	for i, fret := range frets {
		xml += "<frame-note><string>" + string(rune('1'+i)) + "</string><fret>" + string(rune('0'+fret)) + "</fret></frame-note>"
	}
	return xml + "</frame></harmony>} C4"
}

func TestTextThatCannotBeMovedIsReported(t *testing.T) {
	t.Parallel()
	rows := []struct{ name, part, code string }{
		{"chord text that names a note", "{<harmony><root><root-step>C</root-step></root><kind text=\"m7/H\">minor-seventh</kind></harmony>} C4", "chord-text"},
		{"printed root", "{<harmony><root><root-step text=\"La\">A</root-step></root><kind>minor</kind></harmony>} C4", "chord-text"},
		{"frame", "{<harmony><root><root-step>C</root-step></root><kind>major</kind><frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets><frame-note><string>1</string><fret>0</fret></frame-note></frame></harmony>} C4", "fret-frame"},
		{"figure without a bass", "C4 {<figured-bass><figure><prefix>sharp</prefix></figure></figured-bass>}", "figured-bass"},
		{"octaves of a key", "{<attributes><key><fifths>1</fifths><key-octave number=\"1\">5</key-octave></key></attributes>} C4", "key-octave"},
		{"sign of another system", "G4 B4+sori", "no-sign"},
		{"letter that is not its note", "C4[<notehead-text><display-text>A</display-text></notehead-text>]", "notehead-text"},
		{"steps that cannot be meant", "tr:-1,-14 C5", "transpose-steps"},
	}
	for _, row := range rows {
		_, result := moved(t, row.part, options(clarinetBFlat))
		if assert.NotEmpty(t, result.Warnings, row.name) {
			assert.Equal(t, row.code+" 1", string(result.Warnings[0].Code)+" "+result.Warnings[0].Measure, "%s: %s", row.name, result.Warnings[0].Text)
		}
	}
}

// A player who no longer sees the signature sees its tones at the ornaments.
func TestOrnamentsWithoutSignature(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name, part string
		want       []string
		why        string
	}{
		{"trill", "key:1 E4[<notations><ornaments><trill-mark/></ornaments></notations>]",
			[]string{`<accidental-mark placement="above">sharp</accidental-mark>`}, "E and F sharp become B and C sharp, for a horn in F"},
		{"trill that needs no sign", "key:-1 E4[<notations><ornaments><trill-mark/></ornaments></notations>]", nil, "B and C"},
		{"trill with its sign", "key:1 E4[<notations><ornaments><trill-mark/><accidental-mark>natural</accidental-mark></ornaments></notations>]",
			[]string{`<accidental-mark>natural</accidental-mark>`}, "F natural becomes C natural: the mark is there"},
		{"after a sign in the bar", "key:1 F4+natural E4[<notations><ornaments><trill-mark/></ornaments></notations>]", nil, "F natural holds for the trill too"},
		{"turn", "key:2 D4[<notations><ornaments><turn/></ornaments></notations>]",
			[]string{`<accidental-mark placement="below">sharp</accidental-mark>`}, "E, D, C sharp become B, A, G sharp"},
		{"mordent", "key:2 D4[<notations><ornaments><mordent/></ornaments></notations>]",
			[]string{`<accidental-mark placement="below">sharp</accidental-mark>`}, "C sharp below D becomes G sharp below A"},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			stretches := to(-4, -7, 0)
			stretches[0].WithoutSignature = true
			e := partOf(t, row.part)
			move(t, e, options(stretches))
			var got []string
			for _, found := range e.FindElements("//accidental-mark") {
				got = append(got, text(found))
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

// E flat major up a fifth is B flat major; the pedals stand in the instrument's order, whatever
// it was (MusicXML 4.0, harp-pedals).
func TestHarpPedalsInTheOrderOfTheScale(t *testing.T) {
	t.Parallel()
	e := partOf(t, "key:-3 {"+harpPedals("C", "D", "Eb", "F", "G", "Ab", "Bb")+"} C4")
	move(t, e, options(to(-4, -7, 0)))
	var got []string
	for _, pedal := range e.FindElements("//pedal-tuning") {
		got = append(got, text(pedal))
	}
	assert.Equal(t, pedalTunings("D", "C", "Bb", "Eb", "F", "G", "A"), got)
}

func TestDropDoubling(t *testing.T) {
	t.Parallel()
	e := partOf(t, "key:0 {<attributes><transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change><double/></transpose></attributes>} C4")
	stretches := to(0, 0, -1)
	stretches[0].DropDoubling = true
	move(t, e, options(stretches))
	assert.Equal(t, "key:0 tr:0,0,-1 C4", inShorthand(t, e))
	assert.Empty(t, e.FindElements("//double"), "the player no longer shares the staff")
}
