package marking

import (
	"errors"
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

	// Part is the name of the staff, and Staff its number from 1, where an exercise has
	// several: Staves in all.
	Part          string
	Staff, Staves int
	Topic         exercise.Topic

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
	// anyOctave takes a player's octave as it is.
	anyOctave bool
	chords    []chordName
	catalogue *instruments.Catalogue
}

// NewKeys makes a key of each staff of an answer's score. question is the score of the
// question, nil where there is none: then the fields in the answer tell, which
// the exercise command puts there.
func NewKeys(answer, question *musicxml.Score, catalogue *instruments.Catalogue) ([]*Key, error) {
	file, err := readAnswer(answer)
	if err != nil {
		return nil, err
	}
	var asked []candidate
	if question != nil {
		if q, err := readAnswer(question); err == nil {
			asked = q.candidates
		} else if !errors.Is(err, ErrNoNotes) { // there are questions in words alone
			return nil, err
		}
	}
	var keys []*Key
	for i, c := range file.candidates {
		k := &Key{Name: answer.Name, expected: c.music.trimmed(), chords: c.music.chords, catalogue: catalogue, From: explain.Sounding,
			Part: c.part, Staff: i + 1, Staves: len(file.candidates)}
		k.readFields(file.fields)
		var given *music
		if len(asked) == len(file.candidates) {
			given = asked[i].music.trimmed()
		}
		k.takeQuestion(given, file.fields)
		if k.given == nil && k.Instrument == nil {
			k.Instrument = instrumentOf(answer, catalogue)
		}
		if k.given != nil && !k.matches() {
			k.given = nil
		}
		keys = append(keys, k)
	}
	return keys, nil
}

// readFields takes over what an answer says of its question.
func (k *Key) readFields(fields map[string]string) {
	k.Number, _ = strconv.Atoi(fields[exercise.FieldExercise])
	k.Sheet = fields[exercise.FieldSheet]
	k.Topic = exercise.Topic(fields[exercise.FieldTopic])
	k.Instrument = k.catalogue.ByID(k.field(fields, exercise.FieldInstrument))
	if side, err := explain.ParseSide(k.field(fields, exercise.FieldFrom)); err == nil {
		k.From = side
	}
	k.unsigned = k.field(fields, exercise.FieldSignature) == exercise.NoSignature
	k.anyOctave = k.field(fields, exercise.FieldOctaves) == exercise.AnyOctave
	printed := strings.Fields(k.field(fields, exercise.FieldPrinted))
	_, k.fields = fields[exercise.FieldOf(exercise.FieldPrinted, k.Staff)]
	k.printedClef, k.printedKey = slices.Contains(printed, exercise.PrintedClef), slices.Contains(printed, exercise.PrintedKey)
}

// field is what the answer says of the key's staff.
func (k *Key) field(fields map[string]string, name string) string {
	return fields[exercise.FieldOf(name, k.Staff)]
}

// takeQuestion takes the question, or works it out from the fields.
func (k *Key) takeQuestion(question *music, fields map[string]string) {
	_, err := fmt.Sscanf(k.field(fields, exercise.FieldMoved), "%d %d", &k.moved.Diatonic, &k.moved.Chromatic)
	if question != nil {
		if k.given = question; err != nil || k.matches() {
			return
		}
	}
	if err != nil {
		return // an ordinary score, or a question in words: marked without
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
	if n, err := strconv.Atoi(k.field(fields, exercise.FieldGivenKey)); err != nil {
		given.unsign()
	} else if given.fifths != n { // the answer is written without signature
		given.hasKey = true
		given.signAll(n)
	}
	given.clef = clefField(k.field(fields, exercise.FieldGivenClef))
	k.given = &given
}

// movedBack is the sign that the question printed: that of its own alteration.
func movedBack(h head) string {
	if h.sign == "" {
		return ""
	}
	name, _ := transpose.AccidentalName(h.pitch.Alter)
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
