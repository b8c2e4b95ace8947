package allowed

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// besideNotes is what a bar may hold beside its notes and their time; directions, which hold
// the most, come more often.
var besideNotes = []string{"direction", "direction", "direction", "harmony", "figured-bass", "print", "sound", "listening", "barline", "grouping", "link", "bookmark", "attributes"}

// atNotes is what a note may hold beside what it sounds; notations, which hold the most, come
// more often.
var atNotes = []string{"notations", "notations", "notations", "notehead", "notehead-text", "lyric", "play", "listen", "stem", "beam"}

// ofTime are the attributes that would make other music of what is there.
var ofTime = []string{"divisions", "staves", "key", "time", "clef", "transpose", "for-part", "part-symbol", "instruments"}

// Into puts content into one in so many bars and notes of a score-partwise. Time, pitch and
// keys stay what they were.
func (m *Maker) Into(root *etree.Element, oneIn int) {
	for _, bar := range root.FindElements("part/measure") {
		if m.random.IntN(oneIn) == 0 {
			m.intoBar(bar, m.one(besideNotes))
		}
		for _, note := range bar.SelectElements("note") {
			if m.random.IntN(oneIn) == 0 {
				tag := m.one(atNotes)
				if tag == "notations" || tag == "lyric" || note.SelectElement(tag) == nil {
					musicxml.AddInOrder(note, m.Element(tag, tag))
				}
			}
		}
	}
}

// intoBar puts an element into a bar, not between the notes of a chord.
func (m *Maker) intoBar(bar *etree.Element, tag string) {
	made := m.Element(tag, tag)
	for _, staff := range made.FindElements(".//staff") {
		staff.SetText("1")
	}
	if tag == "attributes" {
		musicxml.RemoveChildren(made, ofTime...)
	}
	all := bar.ChildElements()
	at := len(all)
	switch {
	case tag != "barline":
		at = m.random.IntN(len(all) + 1)
	case made.SelectAttrValue("location", "") == "left":
		at = 0
	}
	for at < len(all) && slices.ContainsFunc(all[at].ChildElements(), func(e *etree.Element) bool { return e.Tag == "chord" }) {
		at++
	}
	if at == len(all) {
		bar.AddChild(made)
		return
	}
	bar.InsertChildAt(all[at].Index(), made)
}
