package marking

import (
	"github.com/beevik/etree"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// chordName is the name of a chord over a bar: its root without octave, and its kind
// in MusicXML's words.
type chordName struct {
	bar  int
	root pitch.Pitch
	kind string
}

// readChord reads a <harmony>.
func readChord(e *etree.Element, bar int) chordName {
	c := chordName{bar: bar, kind: musicxml.ChildText(e, "kind")}
	if root := musicxml.Child(e, "root"); root != nil {
		c.root.Step, _ = pitch.ParseStep(musicxml.ChildText(root, "root-step"))
		if alter := musicxml.ChildText(root, "root-alter"); alter != "" {
			c.root.Alter, _ = pitch.ParseAlter(alter)
		}
	}
	c.root.Octave = 4
	return c
}

// in names a chord in words; a kind that no sheet asks for by the standard's word.
func (c chordName) in(t *texts.Texts) string {
	if !t.Has("chord-kind", c.kind) {
		return t.Note(c.root) + " " + c.kind
	}
	return exercise.Chord{Root: c.root, Kind: c.kind}.NameIn(t)
}

// chordMarks compares the names of chords bar by bar: a mark for each. Those that are
// missing are one mistake.
func (x *examiner) chordMarks(r *Result, answer []chordName) {
	if len(x.chords) == 0 {
		return
	}
	named := map[int]chordName{}
	for _, c := range answer {
		named[c.bar] = c
	}
	var missing []string
	right := 0
	for _, c := range x.chords {
		is, known := named[c.bar]
		switch {
		case !known:
			missing = append(missing, x.expected.bars[c.bar].number)
		case is.root == c.root && is.kind == c.kind:
			right++
		default:
			m := x.chordMistake(c, x.t.Say("marking.chord-wrong", nil), RuleChord)
			m.Text = x.inPlaceOf(is.in(x.t), c.in(x.t))
			r.Mistakes = append(r.Mistakes, m)
		}
	}
	cost := len(x.chords) - right
	if len(missing) > 0 {
		m := x.chordMistake(x.chords[0], x.t.Say("marking.chords-missing", nil), RuleChord)
		m.Text = x.t.Say("marking.chords-missing-in", texts.Fill{"bars": x.barsText(missing...)})
		r.Mistakes = append(r.Mistakes, m)
		cost -= len(missing) - 1
	}
	r.Marks.Of += len(x.chords)
	r.Marks.Strict += right
	r.Marks.Lenient = max(r.Marks.Strict, r.Marks.Lenient+len(x.chords)-cost)
}

func (x *examiner) chordMistake(c chordName, cause string, rule Rule) Mistake {
	bar := x.expected.bars[c.bar].number
	return Mistake{Kind: ChordKind, Rule: rule, Measure: bar, Beat: "1", Place: x.barsText(bar), Text: cause, Cause: cause, after: c.bar}
}
