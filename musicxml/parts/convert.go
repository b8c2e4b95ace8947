package parts

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// Convert writes part i of the score at sounding pitch (Concert) or as its
// player reads it (Written), for a score that stays a score: positions, names
// and layout stay. Every part must have been surveyed and Assign called.
//
// In a concert score each place where a part's transposition begins carries a
// <for-part> with the transposition, and with the part's clef where the score
// takes another, so that the way back needs nothing else. Octave transpositions
// stay (MusicXML 4.0, concert-score).
func (c *Copyist) Convert(i int, to Input, desk *Desk) (*etree.Element, Report, error) {
	s := c.sheet(c.usual(i), desk)
	if err := s.convert(to); err != nil {
		return nil, s.report, c.locate(err, i)
	}
	return s.part, s.report, nil
}

func (s *sheet) convert(to Input) error {
	if err := s.readSource(); err != nil {
		return err
	}
	if to == Concert {
		return s.toConcert()
	}
	return s.toWritten()
}

// readSource reads the part as the score has it, with the <transpose> that a
// source in written pitch leaves unsaid.
func (s *sheet) readSource() error {
	var err error
	if s.part, err = s.score.ReadPart(s.assignment.Part, &s.desk.Slabs); err != nil {
		return err
	}
	if err := s.layOut(); err != nil {
		return err
	}
	if err := s.findChanges(); err != nil {
		return err
	}
	s.sayUnsaidTransposition()
	return s.layOut()
}

// Unlimited is a MaxSignature that lets every signature stand, as a concert score
// must: it has no <transpose> by letters that could say a respelling.
const Unlimited = 1000

// toConcert moves the part to sounding pitch and notes how the way back goes.
func (s *sheet) toConcert() error {
	concert, err := transpose.ConcertStretches(s.timeline)
	if err != nil {
		return err
	}
	if err := s.move(transpose.Options{Stretches: concert, MaxSignature: Unlimited, ConcertScore: true, AsPrinted: true}); err != nil {
		return err
	}
	return s.noteForPlayer()
}

// noteForPlayer says in a <for-part> how the player of a part reads it that the
// source has at sounding pitch without a word about its transposition. Unless the
// source says itself that it is a concert score, the part is also marked as
// having stood so, for the way back.
func (s *sheet) noteForPlayer() error {
	if !transposes(s.assignment.Instrument) || s.survey.declared() || s.survey.ForPart != nil || len(s.timeline.Measures) == 0 {
		return nil
	}
	for _, stretch := range s.changedStretches(s.stretches()) {
		e := etree.NewElement("for-part")
		if stretch.Staff > 0 {
			e.CreateAttr("number", strconv.Itoa(stretch.Staff))
		}
		by := stretch.To
		if by.OctaveOnly() {
			by = transpose.Transposition{} // it stands in the score's own <transpose>
		}
		by.Write(musicxml.SetChildText(e, "part-transpose", ""))
		musicxml.AddInOrder(s.attributesAt(stretch.Measure, stretch.Onset), e)
	}
	s.atSound[s.assignment.Part] = !s.concert
	return s.layOut()
}

// sourcePitch is the <miscellaneous-field> of a <score-part> by which a concert
// score says that the part stood at sounding pitch in the score it was made of.
const sourcePitch, sourcePitchSounding = "source pitch", "sounding"

// stoodAtSound reports whether the score says so of a part.
func (c *Copyist) stoodAtSound(i int) bool {
	entry := c.scoreParts[i].Element
	if entry == nil {
		return false
	}
	field := musicxml.Descend(entry, "identification", "miscellaneous", "miscellaneous-field")
	return field != nil && musicxml.Attr(field, "name") == sourcePitch && musicxml.Text(field) == sourcePitchSounding
}

// sayStoodAtSound writes or takes out what the score's parts say of that.
func (c *Copyist) sayStoodAtSound(root *etree.Element, to Input) {
	list := musicxml.Child(root, "part-list")
	if list == nil {
		return
	}
	for _, entry := range musicxml.Children(list, "score-part") {
		for i := range c.scoreParts {
			if c.scoreParts[i].ID != musicxml.Attr(entry, "id") {
				continue
			}
			if c.stoodAtSound(i) && to == Written {
				musicxml.RemoveChildren(entry, "identification")
			}
			if c.atSound[i] && to == Concert && musicxml.Child(entry, "identification") == nil {
				identification := etree.NewElement("identification")
				field := musicxml.SetChildText(identification.CreateElement("miscellaneous"), "miscellaneous-field", sourcePitchSounding)
				field.CreateAttr("name", sourcePitch)
				musicxml.AddInOrder(entry, identification)
			}
		}
	}
}

// attributesAt finds or makes the <attributes> at a place of the part.
func (s *sheet) attributesAt(measure int, onset musicxml.Fraction) *etree.Element {
	m := &s.timeline.Measures[measure]
	for i := range m.Events {
		if ev := &m.Events[i]; ev.Kind == musicxml.Attributes && ev.Onset == onset {
			return ev.Element
		}
	}
	e := etree.NewElement("attributes")
	m.Element.InsertChildAt(m.InsertionPoint(onset), e)
	return e
}

// toWritten writes the part as its player reads it: as the score's <for-part>
// says, or for the instrument that the part's names mean.
func (s *sheet) toWritten() error {
	stretches, said, err := transpose.ForPart(s.timeline)
	if err != nil {
		return err
	}
	switch {
	case said && s.stoodAtSound(s.assignment.Part) && s.options.Input != Concert:
		s.report.AsSource = true
		if stretches, err = transpose.Stretches(s.timeline); err != nil {
			return err
		}
	case said:
		s.takePartClefs()
	default:
		stretches = s.changedStretches(s.stretches())
	}
	return s.move(transpose.Options{Stretches: stretches, MaxSignature: s.options.MaxSignature, AsPrinted: true})
}

// move carries a change of notation out and reports it.
func (s *sheet) move(o transpose.Options) error {
	o.Memory = &s.desk.move
	result, err := transpose.Move(s.timeline, o)
	if err != nil {
		return err
	}
	s.report.Transpose, s.report.Moved = result.Written, result.Moved
	s.report.Notes = result.Notes
	s.report.Warnings = append(s.report.Warnings, result.Warnings...)
	return s.layOut()
}

// takePartClefs gives the part the clefs that its <for-part> elements say.
func (s *sheet) takePartClefs() {
	for _, m := range musicxml.Children(s.part, "measure") {
		for _, attributes := range musicxml.Children(m, "attributes") {
			for _, forPart := range musicxml.Children(attributes, "for-part") {
				if clef := musicxml.Child(forPart, "part-clef"); clef != nil {
					setClef(attributes, clef, musicxml.Attr(forPart, "number"))
				}
			}
		}
	}
}

// setClef replaces the clef of a staff in an <attributes>, or adds it.
func setClef(attributes, partClef *etree.Element, staff string) {
	for _, old := range musicxml.Children(attributes, "clef") {
		if n := musicxml.Attr(old, "number"); n == staff || n == "" && staff == "1" || n == "1" && staff == "" {
			attributes.RemoveChild(old)
		}
	}
	clef := partClef.Copy()
	clef.Tag = "clef"
	if staff != "" {
		clef.CreateAttr("number", staff)
	}
	musicxml.AddInOrder(attributes, clef)
}

// ConvertedScore is the document of a converted score, in which an empty <part>
// holds the place of each part: its header says that the score is in concert
// pitch, or no longer does.
func (c *Copyist) ConvertedScore(to Input) (doc *etree.Document, places []*etree.Element) {
	places = make([]*etree.Element, len(c.score.Parts))
	for i := range places {
		places[i] = etree.NewElement("part")
	}
	doc = c.score.Assemble(places)
	c.sayPitch(doc.Root(), to)
	c.sayStoodAtSound(doc.Root(), to)
	return doc, places
}

// sayPitch keeps <concert-score> true.
func (c *Copyist) sayPitch(root *etree.Element, to Input) {
	defaults := musicxml.Child(root, "defaults")
	switch {
	case to == Concert && defaults == nil:
		defaults = etree.NewElement("defaults")
		musicxml.AddInOrder(root, defaults)
		fallthrough
	case to == Concert:
		if musicxml.Child(defaults, "concert-score") == nil {
			musicxml.AddInOrder(defaults, etree.NewElement("concert-score"))
		}
	case defaults != nil:
		musicxml.RemoveChildren(defaults, "concert-score")
		if len(defaults.ChildElements()) == 0 {
			root.RemoveChild(defaults)
		}
	}
}

// Source reads part i as the score has it, with the <transpose> that a source in
// written pitch leaves unsaid.
func (c *Copyist) Source(i int, desk *Desk) (*etree.Element, *musicxml.Timeline, error) {
	c.settleReading()
	s := c.sheet(c.usual(i), desk)
	err := s.readSource()
	return s.part, s.timeline, c.locate(err, i)
}

// Forward says where a part is moved to from its source: to what its player
// reads, or, where the source is that already, to concert pitch.
func (c *Copyist) Forward(i int, t *musicxml.Timeline) (stretches []transpose.Stretch, concert bool, err error) {
	own, err := transpose.Stretches(t)
	if err != nil {
		return nil, false, c.locate(err, i)
	}
	for _, s := range own {
		if !s.To.OctaveOnly() {
			stretches, err = transpose.ConcertStretches(t)
			return stretches, true, c.locate(err, i)
		}
	}
	if stretches, said, err := transpose.ForPart(t); said || err != nil {
		return stretches, false, c.locate(err, i)
	}
	s := &sheet{Copyist: c, assignment: c.usual(i), survey: &c.surveys[i], timeline: t} // nothing of it is read anew
	err = s.findChanges()
	return s.changedStretches(s.stretches()), false, c.locate(err, i)
}
