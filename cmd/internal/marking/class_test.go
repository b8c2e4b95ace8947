package marking_test

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// sheetOf makes a sheet with its keys.
func sheetOf(t *testing.T, s exercise.Settings) (exercise.Sheet, marking.Marker) {
	t.Helper()
	c := instrumentstest.Load(t)
	s.Versions = 1
	sheets, err := exercise.Make(c, s)
	require.NoError(t, err)
	m := marking.Marker{Texts: textstest.In(t, pitch.English)}
	for _, e := range sheets[0].Exercises {
		data, err := e.Key(sheets[0])
		require.NoError(t, err)
		k := keyOf(t, data, nil)
		m.Keys = append(m.Keys, k)
	}
	return sheets[0], m
}

// inOneFile writes several answers into one document: as parts, or one after another
// in one part, as programs number and bar them.
func inOneFile(t *testing.T, s exercise.Sheet, asParts bool, numbers ...int) *musicxml.Score {
	t.Helper()
	var list, bodies strings.Builder
	number := 1
	for n, exerciseNumber := range numbers {
		e := s.Exercises[exerciseNumber-1]
		if asParts || n == 0 {
			fmt.Fprintf(&list, `<score-part id="P%d"><part-name>Staff %d</part-name></score-part>`, n+1, n+1)
			if n > 0 {
				bodies.WriteString("</part>")
				number = 1
			}
			fmt.Fprintf(&bodies, `<part id="P%d">`, n+1)
		}
		for _, m := range e.Answer.SelectElements("measure") {
			m := m.Copy()
			m.CreateAttr("number", fmt.Sprint(number))
			number++
			doc := etree.NewDocument()
			doc.SetRoot(m)
			text, err := doc.WriteToString()
			require.NoError(t, err)
			bodies.WriteString(text)
		}
	}
	text := `<score-partwise version="4.0"><part-list>` + list.String() + "</part-list>" + bodies.String() + "</part></score-partwise>"
	score, err := musicxml.Read([]byte(text), musicxml.ReadOptions{Name: "class/Anna 2.musicxml"})
	require.NoError(t, err)
	return score
}

// TestTenExercisesInOneFile: ten answers in one file, as parts or one after another,
// are ten results, each of its exercise, whatever the file is called.
func TestTenExercisesInOneFile(t *testing.T) {
	t.Parallel()
	for _, level := range musicxmltest.Sweep([]int{1, 4}, []int{1, 2, 3, 4, 5}) {
		s, m := sheetOf(t, exercise.Settings{Instrument: nil, From: explain.Sounding, Count: 10, Seed: 8, Level: level})
		all := []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}
		for _, row := range []struct {
			asParts bool
			order   []int
			why     string
		}{
			{true, all, "as parts"},
			{false, all, "one after another"},
			{true, []int{10, 3, 1, 2}, "some, as parts in another order"},
			{false, []int{2, 3, 5, 8}, "some left out"},
			{false, []int{4, 9, 2, 1}, "one after another in another order"},
		} {
			results, err := m.Mark(inOneFile(t, s, row.asParts, row.order...))
			require.NoError(t, err)
			require.Len(t, results, len(row.order), "level %d, %s", level, row.why)
			for i, r := range results {
				assert.Equal(t, row.order[i], r.Exercise, "level %d, %s", level, row.why)
				assert.Empty(t, r.Mistakes, "level %d, %s, exercise %d", level, row.why, r.Exercise)
				assert.NotEmpty(t, r.Why)
			}
		}
	}
}

// TestQuestionBeforeAnswer: who writes the answer behind the question on the same staff has
// answered; a question without an answer was only copied.
func TestQuestionBeforeAnswer(t *testing.T) {
	t.Parallel()
	s, m := sheetOf(t, exercise.Settings{From: explain.Sounding, Count: 4, Seed: 8, Level: 3})
	part := func(answered ...int) *musicxml.Score {
		text := `<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>A</part-name></score-part></part-list><part id="P1">`
		add := func(part *etree.Element) {
			for _, bar := range part.SelectElements("measure") {
				doc := etree.NewDocument()
				doc.SetRoot(bar.Copy())
				bytes, err := doc.WriteToString()
				require.NoError(t, err)
				text += bytes
			}
		}
		for _, number := range []int{1, 2, 3} {
			add(s.Exercises[number-1].Given)
			if slices.Contains(answered, number) {
				add(s.Exercises[number-1].Answer)
			}
		}
		return read(t, []byte(text+"</part></score-partwise>"))
	}
	for _, answered := range [][]int{{1, 2, 3}, {1, 3}, {2}} {
		results, err := m.Mark(part(answered...))
		require.NoError(t, err)
		require.Len(t, results, 3, answered)
		for i, r := range results {
			assert.Equal(t, i+1, r.Exercise)
			want := 0
			if slices.Contains(answered, i+1) {
				want = r.Notes
			}
			assert.Equal(t, want, r.Right, "exercise %d of %v", i+1, answered)
		}
	}
}

// TestMistakeInOneOfTen: a bar left out of one exercise spoils no other.
func TestMistakeInOneOfTen(t *testing.T) {
	t.Parallel()
	s, m := sheetOf(t, exercise.Settings{From: explain.Sounding, Count: 10, Seed: 8, Level: 3})
	measures := s.Exercises[4].Answer.SelectElements("measure")
	gone := leaveOut(measures, 2, 3)
	results, err := m.Mark(inOneFile(t, s, false, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10))
	require.NoError(t, err)
	require.Len(t, results, 10)
	for _, r := range results {
		if r.Exercise != 5 {
			assert.Empty(t, r.Mistakes, "exercise %d", r.Exercise)
			continue
		}
		require.Len(t, r.Mistakes, 1)
		assert.Equal(t, marking.Missing, r.Mistakes[0].Kind)
		assert.Equal(t, r.Notes-gone, r.Right)
	}
}

// TestContentDecides: what the notes are decides, not what the file is called; the
// name decides between equals.
func TestContentDecides(t *testing.T) {
	t.Parallel()
	s, m := sheetOf(t, exercise.Settings{From: explain.Sounding, Count: 8, Seed: 4, Level: 2})
	for _, row := range []struct {
		name      string
		holds     int
		want      int
		why, says string
	}{
		{"Anna 3 Klasse 8.musicxml", 3, 3, "the last number is the class", "by its notes"},
		{"Anna 3 Klasse 8.musicxml", 5, 5, "neither number is what it holds", "by its notes"},
		{"exercise-01.musicxml", 6, 6, "the name that another exercise came with", "by its notes"},
	} {
		data, err := explain.Sheet{Title: "A", Staves: []explain.SheetStaff{{Name: "Part", Part: s.Exercises[row.holds-1].Answer}}}.Bytes()
		require.NoError(t, err)
		score, err := musicxml.Read(data, musicxml.ReadOptions{Name: row.name})
		require.NoError(t, err)
		results, err := m.Mark(score)
		require.NoError(t, err)
		require.Len(t, results, 1)
		assert.Equal(t, row.want, results[0].Exercise, row.why)
		assert.Equal(t, row.says, results[0].Why, row.why)
		assert.Empty(t, results[0].Mistakes, row.why)
	}
	// Two exercises with the same notes: the name says which.
	twice := marking.Marker{Texts: m.Texts}
	for _, number := range []int{1, 2} {
		e := *s.Exercises[0]
		e.Number = number
		data, err := e.Key(s)
		require.NoError(t, err)
		k := keyOf(t, data, nil)
		twice.Keys = append(twice.Keys, k)
	}
	data, err := explain.Sheet{Title: "A", Staves: []explain.SheetStaff{{Name: "Part", Part: s.Exercises[0].Answer}}}.Bytes()
	require.NoError(t, err)
	for name, want := range map[string]int{"Aufgabe 2 Ben.mxl": 2, "Ben.mxl": 1, "Übung_1.xml": 1} {
		score, err := musicxml.Read(data, musicxml.ReadOptions{Name: name})
		require.NoError(t, err)
		results, err := twice.Mark(score)
		require.NoError(t, err)
		assert.Equal(t, want, results[0].Exercise, name)
	}
}

// TestCopyEarnsNothing: who hands in the question gets no mark, in no total; who
// forgot one accidental gets all but one.
func TestCopyEarnsNothing(t *testing.T) {
	t.Parallel()
	k := trumpetKey(t)
	r, err := markOne(t, k, read(t, written{attributes: key(0) + treble, notes: concertTune}.bytes()))
	require.NoError(t, err)
	assert.Zero(t, r.Right)
	assert.Zero(t, r.Lenient)
	assert.Equal(t, marking.Marks{Of: 16, Strict: 0, Lenient: 0}, r.Marks)

	// The new signature over notes that were not moved is one thing done.
	r, err = markOne(t, k, read(t, written{attributes: key(2) + treble, notes: "E4 E4 F#4 G4 G4 F#4 E4 D4 C#4 C#4 D4 E4 E4 D4 D4"}.bytes()))
	require.NoError(t, err)
	assert.Zero(t, r.Right)
	assert.Zero(t, r.Lenient)
	assert.Equal(t, marking.Marks{Of: 16, Strict: 1, Lenient: 1}, r.Marks)

	r, err = markOne(t, k, read(t, written{attributes: key(2) + treble, notes: strings.Replace(trumpetTune, "A4", "Ab4", 1)}.bytes()))
	require.NoError(t, err)
	assert.Equal(t, 14, r.Lenient)

	// Copied from the third bar on: what went before counts, what was copied does not.
	r, err = markOne(t, k, read(t, written{attributes: key(2) + treble, notes: "F#4 F#4 G4 A4 A4 G4 F#4 E4 C4 C4 D4 E4 E4 D4 D4"}.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Contains(t, r.Mistakes[0].Text, "from bar 3, beat 1 on: the notes were copied")
	assert.Equal(t, 8, r.Right)
	assert.Equal(t, 8, r.Lenient)
}

// TestSaysWhatWasDone: a fourth up for a fifth up is said so (it is the wrong
// direction and an octave).
func TestSaysWhatWasDone(t *testing.T) {
	t.Parallel()
	k := newKey(t, written{attributes: key(1) + treble, notes: "G4 B4 D5 G5"}, written{attributes: key(0) + treble, notes: "C4 E4 G4 C5"})
	for notes, says := range map[string]string{
		"F4 A4 C5 F5":    "moved a perfect fourth up (the letters are those of a perfect fifth down); a perfect fifth up was right (4 notes, bar 1)",
		"F3 A3 C4 F4":    "moved a perfect fifth down; a perfect fifth up was right (4 notes, bar 1)",
		"D4 F#4 A4 D5":   "moved a major second up; a perfect fifth up was right (that is the move for clarinet in B♭) (4 notes, bar 1)",
		"Eb4 G4 Bb4 Eb5": "moved a minor third up; a perfect fifth up was right (that is the move for clarinet in A) (4 notes, bar 1)",
		"G3 B3 D4 G4":    "an octave too low (4 notes, bar 1)",
		"G4 B4 D5 C5":    "C5 in place of G5: a perfect fifth too low",
		"G4 B4 D5 G4":    "G4 in place of G5: an octave too low",
		"G4 B4 D5 F##5":  "F double sharp in place of G: the right sound, but written on another letter",
		"G4 B4 Db5 G5":   "D flat in place of D natural: an accidental too many",
		"G4 B4 D5 G5 A5": "1 bar too many after bar 1",
		"G4 B4 D5":       "1 note is missing: G5",
	} {
		fifths := 1
		switch {
		case strings.HasPrefix(notes, "F"):
			fifths = -1
		case strings.HasPrefix(notes, "D"):
			fifths = 2
		case strings.HasPrefix(notes, "E"):
			fifths = -3
		}
		r, err := markOne(t, k, read(t, written{attributes: key(fifths) + treble, notes: notes}.bytes()))
		require.NoError(t, err)
		require.Len(t, r.Mistakes, 1, notes)
		assert.Equal(t, says, r.Mistakes[0].Text)
	}
}

// TestTooManyCosts: notes beside the right ones, a chord to choose from or a bar more, are
// no answer that earns everything.
func TestTooManyCosts(t *testing.T) {
	t.Parallel()
	k := newKey(t, written{attributes: key(1) + treble, notes: "G4 B4 D5 G5"}, written{attributes: key(0) + treble, notes: "C4 E4 G4 C5"})
	second := `<note><chord/><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><voice>3</voice><type>quarter</type></note>`
	for _, row := range []struct {
		notes, says              string
		chords                   int
		right, lenient, strictly int
	}{
		{"G4 B4 D5 G5", "more notes at once than were asked for: 1 too many: C4", 1, 3, 3, 4},
		{"G4 B4 D5 G5", "more notes at once than were asked for: 4 too many, from C4 on (4 notes, bar 1)", 4, 0, 0, 1},
		{"G4 B4 D5 G5 A5", "1 bar too many after bar 1", 0, 4, 3, 4},
	} {
		file := bytes.Replace(written{attributes: key(1) + treble, notes: row.notes}.bytes(), []byte("</note>"), []byte("</note>"+second), row.chords)
		r, err := markOne(t, k, read(t, file))
		require.NoError(t, err)
		require.Len(t, r.Mistakes, 1, row)
		assert.Equal(t, row.says, r.Mistakes[0].Text)
		assert.Equal(t, row.right, r.Right, row)
		assert.Equal(t, row.lenient, r.Lenient, row)
		assert.Equal(t, row.strictly, r.Marks.Strict, row)
	}
}

// TestTwoParts: an exercise in two parts may be handed in on a staff for each; a part that is
// left out is said once.
func TestTwoParts(t *testing.T) {
	t.Parallel()
	chord := func(n written) []byte {
		notes := bytes.SplitAfter(n.bytes(), []byte("<note>"))
		for i := 2; i < len(notes); i += 2 {
			notes[i] = append([]byte("<chord/>"), notes[i]...)
		}
		return bytes.Join(notes, nil)
	}
	upper, lower := written{attributes: key(1) + treble, notes: "B4 D5 E5 G5"}, written{attributes: key(1) + treble, notes: "G4 B4 C5 D5"}
	k := keyOf(t, chord(written{attributes: key(1) + treble, notes: "B4 G4 D5 B4 E5 C5 G5 D5"}), nil)
	_, second, _ := strings.Cut(string(lower.bytes()), `<part id="P1">`)
	two := strings.NewReplacer("</part-list>", `<score-part id="P2"><part-name>2</part-name></score-part></part-list>`,
		"</score-partwise>", `<part id="P2">`+second).Replace(string(upper.bytes()))
	r, err := markOne(t, k, read(t, []byte(two)))
	require.NoError(t, err)
	assert.Empty(t, r.Mistakes)
	drawn := r.Drawn()[0].Answer
	require.Len(t, drawn, 2, "both staves are shown")
	assert.Equal(t, "G", drawn[1].FindElement("//pitch/step").Text())
	r, err = markOne(t, k, read(t, upper.bytes()))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, "4 notes are missing, from G4 on (4 notes, bars 1 and 2)", r.Mistakes[0].Text)
	assert.Equal(t, 4, r.Lenient)
}

// TestAnotherSheet: an answer to another sheet is said to be one; of one that fits nothing
// it is not said that it fits several exercises. An unmoved copy in its own clef is not
// accepted for its clef.
func TestAnotherSheet(t *testing.T) {
	t.Parallel()
	_, m := sheetOf(t, exercise.Settings{From: explain.Sounding, Count: 3, Seed: 2, Level: 2})
	answer := written{attributes: key(5) + treble, notes: strings.Repeat("C#6 A3 ", 14)}
	answer.header = `<identification><miscellaneous><miscellaneous-field name="deskpart-sheet">L4-tuba-W-1-A</miscellaneous-field></miscellaneous></identification>`
	r, err := m.Mark(read(t, answer.bytes()))
	require.NoError(t, err)
	assert.Equal(t, "it fits no exercise well; the file is of another sheet: L4-tuba-W-1-A", r[0].Why)
	answer.header = ""
	score := read(t, answer.bytes())
	score.Name = "Ida 2.musicxml"
	r, err = m.Mark(score)
	require.NoError(t, err)
	assert.Equal(t, "it fits no exercise well; its name says 2", r[0].Why)

	r[0], err = markOne(t, trumpetKey(t), read(t, written{attributes: key(0) + "<clef><sign>F</sign><line>4</line></clef>", notes: concertTune}.bytes()))
	require.NoError(t, err)
	assert.Empty(t, r[0].Remarks)
}

// changing is a score whose second bar has another signature.
func changing(first, second int, notes string) written {
	return written{attributes: key(first) + treble, notes: notes, change: key(second)}
}

// TestSignatureChange: a change of signature inside a passage is compared.
func TestSignatureChange(t *testing.T) {
	t.Parallel()
	const sounds, reads = "C4 E4 G4 C5 Eb4 Ab4 Bb4 Eb5", "D4 F#4 A4 D5 F4 Bb4 C5 F5"
	k := newKey(t, changing(2, -1, reads), changing(0, -3, sounds))
	for _, row := range []struct {
		name     string
		answer   written
		kind     marking.Kind
		measure  string
		says     string
		right    int
		strict   int
		mistakes int
	}{
		{"right", changing(2, -1, reads), "", "", "", 8, 10, 0},
		{"no change", written{attributes: key(2) + treble, notes: reads}, marking.KeySignature, "2", "the change of the key signature is missing: 1 flat", 8, 9, 1},
		{"change not moved", changing(2, -3, "D4 F#4 A4 D5 F4 Bb4 C5 F5"), marking.KeySignature, "2", "the key signature was not moved: 3 flats in place of 1 flat", 8, 9, 1},
		{"both not moved", changing(0, -3, reads), marking.KeySignature, "1", "the key signature is missing: 2 sharps", 8, 8, 2},
		{"the change spoils notes", changing(2, -3, "D4 F#4 A4 D5 F4 Bb4 C5 F5"), marking.KeySignature, "2", "", 8, 9, 1},
		{"read under the old signature", written{attributes: key(2) + treble, notes: "D4 F#4 A4 D5 F#4 B4 C#5 F#5"}, marking.KeySignature, "2", "the change of the key signature is missing: 1 flat (4 notes, bar 2)", 4, 5, 1},
	} {
		r, err := markOne(t, k, read(t, row.answer.bytes()))
		require.NoError(t, err)
		require.Len(t, r.Mistakes, row.mistakes, row.name)
		assert.Equal(t, row.right, r.Right, row.name)
		assert.Equal(t, row.strict, r.Marks.Strict, row.name)
		assert.Equal(t, 10, r.Marks.Of, row.name)
		if row.mistakes == 0 {
			continue
		}
		assert.Equal(t, row.kind, r.Mistakes[0].Kind, row.name)
		assert.Equal(t, row.measure, r.Mistakes[0].Measure, row.name)
		if row.says != "" {
			assert.Equal(t, row.says, r.Mistakes[0].Text, row.name)
		}
	}
}

// TestPrintedIsNotMarked: the clef on the answer staff, and a signature that stays,
// bring no marks and cost none; a clef that was to be written does.
func TestPrintedIsNotMarked(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, row := range []struct {
		instrument    string
		withoutClefs  bool
		beyondNotes   int
		otherClefSays int // mistakes for the right notes in another clef
	}{
		{"double-bass", false, 0, 0},
		{"double-bass", true, 1, 1},
		{"horn-f", false, 1, 0},
		{"horn-f", true, 2, 1},
	} {
		s, m := sheetOf(t, exercise.Settings{Instrument: c.ByID(row.instrument), From: explain.Sounding, Count: 1, Seed: 2, Level: 2, WithoutClefs: row.withoutClefs})
		e := s.Exercises[0]
		p := newPage(e)
		r, err := markOne(t, m.Keys[0], p.score(t))
		require.NoError(t, err)
		assert.Equal(t, r.Notes+row.beyondNotes, r.Marks.Of, row)
		assert.Equal(t, r.Marks.Of, r.Marks.Strict, row)
		p.clef = explain.Tenor
		r, err = markOne(t, m.Keys[0], p.score(t))
		require.NoError(t, err)
		assert.Len(t, r.Mistakes, row.otherClefSays, row)
		if row.otherClefSays == 0 {
			require.Len(t, r.Remarks, 1)
			assert.Contains(t, r.Remarks[0], "written in the tenor clef")
		}
	}
}

// TestUpbeat: an upbeat is called so, and its beats are those that it stands on.
func TestUpbeat(t *testing.T) {
	t.Parallel()
	const metre = "<time><beats>2</beats><beat-type>4</beat-type></time>"
	file := func(first string) []byte {
		note := func(step string, duration int) string {
			return fmt.Sprintf("<note><pitch><step>%s</step><octave>4</octave></pitch><duration>%d</duration></note>", step, duration)
		}
		return []byte(`<score-partwise><part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1">` +
			`<measure number="0" implicit="yes"><attributes><divisions>2</divisions>` + metre + treble + "</attributes>" + note(first, 1) + "</measure>" +
			`<measure number="1">` + note("C", 2) + note("D", 2) + `</measure><measure number="2">` + note("E", 4) + "</measure></part></score-partwise>")
	}
	k := keyOf(t, file("G"), nil)
	r, err := markOne(t, k, read(t, file("A")))
	require.NoError(t, err)
	require.Len(t, r.Mistakes, 1)
	assert.Equal(t, "the upbeat, beat 2 and a half", r.Mistakes[0].Place)
}

// TestPupils reads names off paths as classes hand them in.
func TestPupils(t *testing.T) {
	t.Parallel()
	for path, want := range map[string]string{
		"Anna 3 Klasse 8.musicxml":                            "Anna",
		"anna-2.mxl":                                          "anna",
		"Ben Müller_Aufgabe 3.musicxml":                       "Ben Müller",
		"exercise-03.musicxml":                                "",
		"Cleo/exercise-03.musicxml":                           "Cleo",
		"7b/Dora/answer_07 (2).xml":                           "Dora",
		"Emil Beck_48213_assignsubmission_file_/antwort2.mxl": "Emil Beck",
		"class 7b Finn nr 4.mxl":                              "Finn",
		"Exercice3_Gaëlle.xml":                                "Gaëlle",
		"12.mxl":                                              "",
		"hana v2 final.mxl":                                   "hana",
		"Ida3.mxl":                                            "Ida",
		"S07.mxl":                                             "S07",
		"S07 3.mxl":                                           "S07",
		"Schüler 12 Aufgabe 3.mxl":                            "Schüler 12",
		"pupil7_exercise2.mxl":                                "pupil7",
		"Kim2 Nr 3.mxl":                                       "Kim2",
		"Jo 8b.mxl":                                           "Jo",
		"Kim Aufgaben 1 bis 6.mxl":                            "Kim",
		"Lia tutti.mxl":                                       "Lia",
	} {
		assert.Equal(t, want, marking.PupilOf(path), path)
	}
}

// TestUnmarkedFiles: what a file is that cannot be marked.
func TestUnmarkedFiles(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, begin string
		code        notice.Code
	}{
		{"a.pdf", "%PDF-1.7", notice.IsPDF}, {"a.musicxml", "%PDF-1.7", notice.IsPDF}, {"a.mxl", "", notice.EmptyFile},
		{"a.jpg", "\xff\xd8\xff\xe0", notice.IsPicture}, {"a.mid", "MThd", notice.IsMIDI}, {"a.wav", "RIFF", notice.IsRecording},
		{"a.zip", "PK\x03\x04", notice.IsArchive}, {"a.docx", "PK\x03\x04", notice.IsDocument}, {"a.xyz", "\x01\x02", notice.NotMusicXML},
		{".DS_Store", "\x00", notice.SystemFile}, {"a.txt", "hello", notice.IsDocument},
	} {
		assert.Equal(t, row.code, marking.KindOf(row.name, []byte(row.begin)), row.name)
		r := marking.Unmarked(textstest.In(t, pitch.English), row.name, row.code, nil)
		assert.NotContains(t, r.Error, "[", "has its words")
	}
	cut := &musicxml.Error{File: "a.xml", Line: 3, Code: notice.WrongRoot, Err: errors.New("this is not a score but a web page")}
	assert.Equal(t, "kann nicht gelesen werden: Zeile 3: dies ist keine Partitur, sondern eine Webseite; sie als MusicXML exportieren",
		marking.Unmarked(textstest.In(t, pitch.German), "a.xml", notice.WrongRoot, cut).Error)
}
