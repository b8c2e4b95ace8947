package marking

import (
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// A passage may change its signature; every stretch between two changes is compared
// by itself, and a mistake that goes through all of them is said once.

// stretches lists the heads with which stretches of one signature begin.
func (x *examiner) stretches() []int {
	var first []int
	for i, f := range x.wantedFifths {
		if i == 0 || f != x.wantedFifths[i-1] {
			first = append(first, i)
		}
	}
	return first
}

// signatureMistakes compares the signatures with those that go with the notes as
// they were moved. spoiled are the notes that the signature alone explains.
func (x *examiner) signatureMistakes(list []Mistake, d diagnosis, spoiled []int) []Mistake {
	starts := x.stretches()
	last, bars := Rule(""), []int(nil)
	for n, first := range starts {
		end := len(x.wanted)
		if n+1 < len(starts) {
			end = starts[n+1]
		}
		heads := within(spoiled, first, end)
		f, wrong := x.signatureAt(d, first, n > 0)
		switch {
		case !wrong && len(heads) == 0:
			last = ""
		case f.rule == last && len(heads) == 0: // the same mistake goes on
			bars = append(bars, x.expected.heads[first].bar)
			m := &list[len(list)-1]
			m.Text = m.Cause + " (" + x.barsText(x.barNumbers(bars)...) + ")"
		case f.rule == last:
			m := &list[len(list)-1]
			list = x.add(list[:len(list)-1], f, append(m.heads, heads...))
		default:
			list, last, bars = x.add(list, f, heads), f.rule, []int{x.expected.heads[first].bar}
			if len(heads) == 0 {
				x.placeAt(&list[len(list)-1], first)
			}
		}
	}
	return list
}

func within(heads []int, first, end int) []int {
	var list []int
	for _, i := range heads {
		if i >= first && i < end {
			list = append(list, i)
		}
	}
	return list
}

// signatureAt judges the signature of the stretch that begins with a head.
func (x *examiner) signatureAt(d diagnosis, first int, later bool) (f finding, wrong bool) {
	is, wanted, goes := x.is[first], x.wantedFifths[first], d.goes(first)
	f = finding{kind: KeySignature}
	f.rule, f.cause = x.signatureCause(first, later)
	return f, is != wanted && is != goes && (d.kind == "" || is != pitch.Twin(goes))
}

// signatureCause says what became of the signature.
func (x *examiner) signatureCause(first int, later bool) (Rule, string) {
	is, wanted := x.is[first], x.wantedFifths[first]
	fill := texts.Fill{"is": x.t.Signature(is), "right": x.t.Signature(wanted)}
	given, known := 0, x.given != nil
	if known {
		given = x.given.heads[first].fifths
	}
	switch {
	case x.unsigned:
		return RuleSignatureSurplus, x.t.Say("marking.signature-surplus", texts.Fill{"is": x.t.Signature(is)})
	case later && is == x.is[first-1]:
		return RuleSignatureChange, x.t.Say("marking.signature-change", texts.Fill{"right": x.t.Signature(wanted)})
	case is == 0:
		return RuleSignatureMissing, x.t.Say("marking.signature-missing", texts.Fill{"right": x.t.Signature(wanted)})
	case known && is == given:
		return RuleSignatureUnmoved, x.t.Say("marking.signature-unmoved", fill)
	case known && is == 2*given-wanted:
		return RuleSignatureOpposite, x.t.Say("marking.signature-opposite", fill)
	case is-wanted == 3 || is-wanted == -3:
		return RuleSignatureMode, x.t.Say("marking.signature-mode", fill)
	}
	return RuleSignatureWrong, x.t.Say("marking.signature-wrong", fill)
}

// signatureMarks counts the signatures that were to be written, and those that are
// right.
func (x *examiner) signatureMarks() (of, right int) {
	if !x.asksSignature() {
		return 0, 0
	}
	for _, first := range x.stretches() {
		if x.given != nil && x.given.heads[first].fifths == x.expected.heads[first].fifths && x.printedKey {
			continue
		}
		of++
		right += tally(x.is[first] == x.wantedFifths[first])
	}
	return of, right
}
