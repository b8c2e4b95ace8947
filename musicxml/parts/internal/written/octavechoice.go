package written

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// The costs by which octaves are chosen for passages, in no unit: only their
// proportions count. A note that the instrument does not have costs more than a
// change there and back; an uncomfortable one is worth a change only with others.
const (
	costOutside    = 400 // a note out of the full range
	costFurther    = 10  // each semitone that it lies further out
	costStrained   = 6   // a note in the full range, out of the comfortable one
	costStrainedBy = 1   // each semitone further
	costAway       = 2   // a note, for each octave away from the score's sound
	costAtRest     = 20  // a change of octave after a bar of rest
	costAtGap      = 40  // … after a shorter rest
	costAtBreath   = 80  // … at a breath mark or the end of a slur
	costNever      = 1 << 40
)

// farthestOctave bounds the octaves that are tried, both ways.
const farthestOctave = 4

// linePhrase is what keeps one octave: from a rest, a breath mark or the end of a slur
// to the next.
type linePhrase struct {
	at     musicxml.Position
	change int64                       // cost of another octave than the phrase before, for each octave
	cost   [2*farthestOctave + 1]int64 // of each octave
}

// bestOctaves chooses the octaves of all phrases together: the cheapest way
// through them, found from the end (dynamic programming), so that no choice for
// one phrase spoils the next.
func (s *writer) bestOctaves(source []transpose.Stretch) []draft.OctaveChange {
	compass, ok := s.Assignment.Instrument.Range(s.o.Level)
	if !ok {
		return nil
	}
	phrases := s.phrases(octaveCosts{compass: compass.Sounding, to: survey.TranspositionOf(s.Assignment.Instrument).Interval(), source: source})
	var changes []draft.OctaveChange
	last := 0
	for i, octave := range cheapestWay(phrases) {
		if octave != last || i == 0 && octave != 0 {
			place := phrases[i].at
			if i == 0 {
				place = musicxml.Position{} // from the first bar on, rests and all
			}
			changes = append(changes, draft.OctaveChange{At: place, Octave: octave})
		}
		last = octave
	}
	return s.named(changes)
}

// cheapestWay returns the octave of each phrase.
func cheapestWay(phrases []linePhrase) []int {
	const n = 2*farthestOctave + 1
	rest := make([][n]int64, len(phrases)+1) // what phrase i and all after it cost
	next := make([][n]int, len(phrases)+1)   // the best choice for phrase i after that octave
	for i := len(phrases) - 1; i >= 0; i-- {
		for before := range n {
			best := int64(-1)
			for _, o := range nearestFirst {
				way := phrases[i].cost[o] + rest[i+1][o]
				if i > 0 {
					way += phrases[i].change * int64(pitch.Abs(o-before))
				}
				if best < 0 || way < best {
					best, next[i][before] = way, o
				}
			}
			rest[i][before] = best
		}
	}
	octaves := make([]int, len(phrases))
	now := farthestOctave
	for i := range octaves {
		now = next[i][now]
		octaves[i] = now - farthestOctave
	}
	return octaves
}

// nearestFirst are the octaves from the score's own outward, lower before higher,
// so that of equal ways the nearest is taken.
var nearestFirst = [2*farthestOctave + 1]int{4, 3, 5, 2, 6, 1, 7, 0, 8}

// octaveCosts weighs notes for an instrument.
type octaveCosts struct {
	compass instruments.Compass // as it sounds
	to      pitch.Interval      // of the instrument
	source  []transpose.Stretch // what the score's part says
}

// phrases cuts the part where its octave may change and weighs each piece.
func (s *writer) phrases(weigh octaveCosts) []linePhrase {
	inTime := s.o.Page.InTime(1)
	var all []linePhrase
	open := false // the passage before ends a phrase
	for _, p := range s.o.Page.Passages(inTime, s.Timeline.Measures) {
		if len(all) == 0 || p.Start == staff.AfterRest || p.Start == staff.AfterRestBar || open {
			all = append(all, linePhrase{at: p.At, change: s.costOfChange(p, all)})
		}
		now := &all[len(all)-1]
		for _, k := range inTime[p.First:p.Last] {
			weigh.add(now, &s.o.Page.Notes[k])
		}
		open = s.endsPhrase(inTime[p.First:p.Last])
	}
	return all
}

// costOfChange tells what another octave from a passage on costs.
func (s *writer) costOfChange(p staff.Passage, before []linePhrase) int64 {
	switch {
	case len(before) > 0 && s.barsOfRest(p):
		return costAtRest
	case p.Start == staff.AfterRest || p.Start == staff.AfterRestBar:
		return costAtGap
	}
	return costAtBreath
}

// barsOfRest reports whether a whole bar without notes comes before a passage.
func (s *writer) barsOfRest(p staff.Passage) bool {
	if p.At.Measure == 0 {
		return false
	}
	for _, ev := range s.Timeline.Measures[p.At.Measure-1].Events {
		if ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue {
			return false
		}
	}
	return true
}

// endsPhrase reports whether the last of some notes has a breath mark, a pause or
// the end of a slur.
func (s *writer) endsPhrase(notes []int) bool {
	if len(notes) == 0 {
		return false
	}
	last := &s.o.Page.Notes[notes[len(notes)-1]]
	if !last.Event.Marked {
		return false
	}
	for _, notations := range musicxml.Children(last.Event.Element, "notations") {
		for _, e := range notations.ChildElements() {
			if e.Tag == "slur" && musicxml.Attr(e, "type") == "stop" || e.Tag == "fermata" || breathes(e) {
				return true
			}
		}
	}
	return false
}

func breathes(e *etree.Element) bool {
	return e.Tag == "articulations" && (musicxml.Child(e, "breath-mark") != nil || musicxml.Child(e, "caesura") != nil)
}

// add weighs a note at every octave. One that is tied on was weighed where it
// began; cue notes and harmonics are not fingered at their pitch.
func (w *octaveCosts) add(p *linePhrase, n *staff.Note) {
	if n.Event.Cue || n.Unpitched() || n.Pitch == nil || music.ReadTies(n.Event.Element).Stop() || draft.IsHarmonic(n.Event.Element) {
		return
	}
	sound := n.Sound + soundingAt(w.source, n).Chromatic
	for o := range p.cost {
		p.cost[o] += w.note(sound, o-farthestOctave)
	}
}

// The MIDI numbers of C0 and of B9, between which MusicXML can write a note.
const lowestWritable, highestWritable = 12, 131

func (w *octaveCosts) note(sound, octave int) int64 {
	sound += 12 * octave
	c := &w.compass
	cost := int64(pitch.Abs(octave) * costAway)
	if written := sound - w.to.Chromatic; written < lowestWritable+1 || written > highestWritable-1 {
		return costNever
	}
	switch outside := beyond(sound, c.Low, c.High); {
	case outside > 0:
		cost += costOutside + int64(outside*costFurther)
	default:
		if strained := beyond(sound, c.ComfortableLow, c.ComfortableHigh); strained > 0 {
			cost += costStrained + int64(strained*costStrainedBy)
		}
	}
	return cost
}

// beyond counts the semitones that a note lies out of a range.
func beyond(sound int, low, high pitch.Pitch) int {
	return max(0, low.NoteNumber()-sound, sound-high.NoteNumber())
}

// soundingAt is what is added to a note's written pitch.
func soundingAt(said []transpose.Stretch, n *staff.Note) pitch.Interval {
	var now pitch.Interval
	for i := range said {
		t := &said[i]
		if (t.Staff == 0 || t.Staff == n.Event.Staff) && t.Position().Compare(n.At()) <= 0 {
			now = t.To.Interval()
		}
	}
	return now
}
