package explain

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// explainAccidentals adds a step for every accidental that is printed on either
// side.
func (e *Explanation) explainAccidentals() {
	for i, n := range e.paths {
		p := n.pair
		if p.FromSign == "" && p.ToSign == "" || n.like > 0 {
			continue
		}
		e.Steps = append(e.Steps, Step{AboutAccidental, i + 1, p.From.String(), p.To.String(), e.accidentalText(p)})
	}
}

func (e *Explanation) accidentalText(p Pair) string {
	if e.Key == nil {
		return e.keylessSign(p)
	}
	given, answer := p.From, p.To
	given.Alter, answer.Alter = signatureAlter(p.FromFifths, p.From), signatureAlter(p.ToFifths, p.To)
	if p.Raised() == 0 && p.RaisedInAnswer() == 0 {
		return e.t.Say("explain.reminder", texts.Fill{"from": e.t.Plainly(p.From), "to": e.t.Plainly(p.To)})
	}
	if p.Raised() != p.RaisedInAnswer() {
		return e.t.Say("explain.needs-sign", texts.Fill{"to": e.t.Plainly(p.To)})
	}
	fill := texts.Fill{"from": e.t.Plainly(p.From), "plain": e.t.Plainly(given), "other": e.t.Plainly(answer), "to": e.t.Plainly(p.To), "n": pitch.Abs(p.Raised())}
	text := e.t.Say("explain.raised", fill)
	if p.Raised() < 0 {
		text = e.t.Say("explain.lowered", fill)
	}
	return text + " " + e.kindText(p, given, answer)
}

// kindText says whether the kind of the sign changes, and why (the kind test of
// trade/teaching.md, section 3).
func (e *Explanation) kindText(p Pair, given, answer pitch.Pitch) string {
	from, to := e.t.Sign(p.FromSign), e.t.Sign(p.ToSign)
	switch {
	case p.ToSign == "":
		return e.t.Say("explain.no-sign", nil)
	case p.FromSign == "":
		return e.t.Say("explain.print-sign", texts.Fill{"sign": to})
	case p.From.Alter == p.To.Alter:
		return e.t.Say("explain.same-sign", texts.Fill{"sign": from})
	}
	return e.t.Say("explain.other-sign", texts.Fill{"from": from, "to": to, "a": e.t.Plainly(given), "b": e.t.Plainly(answer)})
}

func (e *Explanation) keylessSign(p Pair) string {
	from, to, sign := e.t.Plainly(p.From), e.t.Plainly(p.To), e.t.Sign(p.ToSign)
	switch {
	case p.ToSign == "":
		return e.t.Say("explain.keyless-none", texts.Fill{"from": from, "to": to})
	case p.FromSign == "":
		return e.t.Say("explain.keyless-print", texts.Fill{"from": from, "to": to, "sign": sign})
	case p.From.Alter == p.To.Alter:
		return e.t.Say("explain.keyless-same", texts.Fill{"from": from, "to": to, "sign": sign})
	}
	return e.t.Say("explain.keyless-other", texts.Fill{"from": from, "to": to, "a": e.t.Sign(p.FromSign), "b": sign})
}
