package exercise

import (
	"math/rand/v2"
	"slices"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// placement is where a melody can stand: a compass, in steps from the tonic, the
// octave of that tonic, and the clefs of both staves. The player can play it, and
// the staves hold it.
type placement struct {
	low, high int
	octave    int
	clefs
}

// spans are the sizes of a compass, mostly a sixth, in steps.
var spans = []int{4, 5, 5, 6, 7, 7, 8, 9}

// demands are what a placement must meet.
type demands struct {
	// grade of the school range, "" for the professional range.
	grade string
	// strict keeps to the comfortable part of the range and to few ledger lines.
	strict bool
	// anyLines takes any number of ledger lines, for the lowest instruments.
	anyLines bool
}

// placements lists where melodies in a key can stand; where none stands well, those
// that need a little more of the range, or else those that stand at all.
func (l *Level) placements(p *plan, s scale, m move) []placement {
	tries := []demands{{grade: l.Grade, strict: true}}
	if l.Grade == firstGrade {
		tries = append(tries, demands{grade: secondGrade, strict: true})
	}
	tries = append(tries, demands{grade: l.Grade}, demands{strict: true}, demands{}, demands{anyLines: true})
	for _, d := range tries {
		if list := l.placementsWithin(p, s, m, d); len(list) > 0 {
			return list
		}
	}
	return nil
}

func (l *Level) placementsWithin(p *plan, s scale, m move, d demands) []placement {
	var list []placement
	for _, span := range spans {
		for high := 2; high <= 8; high++ {
			if at := (placement{low: high - span, high: high}); span <= l.Compass && at.fits() {
				for at.octave = 0; at.octave <= 8; at.octave++ {
					if l.holds(p, s, m, &at, d) {
						list = append(list, at)
					}
				}
			}
		}
	}
	return list
}

// fits reports whether a melody can close in the compass: below its highest tone,
// which comes once, it holds the tonic; the highest is not a 7, which could not
// turn back.
func (at placement) fits() bool {
	home := 0
	if at.high > 7 {
		home = 7
	}
	return (tone{step: at.high}).degree() != seventh && at.low <= home && home < at.high
}

// holds reports whether the player's range and the staves hold the compass, and
// sets the clefs.
func (l *Level) holds(p *plan, s scale, m move, at *placement, d demands) bool {
	var tones []tone
	low := at.low
	if p.twoParts {
		low -= deepest
	}
	for step := low; step <= at.high; step++ {
		tones = append(tones, tone{step: step})
	}
	given, answer := pitches(s, m, tones, at.octave)
	written, sounding := answer, given
	if p.task.From == explain.Written {
		written, sounding = given, answer
	}
	if i := p.task.Instrument; i != nil {
		if lowest, highest, ok := d.writtenRange(i); ok && !within(written, lowest, highest) {
			return false
		}
	}
	w := explain.BestClef(written, l.writtenClefs(p))
	h := explain.BestClef(sounding, l.soundingClefs(p, w))
	if l.Number < clefChanges && p.near() && p.clefs == nil {
		h = w
	}
	at.given, at.answer = w, h
	if p.task.From == explain.Sounding {
		at.given, at.answer = h, w
	}
	if p.clefs != nil && p.task.Instrument == nil && !(onThePage(given, at.given) && onThePage(answer, at.answer)) {
		return false
	}
	lines := 2*explain.LedgerLines(written, w) + explain.LedgerLines(sounding, h)
	if d.strict {
		return 2*lines <= 3*len(tones)
	}
	return d.anyLines || lines <= 4*len(tones)
}

// farthest is how far from the middle line notes stand at most where clefs are the
// point: with three ledger lines.
const farthest = 11

// onThePage reports whether notes keep to that.
func onThePage(pitches []pitch.Pitch, c instruments.Clef) bool {
	return !slices.ContainsFunc(pitches, func(p pitch.Pitch) bool { return pitch.Abs(p.Place()-explain.MiddleLine(c)) > farthest })
}

// near reports whether both pitches lie so close that one clef serves for both.
func (p *plan) near() bool { return pitch.Abs(p.task.Interval().Diatonic) < 7 }

// pitches are the given and the answered notes of a melody.
func pitches(s scale, m move, tones []tone, octave int) (given, answer []pitch.Pitch) {
	for _, t := range tones {
		g := s.pitch(t, octave)
		given, answer = append(given, g), append(answer, m.interval.Apply(g))
	}
	return given, answer
}

func within(pitches []pitch.Pitch, low, high int) bool {
	return !slices.ContainsFunc(pitches, func(p pitch.Pitch) bool {
		n, _ := p.MIDI().Whole()
		return n < low || n > high
	})
}

// clefChanges is the level from which both staves may have different clefs.
const clefChanges = 3

// writtenClefs are those of the instrument: its usual one, at the higher levels
// any. Versions of an exercise have the clefs of the first.
func (l *Level) writtenClefs(p *plan) []instruments.Clef {
	i := p.task.Instrument
	switch {
	case p.clefs != nil:
		return []instruments.Clef{p.clefs.on(p.task.From == explain.Written)}
	case i == nil || len(i.Clefs) == 0:
		return []instruments.Clef{explain.Treble, explain.Bass}
	case l.Number < 4:
		return i.Clefs[:1]
	}
	return i.Clefs
}

// soundingClefs are the clef of the written side, then those of a piano.
func (l *Level) soundingClefs(p *plan, written instruments.Clef) []instruments.Clef {
	if p.clefs != nil {
		return []instruments.Clef{p.clefs.on(p.task.From == explain.Sounding)}
	}
	list := []instruments.Clef{written}
	for _, c := range []instruments.Clef{explain.Treble, explain.Bass} {
		if c != written {
			list = append(list, c)
		}
	}
	return list
}

// on is the clef of the question, or of the answer.
func (c *clefs) on(question bool) instruments.Clef {
	if question {
		return c.given
	}
	return c.answer
}

// varyClef takes another clef of the level for the sounding side, where one holds
// the notes about as well, every other time.
func (l *Level) varyClef(p *plan, s scale, m move, tones []tone, at *placement, rng *rand.Rand) {
	if p.clefs != nil || len(l.Clefs) <= 2 || rng.IntN(2) == 0 {
		return
	}
	given, answer := pitches(s, m, tones, at.octave)
	sounding, clef := given, &at.given
	if p.task.From == explain.Written {
		sounding, clef = answer, &at.answer
	}
	room := explain.LedgerLines(sounding, *clef) + len(tones)/4
	var fit []instruments.Clef
	for _, name := range l.Clefs {
		if c, _ := instruments.ParseClef(name); explain.LedgerLines(sounding, c) <= room {
			fit = append(fit, c)
		}
	}
	if len(fit) > 0 {
		*clef = fit[rng.IntN(len(fit))]
	}
}
