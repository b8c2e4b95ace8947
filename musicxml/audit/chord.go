package audit

import (
	"regexp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// chordPlace is where a chord symbol stands in the bar.
type chordPlace struct {
	staff int
	ticks int64
}

// chordSymbol reads a chord symbol.
func (a *auditor) chordSymbol(e *etree.Element) {
	staff := a.staffOf(e)
	at := a.at()
	if offset := musicxml.Child(e, "offset"); offset != nil {
		if f, err := musicxml.ParseFraction(musicxml.Text(offset)); err == nil && f.Den() == 1 {
			at.ticks += f.Num()
		}
	}
	if musicxml.Attr(e, "print-object") == "no" {
		return
	}
	if musicxml.Attr(e, "type") != "alternate" {
		a.chordAt(chordPlace{staff, at.ticks}, at)
	}
	a.chordText(e, at)
}

// chordAt notes where a symbol stands; a second one at the place is said once.
func (a *auditor) chordAt(p chordPlace, at place) {
	before := 0
	for _, other := range a.harmony {
		if other == p {
			before++
		}
	}
	if before == 1 {
		a.find(at, notice.ChordsOnOneBeat, "two chord symbols stand on this beat")
	}
	a.harmony = append(a.harmony, p)
}

// chordText holds what is printed of a chord against its root and bass. The text of a
// root-step, bass-step or kind stands in place of its content (MusicXML 4.0,
// root-step, kind).
func (a *auditor) chordText(e *etree.Element, at place) {
	var root, bass *chordTone
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "root":
			root = readChordTone(c, "root-step", "root-alter")
			a.toneText(root, at)
		case "bass":
			bass = readChordTone(c, "bass-step", "bass-alter")
			a.toneText(bass, at)
		}
	}
	kind := musicxml.Child(e, "kind")
	if kind == nil || root == nil {
		return
	}
	text := musicxml.Attr(kind, "text")
	if named, ok := leadingNote(text); ok && named != root.tone {
		a.find(at, notice.ChordContradictsRoot, "the chord on "+root.tone.String()+" is printed "+quoted(text))
	}
	if _, after, ok := strings.Cut(text, "/"); ok && bass != nil {
		if named, ok := noteName(after); ok && named != bass.tone {
			a.find(at, notice.ChordContradictsRoot, "the chord with "+bass.tone.String()+" in the bass is printed "+quoted(text))
		}
	}
}

func quoted(text string) string { return "“" + text + "”" }

// tone is a letter and how far it is altered, in semitones.
type tone struct {
	letter byte
	alter  string
}

// String names a tone: "F sharp".
func (t tone) String() string {
	switch t.alter {
	case "0":
		return string(t.letter)
	case "1":
		return string(t.letter) + " sharp"
	case "-1":
		return string(t.letter) + " flat"
	}
	return string(t.letter) + " (" + t.alter + ")"
}

// chordTone is a root or bass and the text printed for its letter.
type chordTone struct {
	tone
	text    string
	hasText bool
}

func readChordTone(e *etree.Element, stepTag, alterTag string) *chordTone {
	step := musicxml.Child(e, stepTag)
	letter := musicxml.Text(step)
	if len(letter) != 1 {
		return nil
	}
	t := &chordTone{tone: tone{letter[0], "0"}}
	if alter, err := musicxml.ParseFraction(musicxml.ChildText(e, alterTag)); err == nil {
		t.alter = alter.String()
	}
	if a := step.SelectAttr("text"); a != nil {
		t.text, t.hasText = a.Value, true
	}
	return t
}

// toneText holds the text of a letter against it. A letter alone may have its sign
// printed by the alteration.
func (a *auditor) toneText(t *chordTone, at place) {
	if t == nil || !t.hasText {
		return
	}
	named, ok := noteName(t.text)
	if !ok || named == t.tone || len(t.text) == 1 && named.letter == t.letter {
		return
	}
	a.find(at, notice.ChordContradictsRoot, "the chord tone "+t.tone.String()+" is printed "+quoted(t.text))
}

// leadingName finds a note's name at the head of a chord's text: a letter and a sign
// followed by what a chord symbol goes on with. "Aug", "Dim" and "Add9" are none.
var leadingName = regexp.MustCompile(`^([A-G])(bb|##|b|#|♭♭|♯♯|♭|♯)?(?:$|[0-9(/+\-–−°ºøØΔ△^]|m|M|min|maj|sus|add|aug|dim|alt|no|omit|[Tt]ype| )`)

func leadingNote(text string) (tone, bool) {
	found := leadingName.FindStringSubmatch(text)
	if found == nil {
		return tone{}, false
	}
	return toneOf(found[1], found[2])
}

// wholeName is a note's name alone.
var wholeName = regexp.MustCompile(`^([A-Ga-g])(bb|##|b|#|x|♭♭|♯♯|♭|♯)?$`)

func noteName(text string) (tone, bool) {
	found := wholeName.FindStringSubmatch(strings.TrimSpace(text))
	if found == nil {
		return tone{}, false
	}
	return toneOf(strings.ToUpper(found[1]), found[2])
}

var asciiSigns = strings.NewReplacer("♭", "b", "♯", "#", "x", "##")

func toneOf(letter, signs string) (tone, bool) {
	alter, err := pitch.ParseSigns(asciiSigns.Replace(signs))
	if err != nil {
		return tone{}, false
	}
	n, _ := alter.Whole()
	return tone{letter[0], musicxml.NewFraction(int64(n), 1).String()}, true
}
