package explain

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// PartID is the id of the one part of every document made here.
const PartID = "P1"

// Field is a named note in a document's <miscellaneous>, which notation programs
// carry along (MusicXML 4.0, miscellaneous-field).
type Field struct{ Name, Value string }

// SheetStaff is a part of a document.
type SheetStaff struct {
	// Name stands before the staff.
	Name string
	// Sound is the standard sound id, "" for none.
	Sound string
	// Program is the General MIDI program from 1, 0 for none.
	Program int
	Part    *etree.Element
}

// Sheet is music as a document of its own.
type Sheet struct {
	Title  string
	Fields []Field
	Staves []SheetStaff
}

// Bytes writes the document.
func (s Sheet) Bytes() ([]byte, error) {
	doc := etree.NewDocument()
	doc.CreateProcInst("xml", `version="1.0" encoding="UTF-8"`)
	doc.CreateDirective(`DOCTYPE score-partwise PUBLIC "-//Recordare//DTD MusicXML 4.0 Partwise//EN" "http://www.musicxml.org/dtds/partwise.dtd"`)
	root := doc.CreateElement("score-partwise")
	root.CreateAttr("version", "4.0")
	text(root.CreateElement("work"), "work-title", s.Title)
	s.identification(root)
	list := root.CreateElement("part-list")
	for i, staff := range s.Staves {
		staff.list(list, "P"+strconv.Itoa(i+1), i+1)
	}
	for i, staff := range s.Staves {
		part := staff.Part.Copy()
		part.RemoveAttr("id")
		part.CreateAttr("id", "P"+strconv.Itoa(i+1))
		root.AddChild(part)
	}
	var out bytes.Buffer
	if err := musicxml.Write(&out, doc, musicxml.NoteALine); err != nil {
		return nil, fmt.Errorf("%s: %w", s.Title, err)
	}
	return out.Bytes(), nil
}

func (s Sheet) identification(root *etree.Element) {
	e := root.CreateElement("identification")
	text(e.CreateElement("encoding"), "software", "deskpart")
	if len(s.Fields) == 0 {
		return
	}
	misc := e.CreateElement("miscellaneous")
	for _, f := range s.Fields {
		field := misc.CreateElement("miscellaneous-field")
		field.CreateAttr("name", f.Name)
		field.SetText(f.Value)
	}
}

// mostChannels is how many MIDI channels there are (MIDI 1.0).
const mostChannels = 16

// list writes the staff's <score-part>.
func (s SheetStaff) list(list *etree.Element, part string, number int) {
	p := list.CreateElement("score-part")
	p.CreateAttr("id", part)
	text(p, "part-name", s.Name)
	if s.Sound == "" && s.Program == 0 {
		return
	}
	id := part + "-I1"
	i := p.CreateElement("score-instrument")
	i.CreateAttr("id", id)
	text(i, "instrument-name", s.Name)
	if s.Sound != "" {
		text(i, "instrument-sound", s.Sound)
	}
	if s.Program > 0 {
		m := p.CreateElement("midi-instrument")
		m.CreateAttr("id", id)
		text(m, "midi-channel", strconv.Itoa((number-1)%mostChannels+1))
		text(m, "midi-program", strconv.Itoa(s.Program))
	}
}
