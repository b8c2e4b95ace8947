package proof

import (
	"errors"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose"
	"deskpart/transpose/verify"
)

// Memory is what one worker keeps trees in, used again for each part. The zero
// value is ready.
type Memory struct {
	sheet parts.Workspace
	check verify.Memory
}

// Examine makes part file i and looks at it. A part that cannot be made says so in
// Failure; the error is of reading the score.
func (x *Examiner) Examine(i int, memory *Memory) (*Part, error) {
	a := x.Job.Assignment(i)
	e := examination{Examiner: x, file: i, assignment: a, memory: memory, part: newPart(a)}
	if err := e.readSource(); err != nil {
		return nil, err
	}
	if err := e.examine(); err != nil {
		e.part.Failure = plainly(err)
	}
	return e.part, nil
}

func newPart(a parts.Assignment) *Part {
	p := &Part{Number: a.Number, ID: a.ID, Name: a.Name, Label: a.Label, RecognisedBy: a.RecognisedBy, Assumed: a.Assumed,
		Keys: []KeyRow{}, Warnings: []musicxml.Warning{}, Check: Check{Verdict: verify.Different, Found: []verify.Finding{}, Misread: []verify.Finding{}}}
	if a.Instrument != nil {
		p.Instrument = a.Instrument.ID
	}
	if len(a.With) > 0 {
		p.Staves = []string{a.Name}
	}
	for _, further := range a.With {
		p.Staves = append(p.Staves, further.Name)
	}
	return p
}

// plainly is an error without the place that the page says anyway.
func plainly(err error) string {
	var known *musicxml.Error
	if !errors.As(err, &known) || known.Err == nil {
		return err.Error()
	}
	return (&musicxml.Error{Measure: known.Measure, Beat: known.Beat, Hint: known.Hint, Err: known.Err}).Error()
}

// examination is the work on one part.
type examination struct {
	*Examiner
	file       int // among the job's
	assignment parts.Assignment
	memory     *Memory
	part       *Part

	sounding []key           // of the source, as it sounds
	sounds   []reading.Sound // of the source

	element  *etree.Element // the part as made
	timeline *musicxml.Timeline
	said     []transpose.Stretch // its transposition
	page     *reading.Page
}

// readSource takes from the score what the part is held against.
func (e *examination) readSource() error {
	if err := e.thereAndBack(); err != nil {
		return err
	}
	element, timeline, err := e.Job.Surveyed().Source(&e.memory.sheet, e.assignment.Part)
	if err != nil {
		return err
	}
	page, err := reading.Read(element)
	if err != nil {
		return err
	}
	e.sounds = page.Sounding()
	if err := e.readFurther(); err != nil {
		return err
	}
	e.sounding, err = soundingKeys(timeline)
	return err
}

// readFurther takes from the score the further staves that the player has.
func (e *examination) readFurther() error {
	if len(e.assignment.With) == 0 {
		return nil
	}
	e.sounds = slices.Clone(e.sounds)
	for _, a := range e.assignment.With {
		element, _, err := e.Job.Surveyed().Source(nil, a.Part)
		if err != nil {
			return err
		}
		page, err := reading.Read(element)
		if err != nil {
			return err
		}
		e.sounds = append(e.sounds, page.Sounding()...)
	}
	return nil
}

// examine makes the part and looks at it from all sides.
func (e *examination) examine() error {
	sheet, err := e.Job.MakeIn(&e.memory.sheet, e.file)
	if err != nil {
		return err
	}
	p, r := e.part, &sheet.Report
	p.Transpose, p.Sounds = r.Transpose, soundsWords(r.Transpose.Interval())
	p.Bars, p.Notes, p.Tacet = r.Measures, r.Notes, r.Tacet
	p.Warnings = append(p.Warnings, r.Warnings...)
	if err := e.readSheet(sheet.Document); err != nil {
		return err
	}
	e.readPage(sheet.Report)
	e.listKeys()
	e.measureRange()
	return e.draw()
}

func (e *examination) readSheet(document *etree.Document) (err error) {
	e.element = document.Root().SelectElement("part")
	if e.timeline, err = musicxml.NewTimeline(e.element); err != nil {
		return err
	}
	for i := range e.timeline.Measures {
		e.part.numbers = append(e.part.numbers, e.timeline.Measures[i].Number)
	}
	if e.said, err = transpose.Stretches(e.timeline); err != nil {
		return err
	}
	e.page, err = reading.Read(e.element)
	return err
}

// draw draws the opening and the whole part.
func (e *examination) draw() error {
	written, err := notate.Part(e.element, notate.Options{})
	if err != nil {
		return err
	}
	whole, err := engraving.Draw(written, engraving.Options{Width: lineWidth})
	if err != nil {
		return err
	}
	e.part.lines, e.part.whole = len(whole.Systems), pack(whole.Figures())
	e.keepGlyphs(whole)
	return e.drawOpening(written)
}

// lineWidth is the length of a line in staff spaces: 175 mm on paper.
const lineWidth = 100

// keepGlyphs remembers which glyphs a drawing needs, not what it shows.
func (e *examination) keepGlyphs(d *engraving.Drawing) {
	e.part.drawings = append(e.part.drawings, d.Signs())
}
