package written

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// ReadSource reads the part as the score has it, with the <transpose> that a
// source in written pitch leaves unsaid.
func ReadSource(d *draft.Draft, changes *changes.Reader) error {
	if err := d.ReadWhole(); err != nil {
		return err
	}
	if err := changes.Find(d); err != nil {
		return err
	}
	s := &writer{Draft: d}
	s.sayUnsaidTransposition()
	return s.Settle()
}

// Unlimited is a MaxSignature that lets every signature stand, as a concert score
// must: it has no <transpose> by letters that could say a respelling.
const Unlimited = 1000

// ToConcert moves a part to sounding pitch and notes how the way back goes.
func ToConcert(d *draft.Draft, o Options) error {
	s := &writer{d, o}
	concert, err := transpose.ConcertStretches(s.Timeline)
	if err != nil {
		return err
	}
	own, err := transpose.Stretches(s.Timeline)
	if err != nil {
		return err
	}
	clefs := s.returnDisplayClefs()
	if err := s.move(transpose.Options{Stretches: concert, MaxSignature: Unlimited, ConcertScore: true, AsPrinted: true}); err != nil {
		return err
	}
	s.sayPartClefs(clefs)
	if transposes(own) {
		return nil // it says itself how its player reads it, or was read so
	}
	return s.noteForPlayer(own)
}

// transposes reports whether a part is in written pitch somewhere.
func transposes(stretches []transpose.Stretch) bool {
	return slices.ContainsFunc(stretches, func(s transpose.Stretch) bool { return !s.To.OctaveOnly() })
}

// noteForPlayer says in a <for-part> how the player of a part reads it that the
// source has at sounding pitch without a word about its transposition. Unless the
// source says itself that it is a concert score, the part is also marked as
// having stood so, for the way back. own are the octaves that its own <transpose> says: they
// stay, and are added to what the <for-part> says (transpose.ForPart).
func (s *writer) noteForPlayer(own []transpose.Stretch) error {
	if !s.everTransposes() || s.Survey.Declared() || s.Survey.ForPart != nil || len(s.Timeline.Measures) == 0 {
		return nil
	}
	for _, stretch := range s.changedStretches(s.stretches()) {
		e := etree.NewElement("for-part") // for all staves: so are names and changes
		var by transpose.Transposition    // octaves alone stand in the score's own <transpose>
		if !stretch.To.OctaveOnly() {
			by = music.TranspositionBy(stretch.To.Interval().Sub(transpositionAt(own, stretch.Position()).Interval()))
		}
		by.Write(musicxml.SetChildText(e, "part-transpose", ""))
		musicxml.AddInOrder(transpose.BesideTranspose(s.AttributesAt(stretch.Position())), e)
	}
	s.Report.AtSound = !s.Score.SaysConcert
	return nil
}

// everTransposes reports whether the player of a part has a transposing instrument
// anywhere in it: the score's own, or one that is changed to.
func (s *writer) everTransposes() bool {
	return survey.Transposes(s.Assignment.Instrument) ||
		slices.ContainsFunc(s.Changes, func(c draft.InstrumentChange) bool { return survey.Transposes(c.Instrument) })
}

// transpositionAt is the transposition that holds at a place.
func transpositionAt(stretches []transpose.Stretch, at musicxml.Position) (by transpose.Transposition) {
	for _, s := range stretches {
		if s.Position().Compare(at) <= 0 {
			by = s.To
		}
	}
	return by
}

// ToWritten writes the part as its player reads it: as the score's <for-part>
// says, or for the instrument that the part's names mean.
func ToWritten(d *draft.Draft, o Options) error {
	s := &writer{d, o}
	stretches, said, err := transpose.ForPart(s.Timeline)
	if err != nil {
		return err
	}
	switch {
	case said && s.Score.StoodAtSound(s.Assignment.Part) && s.Score.Input != survey.Concert:
		s.Report.AsSource = true
		if stretches, err = transpose.Stretches(s.Timeline); err != nil {
			return err
		}
	case said:
		s.takePartClefs()
	default:
		stretches = s.changedStretches(s.stretches())
	}
	return s.move(transpose.Options{Stretches: stretches, MaxSignature: s.o.MaxSignature, AsPrinted: true})
}

// move carries a change of notation out and reports it.
func (s *writer) move(o transpose.Options) error {
	o.Memory = s.o.Memory
	result, err := transpose.Move(s.Timeline, o)
	if err != nil {
		return err
	}
	s.Report.Transpose, s.Report.Moved = result.Written, result.Moved
	s.Report.Notes = result.Notes
	s.Warn(result.Warnings...)
	s.Rewritten()
	return s.Settle()
}

// Forward says where a part, read by [ReadSource], is moved to from its source: to what
// its player reads, or, where the source is that already, to concert pitch.
func Forward(d *draft.Draft, changes *changes.Reader, o Options) (stretches []transpose.Stretch, concert bool, err error) {
	own, err := transpose.Stretches(d.Timeline)
	if err != nil {
		return nil, false, err
	}
	if transposes(own) {
		stretches, err = transpose.ConcertStretches(d.Timeline)
		return stretches, true, err
	}
	if stretches, said, err := transpose.ForPart(d.Timeline); said || err != nil {
		return stretches, false, err
	}
	s := &writer{d, o}
	err = changes.Find(d)
	return s.changedStretches(s.stretches()), false, err
}
