package marked

import (
	"strconv"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/notate"
	"deskpart/transpose/pitch"
)

// A rule in general words helps those who know it already. Behind it the first place where
// it was broken is worked aloud, as a teacher would at the pupil's side.

// byNote are the rules that are shown at a note, bySignature those at a signature.
var (
	byNote = map[marking.Rule]bool{marking.RuleCopied: true, marking.RuleDirection: true, marking.RuleInterval: true, marking.RuleOctave: true, marking.RuleNote: true, marking.RuleSpelling: true,
		marking.RuleAccidentalMissing: true, marking.RuleAccidentalCopied: true, marking.RuleAccidentalWrong: true}
	bySignature = map[marking.Rule]bool{marking.RuleSignatureMissing: true, marking.RuleSignatureUnmoved: true, marking.RuleSignatureOpposite: true, marking.RuleSignatureWrong: true}
)

// worked is the mistake of that place worked aloud, "" where the answer does not show how.
func worked(t *texts.Texts, d *marking.Drawn, i int, rule marking.Rule) string {
	if d.Given == nil || d.Several || d.Moved == (pitch.Interval{}) {
		return ""
	}
	switch {
	case byNote[rule] && d.Aligned && i < len(d.Wanted):
		return workedNote(t, d, d.Wanted[i])
	case bySignature[rule]:
		return workedSignature(t, d)
	}
	return ""
}

// workedNote works the first of some notes that are right.
func workedNote(t *texts.Texts, d *marking.Drawn, wanted []marking.DrawnNote) string {
	given, err := notate.Part(d.Given, notate.Options{})
	if err != nil {
		return ""
	}
	for _, right := range wanted {
		from := right
		from.Pitch = d.Moved.Negate().Apply(right.Pitch)
		if len(headsOf(given, from)) > 0 {
			return t.Say("marked.worked-note", texts.Fill{"note": t.Pitch(from.Pitch), "way": explain.Worked(t, from.Pitch, right.Pitch)})
		}
	}
	return ""
}

// workedSignature works the signature that the answer begins with.
func workedSignature(t *texts.Texts, d *marking.Drawn) string {
	fifths := d.Right.FindElement("measure/attributes/key/fifths")
	if fifths == nil {
		return ""
	}
	right, err := strconv.Atoi(musicxml.Text(fifths))
	if err != nil {
		return ""
	}
	fill := texts.Fill{"given": t.Key(pitch.Key{Fifths: right - d.Moved.Fifths()}), "move": t.Moved(d.Moved), "right": t.Key(pitch.Key{Fifths: right}), "signature": t.Signature(right)}
	if right == 0 {
		return t.Say("marked.worked-signature", fill)
	}
	fill["notes"] = t.SignatureNotes(right)
	return t.Say("marked.worked-signature-notes", fill)
}
