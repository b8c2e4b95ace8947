package explain

import (
	"bytes"
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// PartID is the id of the one part of every document made here.
const PartID = "P1"

// Field is a named note in a document's <miscellaneous>, which notation programs
// carry along (MusicXML 4.0, miscellaneous-field).
type Field struct{ Name, Value string }

// Sheet is one staff of music as a document of its own.
type Sheet struct {
	Title string
	// Name stands before the staff.
	Name string
	// Sound is the standard sound id, "" for none.
	Sound string
	// Program is the General MIDI program from 1, 0 for none.
	Program int
	Fields  []Field
	Part    *etree.Element
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
	s.partList(root)
	part := s.Part.Copy()
	part.RemoveAttr("id")
	part.CreateAttr("id", PartID)
	root.AddChild(part)
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

func (s Sheet) partList(root *etree.Element) {
	p := root.CreateElement("part-list").CreateElement("score-part")
	p.CreateAttr("id", PartID)
	text(p, "part-name", s.Name)
	if s.Sound == "" && s.Program == 0 {
		return
	}
	id := PartID + "-I1"
	i := p.CreateElement("score-instrument")
	i.CreateAttr("id", id)
	text(i, "instrument-name", s.Name)
	if s.Sound != "" {
		text(i, "instrument-sound", s.Sound)
	}
	if s.Program > 0 {
		m := p.CreateElement("midi-instrument")
		m.CreateAttr("id", id)
		text(m, "midi-channel", "1")
		text(m, "midi-program", fmt.Sprint(s.Program))
	}
}
