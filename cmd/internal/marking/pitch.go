package marking

import (
	"fmt"

	"deskpart/cmd/internal/explain"
	"deskpart/transpose/pitch"
)

// pitchMistakes says what is wrong with the pitches, signature and clef.
func (x *examiner) pitchMistakes(d diagnosis) []Mistake {
	var byCause, bySignature, byCopying, left []int
	for i, known := range x.known {
		switch {
		case !known || x.got[i] == x.wanted[i]:
		case x.got[i] != d.predicted[i]:
			left = append(left, i)
		case d.signed[i] && (d.handling == literal || d.handling == dropped) && !x.spoiledAnyway(d, i):
			byCopying = append(byCopying, i)
		case d.kind == "":
			bySignature = append(bySignature, i)
		default:
			byCause = append(byCause, i)
		}
	}
	var list []Mistake
	if len(byCause) > 0 {
		text := d.note
		if d.from > 0 {
			text = fmt.Sprintf("from bar %s, beat %s on, %s", x.expected.heads[d.from].measure, x.expected.heads[d.from].beat, d.note)
		}
		list = x.add(list, d.kind, d.note, text, byCause)
	}
	list = x.signatureMistake(list, d, bySignature)
	list = x.clefMistake(list, d)
	if len(byCopying) > 0 {
		note, text := "accidentals left out", "an accidental is missing"
		if d.handling == literal {
			note = "accidentals copied as they were in the question, though their kind changes"
			text = "an accidental was copied as it was in the question, though its kind changes"
		}
		if len(byCopying) > 1 {
			text = note
		}
		list = x.add(list, Accidental, note, text+x.example(d, byCopying[0]), byCopying)
	}
	return x.remainder(list, d, left)
}

// spoiledAnyway reports whether a note would be wrong with the right sign, too.
func (x *examiner) spoiledAnyway(d diagnosis, i int) bool {
	return d.kind != "" && d.exact && d.target[i] != x.wanted[i] && i >= d.from && d.predicted[i] == d.target[i]
}

// example shows the first note of several.
func (x *examiner) example(d diagnosis, i int) string {
	right := x.wanted[i]
	if d.kind != "" && d.exact {
		right = d.target[i]
	}
	return fmt.Sprintf(": %s in place of %s", explain.Plainly(x.got[i]), explain.Plainly(right))
}

// signatureMistake compares the signature with the one that goes with the notes as
// they were moved.
func (x *examiner) signatureMistake(list []Mistake, d diagnosis, spoiled []int) []Mistake {
	is := x.answer.fifths
	if is == x.wantedFifths || is == d.fifths || d.kind != "" && is == twinOf(d.fifths) {
		if len(spoiled) == 0 {
			return list
		}
	}
	note := x.signatureText(is)
	return x.add(list, KeySignature, note, note, spoiled)
}

func twinOf(fifths int) int { return pitch.Twin(fifths) }

// clefMistake: the right notes, but in another clef than asked.
func (x *examiner) clefMistake(list []Mistake, d diagnosis) []Mistake {
	is, asked := x.answer.clefOr(x.expected.clef), x.expected.clef
	if d.kind == WrongClef || is.Sign == asked.Sign && is.Line == asked.Line {
		return list
	}
	note := fmt.Sprintf("written in the %s clef; the %s clef was asked for", explain.ClefName(is), explain.ClefName(asked))
	return x.add(list, WrongClef, note, note, nil)
}

// slip is one wrong note of the remainder.
type slip struct {
	head  int
	kind  string
	group string // slips of one group are one mistake
	run   bool   // only if they follow one another
	cause string
	text  string
}

// remainder marks what no cause explains note by note, against the prediction.
func (x *examiner) remainder(list []Mistake, d diagnosis, left []int) []Mistake {
	var groups [][]slip
	for _, i := range left {
		s := x.slipAt(d, i)
		joined := false
		for g := range groups {
			last := groups[g][len(groups[g])-1]
			if last.group == s.group && (!s.run || last.head == i-1) {
				groups[g], joined = append(groups[g], s), true
				break
			}
		}
		if !joined {
			groups = append(groups, []slip{s})
		}
	}
	for _, g := range groups {
		var heads []int
		for _, s := range g {
			heads = append(heads, s.head)
		}
		list = x.add(list, g[0].kind, g[0].cause, g[0].text, heads)
	}
	return list
}

// slipAt says what is wrong with one note.
func (x *examiner) slipAt(d diagnosis, i int) slip {
	right, is := d.predicted[i], x.got[i]
	s := slip{head: i, text: fmt.Sprintf("%s in place of %s", is, right)}
	switch {
	case right.MIDI() == is.MIDI():
		s.kind, s.cause = Spelling, "the right sound under another letter"
		s.group = "spelling" + explain.SpokenNote(right) + explain.SpokenNote(is)
		s.text = fmt.Sprintf("%s in place of %s: the same sound, but another letter", explain.SpokenNote(is), explain.SpokenNote(right))
	case lessonPlace(right) == lessonPlace(is):
		s.kind = Accidental
		s.cause = x.signCause(right, is, i)
		s.group = "accidental" + s.cause + right.Step.String() + right.Alter.String() + is.Alter.String()
		s.text = fmt.Sprintf("%s in place of %s: %s", explain.Plainly(is), explain.Plainly(right), s.cause)
	case right.Step == is.Step && right.Alter == is.Alter:
		octaves := is.Octave - right.Octave
		s.kind, s.run, s.cause = WrongOctave, true, octaveText(octaves)
		s.group = fmt.Sprint("octave", octaves)
		s.text = fmt.Sprintf("%s in place of %s: %s", is, right, octaveText(octaves))
	default:
		off, _ := pitch.Between(right, is)
		s.kind, s.run, s.cause = WrongInterval, true, "a single note wrong"
		s.group = "interval" + off.String()
		s.text = fmt.Sprintf("%s in place of %s: %s too %s", is, right, explain.WithArticle(off.Name()), highOrLow(off))
	}
	return s
}

// signCause says what was done with an accidental.
func (x *examiner) signCause(right, is pitch.Pitch, i int) string {
	by := signatureAlter(x.answer.fifths, is)
	signed := x.expected.heads[i].sign != ""
	switch {
	case signed && x.given != nil && is.Alter == x.given.heads[i].pitch.Alter && x.given.heads[i].sign != "":
		return "the accidental was copied as it was in the question, though its kind changes"
	case is.Alter == by && signed:
		return "its accidental is missing"
	case is.Alter == by:
		return "the accidental earlier in the bar still holds"
	case right.Alter == by:
		return "an accidental too many"
	}
	return "the wrong accidental"
}
