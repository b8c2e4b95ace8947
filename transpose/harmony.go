package transpose

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// moveHarmony moves a chord symbol: its root, its bass and the key of a numeral.
// Kind and degrees are relative and stay; so do the numerals themselves.
func (m *mover) moveHarmony(ev *musicxml.Event, at position) {
	st := m.staffMove(ev, at)
	if st.move == (pitch.Interval{}) {
		return
	}
	frame, since, remembered := takeWas(ev.Element)
	var chord movedChord
	for e := range ev.Element.ChildElementsSeq() {
		switch e.Tag {
		case "root":
			chord.root = m.moveChordTone(e, "root-step", "root-alter", st, at)
		case "bass":
			chord.bass = m.moveChordTone(e, "bass-step", "bass-alter", st, at)
		case "numeral":
			m.moveNumeral(e, st)
		}
	}
	if kind := musicxml.Child(ev.Element, "kind"); kind != nil && (musicxml.Attr(kind, "text") != "" || hasRemark(kind)) {
		m.moveKindText(kind, chord, st, at)
	}
	if remembered {
		m.returnFrame(ev.Element, frame, since.Add(st.move))
		return
	}
	m.moveFrame(ev.Element, st, at)
}

// moveChordTone moves root or bass like a pitch without octave.
func (m *mover) moveChordTone(e *etree.Element, stepTag, alterTag string, st *state, at position) movedTone {
	stepElement := musicxml.Child(e, stepTag)
	if stepElement == nil {
		return movedTone{}
	}
	from, err := chordTone(e, stepElement, alterTag)
	if err != nil {
		m.warn(at, notice.ChordText, "a chord symbol without a readable letter was left as it is")
		return movedTone{}
	}
	to := st.move.Apply(from)
	was, since, remembered := takeWas(stepElement)
	musicxml.SetText(stepElement, to.Step.String())
	music.WriteAlter(e, alterTag, to.Alter)
	by, _ := pitch.Between(from, to)
	if since = since.Add(by); remembered && since == (pitch.Interval{}) {
		stepElement.CreateAttr("text", musicxml.Attr(was, "text"))
	} else if remembered || musicxml.Attr(stepElement, "text") != "" {
		m.movePrintedTone(stepElement, was, since, movedTone{from, to, true}, at)
	}
	return movedTone{from, to, true}
}

func chordTone(e, stepElement *etree.Element, alterTag string) (pitch.Pitch, error) {
	p := pitch.Pitch{Octave: 4}
	var err error
	if p.Step, err = pitch.ParseStep(musicxml.Text(stepElement)); err != nil {
		return p, err
	}
	if text := musicxml.ChildText(e, alterTag); text != "" {
		p.Alter, err = pitch.ParseAlter(text)
	}
	return p, err
}

// movePrintedTone rewrites the text that is printed in place of the letter, in
// the source's own style, or takes it out where it cannot be read. was is what was
// printed before it had moved by an interval, nil where that is what there is.
func (m *mover) movePrintedTone(e, was *etree.Element, since pitch.Interval, tone movedTone, at position) {
	text := musicxml.Attr(e, "text")
	remembered := was != nil
	if !remembered {
		was = e.Copy()
	}
	moved, ok := respellText(text, tone.from, tone.to)
	switch {
	case ok:
		e.CreateAttr("text", moved)
	case text != "":
		e.RemoveAttr("text")
		m.warn(at, notice.ChordText, "the chord symbol was printed as \""+text+"\"; it is now printed as its letter")
	}
	if back, again := respellText(moved, tone.to, tone.from); m.options.AsPrinted && (remembered || !again || back != text) {
		addWas(e, was, since)
	}
}

// letterText is a printed note name: a letter and its sign.
var letterText = regexp.MustCompile(`^([A-Ga-g])(|b|bb|#|##|x|♭|♭♭|♯|♯♯|𝄫|𝄪)$`)

// respellText rewrites a printed note name that stands for from as to, keeping
// capital or small letters and the source's kind of signs.
func respellText(text string, from, to pitch.Pitch) (string, bool) {
	parts := letterText.FindStringSubmatch(text)
	if parts == nil || !strings.EqualFold(parts[1], from.Step.String()) {
		return "", false
	}
	signs := strings.NewReplacer("𝄫", "bb", "𝄪", "##").Replace(parts[2])
	if alter, err := pitch.ParseSigns(signs); err != nil || parts[2] != "" && alter != from.Alter {
		return "", false
	}
	n, whole := to.Alter.Whole()
	if !whole || pitch.Abs(n) > 2 {
		return "", false
	}
	letter := to.Step.String()
	if parts[1] >= "a" {
		letter = strings.ToLower(letter)
	}
	if parts[2] == "" && from.Alter != 0 {
		return letter, true // the sign was printed by the alteration, not the text
	}
	flat, sharp := "b", "#"
	if parts[2] == "" || strings.ContainsAny(parts[2], "♭♯𝄫𝄪") {
		flat, sharp = "♭", "♯"
	}
	return letter + strings.Repeat(flat, max(0, -n)) + strings.Repeat(sharp, max(0, n)), true
}

// moveNumeral moves the key that a numeral is counted in, where it says its own.
func (m *mover) moveNumeral(e *etree.Element, st *state) {
	fifths := musicxml.Descend(e, "numeral-key", "numeral-fifths")
	if fifths == nil {
		return
	}
	key, err := readSignature(keyOf(musicxml.Text(fifths)))
	if err != nil {
		return
	}
	was, since, remembered := takeWas(fifths)
	since = since.Add(st.move)
	if !remembered {
		was = fifths.Copy()
	} else if key, err = readSignature(keyOf(musicxml.Text(was))); err != nil {
		return
	}
	moved := key.moved(since).fifths     // from what was, so that twins come back by whatever way
	twin := pitch.Abs(moved) > mostSigns // a numeral names no letter: the twin says the same
	if twin {
		moved = pitch.Twin(moved)
	}
	musicxml.SetText(fifths, strconv.Itoa(moved))
	if m.options.AsPrinted && twin {
		addWas(fifths, was, since)
	}
}
