package marking

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Key is what answers are marked by: the right answer, and the question as far
// as it is known.
type Key struct {
	// Name is the file's path; Number is the exercise's, 0 where none is said;
	// Sheet is the code of the sheet, "" where none is said.
	Name   string
	Number int
	Sheet  string

	// Instrument is nil where the key does not name it.
	Instrument *instruments.Instrument
	From       explain.Side

	expected *music
	given    *music // nil where the question is not known
	moved    pitch.Interval
	// unsigned is an answer that is to be written without key signature.
	unsigned bool
	// fields says that the key knows its sheet; printedClef and printedKey what stood
	// on the answer staff already.
	fields                  bool
	printedClef, printedKey bool
	catalogue               *instruments.Catalogue
}

// NewKey makes a key of an answer's score. question is the score of the
// question, nil where there is none: then the fields in the answer tell, which
// the exercise command puts there.
func NewKey(answer, question *musicxml.Score, catalogue *instruments.Catalogue) (*Key, error) {
	file, err := readAnswer(answer)
	if err != nil {
		return nil, err
	}
	k := &Key{Name: answer.Name, expected: file.candidates[0].music.trimmed(), catalogue: catalogue, From: explain.Sounding}
	k.readFields(file.fields)
	if err := k.takeQuestion(question, file.fields); err != nil {
		return nil, err
	}
	if k.given == nil && k.Instrument == nil {
		k.Instrument = instrumentOf(answer, catalogue)
	}
	if k.given != nil && !k.matches() {
		k.given = nil
	}
	return k, nil
}

// readFields takes over what an answer says of its question.
func (k *Key) readFields(fields map[string]string) {
	k.Number, _ = strconv.Atoi(fields[exercise.FieldExercise])
	k.Sheet = fields[exercise.FieldSheet]
	k.Instrument = k.catalogue.ByID(fields[exercise.FieldInstrument])
	if side, err := explain.ParseSide(fields[exercise.FieldFrom]); err == nil {
		k.From = side
	}
	k.unsigned = fields[exercise.FieldSignature] == exercise.NoSignature
	printed := strings.Fields(fields[exercise.FieldPrinted])
	_, k.fields = fields[exercise.FieldPrinted]
	k.printedClef, k.printedKey = slices.Contains(printed, exercise.PrintedClef), slices.Contains(printed, exercise.PrintedKey)
}

// takeQuestion reads the question, or works it out from the fields.
func (k *Key) takeQuestion(question *musicxml.Score, fields map[string]string) error {
	if question != nil {
		file, err := readAnswer(question)
		if err != nil {
			return err
		}
		k.given = file.candidates[0].music.trimmed()
		return nil
	}
	if _, err := fmt.Sscanf(fields[exercise.FieldMoved], "%d %d", &k.moved.Diatonic, &k.moved.Chromatic); err != nil {
		return nil // an ordinary score: marked without its question
	}
	given := *k.expected
	given.part = nil // it is worked out, and stands nowhere
	given.heads = append([]head{}, k.expected.heads...)
	back := k.moved.Negate()
	for i := range given.heads {
		given.heads[i].pitch = back.Apply(given.heads[i].pitch)
		given.heads[i].sign = movedBack(given.heads[i])
		given.heads[i].fifths += back.Fifths()
	}
	given.fifths, given.hasKey = given.fifths+back.Fifths(), k.expected.hasKey
	if n, err := strconv.Atoi(fields[exercise.FieldGivenKey]); err != nil {
		given.unsign()
	} else if given.fifths != n { // the answer is written without signature
		given.hasKey = true
		given.signAll(n)
	}
	given.clef = clefField(fields[exercise.FieldGivenClef])
	k.given = &given
	return nil
}

// movedBack is the sign that the question printed: that of its own alteration.
func movedBack(h head) string {
	if h.sign == "" {
		return ""
	}
	name, _ := transpose.SignName(h.pitch.Alter)
	return name
}

func clefField(text string) instruments.Clef {
	c := instruments.Clef{}
	sign, rest, _ := strings.Cut(text, " ")
	if len(sign) != 2 {
		return explain.Treble
	}
	c.Sign = sign[:1]
	c.Line, _ = strconv.Atoi(sign[1:])
	c.OctaveChange, _ = strconv.Atoi(rest)
	return c
}

// matches reports whether the question has the notes of the answer, one for one,
// and finds the interval at the start.
func (k *Key) matches() bool {
	if len(k.given.heads) != len(k.expected.heads) || len(k.given.heads) == 0 {
		return false
	}
	for i, h := range k.given.heads {
		if e := k.expected.heads[i]; h.bar != e.bar || h.onset != e.onset {
			return false
		}
	}
	var ok bool
	k.moved, ok = pitch.Between(k.given.heads[0].pitch, k.expected.heads[0].pitch)
	return ok
}

// instrumentOf recognises the instrument of a key that has no fields.
func instrumentOf(score *musicxml.Score, catalogue *instruments.Catalogue) *instruments.Instrument {
	for _, p := range score.ScoreParts() {
		q := instruments.Query{Name: p.Name, Abbreviation: p.Abbreviation}
		for _, i := range p.Instruments {
			q.Sound = i.Sound
		}
		if m := catalogue.Match(q); m.Recognised() {
			return m.Instrument
		}
	}
	return nil
}

// Heads is the number of notes that are marked.
func (k *Key) Heads() int { return len(k.expected.heads) }

// asksSignature reports whether a key signature is part of the task.
func (k *Key) asksSignature() bool { return !k.unsigned && k.expected.hasKey && !k.printedKey }

// asksClef reports whether a clef is to be written: where it was not printed, or,
// if the key does not say, where it changes.
func (k *Key) asksClef() bool {
	if k.fields {
		return !k.printedClef
	}
	return k.given != nil && k.given.clef != k.expected.clef
}

// unsign takes the signature away; signAll puts one.
func (m *music) unsign() {
	m.signAll(0)
	m.hasKey = false
}

func (m *music) signAll(fifths int) {
	m.fifths = fifths
	for i := range m.heads {
		m.heads[i].fifths = fifths
	}
}
