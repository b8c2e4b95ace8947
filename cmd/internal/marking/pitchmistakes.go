package marking

import (
	"fmt"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// pitchMistakes says what is wrong with the pitches, signature and clef.
func (x *examiner) pitchMistakes(d diagnosis) []Mistake {
	var byCause, bySignature, byCopying, left []int
	for i, known := range x.known {
		switch at := d.at(i); {
		case !known || x.got[i] == x.wanted[i]:
		case x.got[i] != d.predicted[i] && x.bySignatureAlone(d, i) && x.is[i] == x.wantedFifths[i]:
			byCause = append(byCause, i) // the right signature, over notes that were moved otherwise
		case x.got[i] != d.predicted[i] && x.bySignatureAlone(d, i):
			bySignature = append(bySignature, i)
		case x.got[i] != d.predicted[i]:
			left = append(left, i)
		case at.signed[i] && (at.handling == literal || at.handling == dropped) && !x.spoiledAnyway(d, i):
			byCopying = append(byCopying, i)
		case at.kind == "":
			bySignature = append(bySignature, i)
		default:
			byCause = append(byCause, i)
		}
	}
	list := x.causeMistake(nil, d, byCause)
	list = x.signatureMistakes(list, d, bySignature)
	list = x.clefMistake(list, d)
	list = x.copyingMistake(list, d, byCopying)
	return x.remainder(list, d, left)
}

// bySignatureAlone reports whether a note is wrong only because the signature that is
// there holds for it.
func (x *examiner) bySignatureAlone(d diagnosis, i int) bool {
	is, right := x.got[i], d.predicted[i]
	return is.Place() == right.Place() && is.Alter == signatureAlter(x.is[i], is) && signatureAlter(x.is[i], is) != signatureAlter(d.goes(i), is) &&
		x.expected.heads[i].sign == ""
}

// causeMistake is what moved many notes. Who only copied has done nothing: every
// note counts against it.
func (x *examiner) causeMistake(list []Mistake, d diagnosis, heads []int) []Mistake {
	if len(heads) == 0 {
		return list
	}
	f := finding{kind: d.kind, rule: d.rule, cause: d.note}
	if d.from > 0 {
		h := x.expected.heads[d.from]
		f.text = x.t.Say("marking.from-place", texts.Fill{"place": x.placeText(h.bar, h), "what": d.note})
	}
	list = x.add(list, f, heads)
	if d.copied {
		list[len(list)-1].costs = len(heads)
	}
	return list
}

// copyingMistake is signs that were copied as they were, or left out, throughout.
func (x *examiner) copyingMistake(list []Mistake, d diagnosis, heads []int) []Mistake {
	if len(heads) == 0 {
		return list
	}
	f := finding{kind: Accidental, rule: RuleAccidentalMissing, cause: x.t.Say("marking.accidentals-left-out", texts.Fill{"n": len(heads)})}
	if d.at(heads[0]).handling == literal {
		f.rule, f.cause = RuleAccidentalCopied, x.t.Say("marking.accidentals-copied", texts.Fill{"n": len(heads)})
	}
	i := heads[0]
	right := x.wanted[i]
	if at := d.at(i); at.kind != "" && at.exact {
		right = at.target[i]
	}
	if right.Step != x.got[i].Step { // in another clef
		return x.add(list, f, heads)
	}
	f.text = x.t.Say("marking.with-example", texts.Fill{"what": f.cause, "example": x.inPlaceOf(x.t.Plainly(x.got[i]), x.t.Plainly(right))})
	return x.add(list, f, heads)
}

// spoiledAnyway reports whether a note would be wrong with the right sign, too.
func (x *examiner) spoiledAnyway(d diagnosis, i int) bool {
	return d.kind != "" && d.exact && d.target[i] != x.wanted[i] && i >= d.from && d.predicted[i] == d.target[i]
}

// clefMistake: the right notes, but in another clef than asked. Where the clef was
// printed there was nothing to ask.
func (x *examiner) clefMistake(list []Mistake, d diagnosis) []Mistake {
	is, asked := x.answer.clefOr(x.expected.clef), x.expected.clef
	if !x.asksClef() || d.kind == WrongClef || is.Sign == asked.Sign && is.Line == asked.Line {
		return list
	}
	return x.add(list, finding{kind: WrongClef, rule: RuleClef, cause: x.t.Say("marking.other-clef", texts.Fill{"is": x.clefName(is), "asked": x.clefName(asked)})}, nil)
}

// slip is one wrong note of the remainder.
type slip struct {
	finding
	head  int
	group string // slips of one group are one mistake
	run   bool   // only if they follow one another
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
		list = x.add(list, g[0].finding, heads)
	}
	return list
}

// slipAt says what is wrong with one note.
func (x *examiner) slipAt(d diagnosis, i int) slip {
	right, is := d.predicted[i], x.got[i]
	s := slip{head: i}
	switch {
	case right.MIDI() == is.MIDI():
		s.kind, s.rule, s.cause = Spelling, RuleSpelling, x.t.Say("marking.other-letter", nil)
		s.group = "spelling" + x.t.Note(right) + x.t.Note(is)
		s.text = x.because(x.inPlaceOf(x.t.Spoken(is), x.t.Spoken(right)), s.cause)
	case right.Place() == is.Place():
		s.kind = Accidental
		s.rule, s.cause = x.signCause(right, is, i)
		s.group = "accidental" + string(s.rule) + right.Step.String() + right.Alter.String() + is.Alter.String()
		s.text = x.because(x.inPlaceOf(x.t.Plainly(is), x.t.Plainly(right)), s.cause)
	case right.Step == is.Step:
		octaves := pitch.Octaves(is.Octave - right.Octave)
		s.kind, s.rule, s.run, s.cause = WrongOctave, RuleOctave, true, x.t.Astray(octaves)
		s.group = fmt.Sprint("octave", octaves)
		s.text = x.because(x.inPlaceOf(x.t.Pitch(is), x.t.Pitch(right)), s.cause)
	default:
		off, _ := pitch.Between(right, is)
		s.kind, s.rule, s.run, s.cause = WrongInterval, RuleNote, true, x.t.Say("marking.wrong-note", nil)
		s.group = "interval" + off.String()
		s.text = x.because(x.inPlaceOf(x.t.Pitch(is), x.t.Pitch(right)), x.t.Astray(off))
	}
	return s
}

func (x *examiner) inPlaceOf(is, right string) string {
	return x.t.Say("marking.in-place-of", texts.Fill{"is": is, "right": right})
}

func (x *examiner) because(what, why string) string {
	return x.t.Say("marking.because", texts.Fill{"what": what, "why": why})
}

// signCause says what was done with an accidental.
func (x *examiner) signCause(right, is pitch.Pitch, i int) (Rule, string) {
	by := signatureAlter(x.is[i], is)
	signed := x.expected.heads[i].sign != ""
	switch {
	case signed && x.given != nil && is.Alter == x.given.heads[i].pitch.Alter && x.given.heads[i].sign != "":
		return RuleAccidentalCopied, x.t.Say("marking.accidentals-copied", texts.Fill{"n": 1})
	case is.Alter == by && signed:
		return RuleAccidentalMissing, x.t.Say("marking.accidentals-left-out", texts.Fill{"n": 1})
	case is.Alter == by:
		return RuleAccidentalHolds, x.t.Say("marking.accidental-holds", nil)
	case right.Alter == by:
		return RuleAccidentalSurplus, x.t.Say("marking.accidental-surplus", nil)
	}
	return RuleAccidentalWrong, x.t.Say("marking.accidental-wrong", nil)
}
