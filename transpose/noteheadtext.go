package transpose

import (
	"strings"
	"unicode"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// moveNoteheadText rewrites the letter printed in a notehead.
func (m *mover) moveNoteheadText(n *note) {
	text := musicxml.Child(n.event.Element, "notehead-text")
	if text == nil || n.pitch == n.source {
		return
	}
	by, _ := pitch.Between(n.source, n.pitch)
	was, since, remembered := takeWas(text)
	since = since.Add(by)
	switch {
	case remembered && since == (pitch.Interval{}):
		text.Child = nil
		for _, c := range was.ChildElements() {
			text.AddChild(c)
		}
		return
	case !remembered:
		was = text.Copy()
	}
	if !letterMoved(text, n.source, n.pitch) {
		m.warnOfNotehead(n, musicxml.ChildText(text, "display-text"))
		return
	}
	if m.options.AsPrinted && (remembered || !letterComesBack(text, was, n)) {
		addWas(text, was, since)
	}
}

// warnOfNotehead tells of a text in a notehead that stayed as it is, where it may name
// a note: another one, or this one in another language or by its degree.
func (m *mover) warnOfNotehead(n *note, text string) {
	switch {
	case letterText.MatchString(text):
		m.warn(n.place, notice.NoteheadText, "the letter \""+text+"\" in a notehead does not name its note and was left as it is")
	case strings.ContainsFunc(text, unicode.IsLetter):
		m.warn(n.place, notice.NoteheadText, "the text \""+text+"\" in a notehead may name its note, and was left as it is")
	}
}

// letterMoved rewrites a <notehead-text> that names the pitch from, and reports
// whether it does.
func letterMoved(text *etree.Element, from, to pitch.Pitch) bool {
	display := musicxml.Child(text, "display-text")
	moved, ok := respellText(musicxml.Text(display), from, to)
	if !ok {
		return false
	}
	if sign := musicxml.Child(text, "accidental-text"); sign != nil {
		moved = moved[:1]
		if name, ok := accidentalFor(to.Alter, musicxml.Text(sign)); ok {
			musicxml.SetText(sign, name)
		}
	}
	musicxml.SetText(display, moved)
	return true
}

// letterComesBack reports whether moving the text back gives what it was.
func letterComesBack(text, was *etree.Element, n *note) bool {
	trial := text.Copy()
	return letterMoved(trial, n.pitch, n.source) &&
		musicxml.ChildText(trial, "display-text") == musicxml.ChildText(was, "display-text") &&
		musicxml.ChildText(trial, "accidental-text") == musicxml.ChildText(was, "accidental-text")
}
