package marking_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// written makes a score of quarter notes, four to a bar, as any program might: the
// parts of the text that differ from program to program are given.
type written struct {
	attributes string // after divisions, which are 1
	notes      string // "F#4 G4 …"
	before     string // measures before the first
	header     string // before the part-list
	change     string // attributes of the second bar
}

func (w written) bytes() []byte {
	var b strings.Builder
	b.WriteString(`<?xml version="1.0"?><score-partwise version="3.1">` + w.header + `<part-list><score-part id="P1"><part-name>Trumpet in Bb</part-name></score-part></part-list><part id="P1">` + w.before)
	for i, word := range strings.Fields(w.notes) {
		if i%4 == 0 {
			if i > 0 {
				b.WriteString("</measure>")
			}
			fmt.Fprintf(&b, `<measure number="%d">`, i/4+1)
			if i == 4 && w.change != "" {
				b.WriteString("<attributes>" + w.change + "</attributes>")
			}
			if i == 0 {
				b.WriteString("<attributes><divisions>1</divisions>" + w.attributes + "</attributes>")
			}
		}
		p, _ := pitch.Parse(word)
		fmt.Fprintf(&b, "<note><pitch><step>%s</step><alter>%s</alter><octave>%d</octave></pitch><duration>1</duration><voice>3</voice><type>quarter</type></note>", p.Step, p.Alter, p.Octave)
	}
	b.WriteString("</measure></part></score-partwise>")
	return []byte(b.String())
}

const treble = "<clef><sign>G</sign><line>2</line></clef>"

func key(fifths int) string { return fmt.Sprintf("<key><fifths>%d</fifths></key>", fifths) }

func newKey(t *testing.T, answer, question written) *marking.Key {
	t.Helper()
	return keyOf(t, answer.bytes(), read(t, question.bytes()))
}

// keyOf is the key of an answer's one staff.
func keyOf(t *testing.T, answer []byte, question *musicxml.Score) *marking.Key {
	t.Helper()
	keys, err := marking.NewKeys(read(t, answer), question, instrumentstest.Load(t))
	require.NoError(t, err)
	return keys[0]
}

// The melody of the published wrong answer, as it sounds and as a B flat trumpet
// reads it.
const (
	concertTune = "E4 E4 F4 G4 G4 F4 E4 D4 C4 C4 D4 E4 E4 D4 D4"
	trumpetTune = "F#4 F#4 G4 A4 A4 G4 F#4 E4 D4 D4 E4 F#4 F#4 E4 E4"
)

func trumpetKey(t *testing.T) *marking.Key {
	t.Helper()
	return newKey(t, written{attributes: key(2) + treble, notes: trumpetTune}, written{attributes: key(0) + treble, notes: concertTune})
}

// TestALineOff: who reads a line too high from a note on, under the right signature, has made
// one mistake; the signature is none.
func TestALineOff(t *testing.T) {
	t.Parallel()
	answer := written{attributes: key(2) + treble, notes: "F#4 F#4 G4 A4 A4 A4 G4 F#4 E4 E4 F#4 G4 G4 F#4 F#4"}
	r, err := markOne(t, trumpetKey(t), read(t, answer.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, []any{marking.WrongInterval, 10, 5, 14}, []any{r.Mistakes[0].Kind, r.Mistakes[0].Notes, r.Right, r.Lenient})
	assert.Contains(t, r.Mistakes[0].Text, "2 letters up")
}

// TestPublishedWrongAnswer marks the wrong answer of trade/teaching.md, section 4
// (source hgup there): five notes are misspelled, and note 11 is wrong.
func TestPublishedWrongAnswer(t *testing.T) {
	t.Parallel()
	answer := written{attributes: key(2) + treble, notes: "Gb4 Gb4 G4 A4 A4 G4 Gb4 E4 D4 D4 A4 Gb4 Gb4 E4 E4"}
	r, err := markOne(t, trumpetKey(t), read(t, answer.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 2)
	assert.Equal(t, marking.Spelling, r.Mistakes[0].Kind)
	assert.Equal(t, 5, r.Mistakes[0].Notes)
	assert.Equal(t, marking.WrongInterval, r.Mistakes[1].Kind)
	assert.Equal(t, 1, r.Mistakes[1].Notes)
	assert.Equal(t, "3", r.Mistakes[1].Measure, "note 11 is the third of bar 3")
	assert.Equal(t, "3", r.Mistakes[1].Beat)
	assert.Equal(t, 9, r.Right)
	assert.Equal(t, 13, r.Lenient, "each mistake costs once")
}

// TestReadAsOtherProgramsWrite: the right answer is right however a program puts
// it down.
func TestReadAsOtherProgramsWrite(t *testing.T) {
	t.Parallel()
	transposing := "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
	tests := []struct {
		name string
		file []byte
		why  string
	}{
		{"as the key", written{attributes: key(2) + treble, notes: trumpetTune}.bytes(), "the plain case"},
		{"without clef", written{attributes: key(2), notes: trumpetTune}.bytes(), "a file may leave the clef out"},
		{"with transpose", written{attributes: key(2) + treble + transposing, notes: trumpetTune}.bytes(), "written for the instrument"},
		{"title measure", written{attributes: key(2) + treble, notes: trumpetTune,
			before: `<measure number="0"><attributes><divisions>2</divisions></attributes><note><rest measure="yes"/><duration>8</duration></note></measure>`}.bytes(),
			"an empty bar before the music"},
		{"concert score", written{attributes: key(0) + treble +
			"<for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part>", notes: concertTune,
			header: "<defaults><concert-score/></defaults>"}.bytes(), "a file that says that it shows concert pitch is read as its part"},
		{"other divisions", bytes.ReplaceAll(bytes.ReplaceAll(written{attributes: key(2) + treble, notes: trumpetTune}.bytes(),
			[]byte("<divisions>1<"), []byte("<divisions>480<")), []byte("<duration>1<"), []byte("<duration>480<")), "480 to a quarter note"},
		{"other bar numbers", bytes.ReplaceAll(written{attributes: key(2) + treble, notes: trumpetTune}.bytes(), []byte(`number="`), []byte(`number="X`)), "numbers are names"},
	}
	k := trumpetKey(t)
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r, err := markOne(t, k, read(t, test.file))
			require.NoError(t, err)
			assert.Empty(t, r.Mistakes, test.why)
			assert.Equal(t, 15, r.Right, test.why)
		})
	}
}

// TestTwoStaves: a file with the question and the answer is marked by the answer,
// on staves of one part or in parts of their own.
func TestTwoStaves(t *testing.T) {
	t.Parallel()
	k := trumpetKey(t)
	upper, lower := string(written{attributes: key(0), notes: concertTune}.bytes()), string(written{attributes: key(2), notes: trumpetTune}.bytes())
	_, part, _ := strings.Cut(lower, `<part id="P1">`)
	part, _, _ = strings.Cut(part, "</part>")
	both := strings.Replace(strings.Replace(upper, "</part-list>", `<score-part id="P2"><part-name>Answer</part-name></score-part></part-list>`, 1),
		"</score-partwise>", `<part id="P2">`+part+"</part></score-partwise>", 1)
	r, err := markOne(t, k, read(t, []byte(both)))
	require.NoError(t, err)
	assert.Empty(t, r.Mistakes)

	r, err = markOne(t, k, read(t, []byte(upper)))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1, "the question alone is an answer that was not moved")
	assert.Contains(t, r.Mistakes[0].Text, "copied without being moved")
}

// TestEnharmonicKey: the right answer in the enharmonic twin of its key is accepted
// with a remark (trade/teaching.md, section 4: if throughout with its signature,
// accept).
func TestEnharmonicKey(t *testing.T) {
	t.Parallel()
	k := newKey(t, written{attributes: key(6) + treble, notes: "F#4 G#4 A#4 B4"}, written{attributes: key(4) + treble, notes: "E4 F#4 G#4 A4"})
	r, err := markOne(t, k, read(t, written{attributes: key(-6) + treble, notes: "Gb4 Ab4 Bb4 Cb5"}.bytes()))
	require.NoError(t, err)
	assert.Empty(t, r.Mistakes)
	assert.Equal(t, 4, r.Right)
	require.Len(t, r.Remarks, 1)
	assert.Contains(t, r.Remarks[0], "enharmonic")
}

// TestOneMistakeCostsOnce: moving the wrong way spoils every note and costs one;
// a slip on top costs one more.
func TestOneMistakeCostsOnce(t *testing.T) {
	t.Parallel()
	k := trumpetKey(t)
	answer := written{attributes: key(-2) + treble, notes: "D4 D4 Eb4 F4 F4 Eb4 D4 C4 Bb3 Bb3 C4 D4 D4 C4 D4"}
	r, err := markOne(t, k, read(t, answer.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 2)
	assert.Equal(t, marking.WrongDirection, r.Mistakes[0].Kind)
	assert.Equal(t, 14, r.Mistakes[0].Notes)
	assert.Equal(t, "moved a major second down; a major second up was right (14 notes, bars 1–4)", r.Mistakes[0].Text)
	assert.Equal(t, "D4 in place of C4: a major second too high", r.Mistakes[1].Text, "against the shifted expectation")
	assert.Equal(t, 0, r.Right)
	assert.Equal(t, 13, r.Lenient)
	assert.Equal(t, marking.Marks{Of: 16, Strict: 0, Lenient: 14}, r.Marks)
}

// TestNamesTheInstrument: an interval that suits another instrument is told by it.
func TestNamesTheInstrument(t *testing.T) {
	t.Parallel()
	r, err := markOne(t, trumpetKey(t), read(t, written{attributes: key(1) + treble, notes: "B4 B4 C5 D5 D5 C5 B4 A4 G4 G4 A4 B4 B4 A4 A4"}.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, marking.WrongInterval, r.Mistakes[0].Kind)
	assert.Contains(t, r.Mistakes[0].Text, "(that is the move for horn in F)")
}

// TestWithoutQuestion: a key that does not tell its question still marks.
func TestWithoutQuestion(t *testing.T) {
	t.Parallel()
	k := keyOf(t, written{attributes: key(2) + treble, notes: trumpetTune}.bytes(), nil)
	r, err := markOne(t, k, read(t, written{attributes: key(2) + treble, notes: "F#3 F#3 G3 A3 A3 G3 F#3 E3 D3 D3 E3 F#3 F#3 E3 E3"}.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, marking.WrongOctave, r.Mistakes[0].Kind)
	assert.Equal(t, "an octave too low (15 notes, bars 1–4)", r.Mistakes[0].Text)
}

// TestHostileAnswers: whatever the file holds, marking ends with a result or an
// error.
func TestHostileAnswers(t *testing.T) {
	t.Parallel()
	k := trumpetKey(t)
	for _, file := range []string{
		`<score-partwise><part-list/><part id="P1"><measure number="1"/></part></score-partwise>`,
		`<score-partwise><part-list/><part id="P1"><measure number="1"><note><rest/><duration>4</duration></note></measure></part></score-partwise>`,
		`<score-partwise><part-list/><part id="P1"><measure number="1"><attributes><divisions>0</divisions></attributes></measure></part></score-partwise>`,
		`<score-partwise><part-list/><part id="P1"><measure number="1"><note><pitch><step>Q</step><octave>4</octave></pitch><duration>1</duration></note></measure></part></score-partwise>`,
		`<score-partwise><part-list/><part id="P1"><measure number="1"><note><pitch><step>C</step><octave>4</octave></pitch><duration>0</duration></note></measure></part></score-partwise>`,
	} {
		s, err := musicxml.Read([]byte(file), musicxml.ReadOptions{Name: "answer.musicxml"})
		if err != nil {
			continue
		}
		r, err := markOne(t, k, s)
		assert.True(t, err != nil || r.Right < 15, file)
	}
}

// TestClass counts a class.
func TestClass(t *testing.T) {
	t.Parallel()
	k := trumpetKey(t)
	var answers []marking.Result
	for _, notes := range []string{trumpetTune, concertTune, concertTune, "D4 D4 Eb4 F4 F4 Eb4 D4 C4 Bb3 Bb3 C4 D4 D4 C4 C4"} {
		r, err := markOne(t, k, read(t, written{attributes: key(2) + treble, notes: notes}.bytes()))
		require.NoError(t, err)
		answers = append(answers, r)
	}
	answers = append(answers, marking.Result{File: "=broken.xml", Error: "it is no score"})
	c := class.New(answers)
	assert.Equal(t, 5, c.Summary.Answers)
	assert.Equal(t, 4, c.Summary.Marked)
	require.NotEmpty(t, c.Summary.Commonest)
	assert.Equal(t, 2, c.Summary.Commonest[0].Answers)
	assert.Equal(t, []class.Rejected{{Input: "=broken.xml", Text: "it is no score"}}, c.Rejected)
	var out bytes.Buffer
	require.NoError(t, class.Report{Class: c, Texts: textstest.In(t, pitch.English)}.WriteCSV(&out))
	lines := strings.Split(strings.TrimSpace(out.String()), "\n")
	require.Len(t, lines, 7, "a header, five answers, the class")
	assert.True(t, strings.Contains(lines[5], ",'=broken.xml,"), "no formula for a spreadsheet")
}

// TestOtherBarring: rests around an upbeat, a last bar filled up, and barlines left
// out are no mistakes.
func TestOtherBarring(t *testing.T) {
	t.Parallel()
	note := func(step string, octave, duration int) string {
		return fmt.Sprintf("<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>%d</duration></note>", step, octave, duration)
	}
	file := func(measures ...string) []byte {
		text := `<score-partwise><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1">`
		for i, m := range measures {
			attributes := ""
			if i == 0 {
				attributes = "<attributes><divisions>2</divisions>" + treble + "</attributes>"
			}
			text += fmt.Sprintf(`<measure number="%d">%s%s</measure>`, i, attributes, m)
		}
		return []byte(text + "</part></score-partwise>")
	}
	rest := func(duration int) string { return fmt.Sprintf("<note><rest/><duration>%d</duration></note>", duration) }
	upbeat, full, last := note("G", 4, 2), note("C", 5, 2)+note("D", 5, 2)+note("E", 5, 2), note("C", 5, 4)
	k := keyOf(t, file(upbeat, full, last), nil)
	tests := []struct {
		name string
		file []byte
	}{
		{"as the key", file(upbeat, full, last)},
		{"the upbeat's bar filled up", file(rest(4)+upbeat, full, last)},
		{"the last bar filled up", file(upbeat, full, last+rest(2))},
		{"no barlines", file(upbeat + full + last)},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			r, err := markOne(t, k, read(t, test.file))
			require.NoError(t, err)
			assert.Empty(t, r.Mistakes)
			assert.Equal(t, 5, r.Right)
		})
	}
	// A bar whose time is not full is one fault of rhythm, in all totals.
	long := keyOf(t, file(upbeat, note("C", 5, 4)+rest(2), last+rest(2)), nil)
	r, err := markOne(t, long, read(t, file(upbeat, note("C", 5, 4), last+rest(2))))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, []any{marking.Rhythm, "1", "bar 1 is too short: a rest is missing"}, []any{r.Mistakes[0].Kind, r.Mistakes[0].Measure, r.Mistakes[0].Text})
	assert.Equal(t, []int{3, 3, 2, 2, 2}, []int{r.Notes, r.RightPitch, r.RightRhythm, r.Lenient, r.Marks.Strict})
	doubled := file(note("G", 4, 4), note("C", 5, 4)+note("D", 5, 4), note("E", 5, 4)+note("C", 5, 8))
	r, err = markOne(t, k, read(t, doubled))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, marking.Rhythm, r.Mistakes[0].Kind)
	assert.Contains(t, r.Mistakes[0].Text, "twice as long")
	assert.Equal(t, 5, r.RightPitch)
}
