package parts

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/transpose"
)

// nameChanges prints the instrument's name where the player goes on with it and
// the score does not (part-preparation, 3): boxed, so that it stands out.
func (s *sheet) nameChanges() error {
	for i := range s.changes {
		c := &s.changes[i]
		s.warnHasty(c)
		if c.named {
			continue
		}
		direction := etree.NewElement("direction")
		direction.CreateAttr("placement", "above")
		words := direction.CreateElement("direction-type").CreateElement("words")
		words.CreateAttr("enclosure", "rectangle")
		words.SetText(c.instrument.Label(s.options.Language, ""))
		m := &s.timeline.Measures[c.measure]
		s.insertInside(m, c.onset, direction)
		s.markWords(direction)
	}
	if len(s.changes) == 0 {
		return nil
	}
	return s.renew()
}

// leastSeconds is how long it takes to change instruments (pimentel: under five
// seconds is risky).
const leastSeconds = 5

// warnHasty says so where the player has too little time to change.
func (s *sheet) warnHasty(c *instrumentChange) {
	tempo := s.tempoAt(c.point)
	seconds := 0.0
	if c.silence.Sign() > 0 {
		if tempo == 0 {
			return // nothing tells how long the rest is
		}
		seconds = c.silence.Float() * 60 / tempo
	}
	if seconds >= leastSeconds || c.point == (point{}) {
		return
	}
	m := &s.timeline.Measures[c.measure]
	s.warn(musicxml.Warning{Code: "hasty-change", Measure: m.Number, Beat: m.Beat(c.onset),
		Text: fmt.Sprintf("the player has %.0f seconds to change to %s; under %d are risky", seconds, c.instrument.Label("en", ""), leastSeconds)})
}

// tempoAt is the playback tempo in force at a place, in quarter notes a minute; 0
// where none is said.
func (s *sheet) tempoAt(at point) float64 {
	tempo := 0.0
	for i := range s.timeline.Measures[:at.measure+1] {
		for _, ev := range s.timeline.Measures[i].Events {
			sound := ev.Element
			if ev.Kind == musicxml.Direction {
				sound = musicxml.Child(ev.Element, "sound")
			}
			if sound == nil || sound.Tag != "sound" || at.compare(point{i, ev.Onset}) < 0 {
				continue
			}
			if n, err := strconv.ParseFloat(musicxml.Attr(sound, "tempo"), 64); err == nil && n > 0 {
				tempo = n
			}
		}
	}
	return tempo
}

// instrumentAt is the instrument that the player has at a place.
func (s *sheet) instrumentAt(at point) *instruments.Instrument {
	in := s.assignment.Instrument
	for i := range s.changes {
		if s.changes[i].compare(at) <= 0 {
			in = s.changes[i].instrument
		}
	}
	return in
}

// changedStretches adds to the stretches of the part those that begin with another
// instrument. What the score itself says at the change, in a <transpose> or a
// <for-part>, is not overruled.
func (s *sheet) changedStretches(stretches []transpose.Stretch) []transpose.Stretch {
	said := slices.Clone(stretches)
	for i := range s.changes {
		c := &s.changes[i]
		if at, ok := s.saidAtChange(c, said); ok {
			s.warnUnlike(c, at)
			continue
		}
		if s.keepsSource() {
			s.warnUnsaid(c)
			continue
		}
		stretches = append(stretches, transpose.Stretch{Measure: c.measure, Onset: c.onset, To: s.transpositionFor(c),
			WithoutSignature: s.withoutSignatureFor(c.instrument), DropDoubling: s.assignment.Player > 0})
	}
	slices.SortStableFunc(stretches, func(a, b transpose.Stretch) int {
		return point{a.Measure, a.Onset}.compare(point{b.Measure, b.Onset})
	})
	return stretches
}

// keepsSource reports whether the part is one whose source says a transposition
// that is no plain octave: it is in written pitch, and stays as it is.
func (s *sheet) keepsSource() bool { return s.assignment.RecognisedBy == ByTranspose }

// saidAtChange finds what the score says of pitch between the announcement of a
// change and its first note.
func (s *sheet) saidAtChange(c *instrumentChange, stretches []transpose.Stretch) (transpose.Transposition, bool) {
	for i := len(stretches) - 1; i >= 0; i-- {
		at := point{stretches[i].Measure, stretches[i].Onset}
		if at.compare(c.point) <= 0 && c.announced.compare(at) <= 0 && at != (point{}) {
			return stretches[i].To, true
		}
	}
	return transpose.Transposition{}, false
}

// transpositionFor is how the new instrument is written. An octave instrument
// keeps the notation of the score, as at the start of a part.
func (s *sheet) transpositionFor(c *instrumentChange) transpose.Transposition {
	if !c.instrument.OctaveOnly() {
		return transpositionOf(c.instrument)
	}
	var now transpose.Transposition
	for _, own := range s.survey.Source {
		if (point{own.Measure, own.Onset}).compare(c.point) <= 0 {
			now = own.To
		}
	}
	return now
}

// warnUnlike says so where the score's transposition is not that of the
// instrument it names.
func (s *sheet) warnUnlike(c *instrumentChange, says transpose.Transposition) {
	if c.instrument.OctaveOnly() && says.OctaveOnly() || soundingOf(c.instrument) == says.Interval() {
		return
	}
	m := &s.timeline.Measures[c.measure]
	s.warn(musicxml.Warning{Code: "change-contradicted", Measure: m.Number, Beat: m.Beat(c.onset),
		Text: fmt.Sprintf("the score changes to %s here, but its transposition is another instrument's; the transposition was followed", c.instrument.Label("en", ""))})
}

// warnUnsaid says so where a part in written pitch changes instrument and does not
// say the new transposition.
func (s *sheet) warnUnsaid(c *instrumentChange) {
	var now transpose.Transposition
	for _, own := range s.survey.Source {
		if (point{own.Measure, own.Onset}).compare(c.point) <= 0 {
			now = own.To
		}
	}
	if soundingOf(c.instrument) == now.Interval() {
		return
	}
	m := &s.timeline.Measures[c.measure]
	s.warn(musicxml.Warning{Code: "change-without-transpose", Measure: m.Number, Beat: m.Beat(c.onset),
		Text: fmt.Sprintf("the score changes to %s here without a transposition of its own; the notes were left as they are", c.instrument.Label("en", ""))})
}

// sayUnsaidChanges writes the <transpose> of each further instrument in a source
// in written pitch that leaves them out.
func (s *sheet) sayUnsaidChanges() {
	for i := range s.changes {
		c := &s.changes[i]
		attributes := s.attributesAt(c.measure, c.onset)
		if musicxml.Child(attributes, "transpose") == nil {
			e := etree.NewElement("transpose")
			transpositionOf(c.instrument).Write(e)
			musicxml.AddInOrder(attributes, e)
		}
	}
}
