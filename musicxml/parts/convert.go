package parts

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/header"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/written"
)

// Convert writes part i of the score at sounding pitch (Concert) or as its player
// reads it (Written), for a score that stays a score: positions, names and layout
// stay.
//
// In a concert score each place where a part's transposition begins carries a
// <for-part> with the transposition, and with the part's clef where the score
// takes another, so that the way back needs nothing else. Octave transpositions
// stay (MusicXML 4.0, concert-score).
func (s *Surveyed) Convert(w *Workspace, i int, to Input) (*Converted, error) {
	if err := checkNumber("part", i, len(s.score.Parts)); err != nil {
		return nil, err
	}
	room := w.stages()
	d, err := s.source(room, i)
	switch {
	case err != nil:
	case to == Concert:
		err = written.ToConcert(d, s.options.writing(&room.Move))
	case to == Written:
		err = written.ToWritten(d, s.options.writing(&room.Move))
	default:
		err = fmt.Errorf("a score is converted to concert or to written pitch, not to %q", to)
	}
	if err != nil {
		return nil, s.score.Locate(err, i)
	}
	d.Report.Warnings = append(s.score.Questions(i), d.Report.Warnings...)
	return &Converted{Part: d.Part, Report: reportOf(&d.Report), workspace: room}, nil
}

// Converted is a part of a score that stays a score.
type Converted struct {
	Part   *etree.Element
	Report Report

	workspace *stages.Workspace
}

// Bytes are the <part> as it stands in a written score. They are valid until the
// part's workspace writes something else.
func (c *Converted) Bytes(o musicxml.WriteOptions) []byte {
	return c.workspace.Text(func(room []byte) []byte { return musicxml.AppendPart(room, c.Part, o) })
}

// ConvertedScore is the document of a converted score, in which an empty <part>
// holds the place of each part: its header says that the score is in concert
// pitch, or no longer does. The reports are those of all parts, in order.
func (s *Surveyed) ConvertedScore(to Input, reports []Report) (doc *etree.Document, places []*etree.Element) {
	atSound := make([]bool, len(s.score.Parts))
	for i := range min(len(reports), len(atSound)) {
		atSound[i] = reports[i].AtSound
	}
	return header.Converted(&s.score.Score, to == Concert, atSound)
}
