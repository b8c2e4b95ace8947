package making

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/divided"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
)

// Maker makes the parts of a score.
type Maker struct {
	stages.Score
	SkipTacet bool // a part that is silent all through gets no document
}

// Made is a part that was made.
type Made struct {
	Document *etree.Document // nil where nothing is to be written
	Report   *draft.Report
}

// Make makes a part file. The desk is that of a player with several staves, else nil.
func (m *Maker) Make(w *stages.Workspace, a *assign.Assignment, desk *doubling.Desk) (Made, error) {
	switch {
	case a.OneStaff != "":
		return m.shared(a)
	case desk != nil:
		return m.desk(w, a, desk)
	}
	return m.staff(w, a)
}

// staff makes the part of a player with one staff.
func (m *Maker) staff(w *stages.Workspace, a *assign.Assignment) (Made, error) {
	d := w.Draft(m.Surveyed, *a)
	if err := m.Score.Make(d, w, nil); err != nil {
		return Made{}, m.Surveyed.Locate(err, a.Part)
	}
	made, entry := m.document(d)
	if entry == nil {
		return made, nil
	}
	if len(a.Takes) > 0 {
		whole := joining.Stretch{To: musicxml.Position{Measure: len(d.Timeline.Measures)}}
		joining.WriteOrigins(entry, []joining.Origin{{Part: a.ID, Label: a.StaffLabel, Staff: 1, Staves: 1, Some: true, Stretches: []joining.Stretch{whole}}})
	}
	if len(d.Divided) > 0 {
		joining.WriteDivided(entry, divided.Text(d.Timeline, d.Divided))
	}
	d.Warn(audit.Examine(Finished(d, made.Document, w.Page.ClefsRead(d)))...)
	return made, nil
}

// document is the document of a part, with its entry in the part-list; none where nothing
// is to be written.
func (m *Maker) document(d *draft.Draft) (made Made, entry *etree.Element) {
	made.Report = &d.Report
	if d.Report.Tacet && m.SkipTacet {
		return made, nil
	}
	made.Document = header.Document(d, m.Language)
	return made, musicxml.Descend(made.Document.Root(), "part-list", "score-part")
}

// Finished is a part with what the audit needs to know of its player.
func Finished(d *draft.Draft, doc *etree.Document, clefs []instruments.Clef) audit.Part {
	return audit.Part{Root: doc.Root(), Instrument: d.Assignment.Instrument, Given: d.OtherInstrument(), Clefs: clefs,
		Catalogue: d.Score.Catalogue, Said: d.Report.Warnings}
}
