package cues

import (
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// How a part is weighed as the source of a cue, in points. A cue is a prominent
// line just before the entry (wmgso); voices and keyboards come last (cueguides);
// the rest is common practice, no source.
const (
	pointsCover    = 300 // sounds all through
	pointsMoves    = 250 // a line that moves, not one note again and again
	pointsAttacks  = 200 // for mostHeard notes a bar and more
	pointsTop      = 250 // is the highest of those that play
	pointsDistance = 12  // taken away for each semitone from where the player enters
	lastResort     = 600 // taken away from voices and keyboards
	pointsChords   = 60  // taken away from music in chords
	pointsFlurry   = 200 // taken away from figuration that nobody counts

	mostHeard  = 6
	flurry     = 16 // notes a bar
	leastCover = 0.4
)

// listening is the search for the part that leads to an entry.
type listening struct {
	*cuer
	bars  []int // that are to be cued, in order
	entry int   // where the player enters, as a MIDI number; 0 where that is not known
}

// leader finds the part that leads to the entry, and from which of the bars on; ok
// is false where nobody does.
func (l *listening) leader() (part, from int, ok bool) {
	for from = range l.bars {
		if part, ok = l.best(l.bars[from:]); ok {
			return part, from, true
		}
	}
	return 0, 0, false
}

// best weighs the parts that play in all the bars. Of equals the upper one leads.
func (l *listening) best(bars []int) (part int, ok bool) {
	var most int
	for i := range l.Score.Parts {
		if !l.heard(i, bars) {
			continue
		}
		if points := l.weigh(i, bars); !ok || points > most {
			part, most, ok = i, points, true
		}
	}
	return part, ok
}

// heard reports whether a part may be cued: another one than the player's own,
// with pitch, that somebody plays, and in every bar.
func (l *listening) heard(i int, bars []int) bool {
	s, does := &l.Score.Parts[i], l.Activity[i]
	if i == l.Assignment.Part || len(does) == 0 || l.Labels[i] == "" {
		return false
	}
	for _, bar := range bars {
		if bar >= len(does) || does[bar].attacks == 0 || does[bar].cover < leastCover ||
			s.Measures[bar].Length != l.Timeline.Measures[bar].Length {
			return false
		}
	}
	return true
}

// weigh gives a part its points.
func (l *listening) weigh(i int, bars []int) int {
	var all Activity
	points, n := 0, len(bars)
	for _, bar := range bars {
		a := l.Activity[i][bar]
		points += int(pointsCover*min(a.cover, 1)) / n
		points += pointsMoves * a.moves / a.attacks / n
		points += pointsAttacks * min(a.attacks, mostHeard) / mostHeard / n
		all.attacks += a.attacks
		all.sum += a.sum
		all.chords = all.chords || a.chords
	}
	points += l.height(i, bars, all.mean())
	if l.entry > 0 {
		points -= pointsDistance * pitch.Abs(all.mean()-l.entry) / 2
	}
	if all.chords {
		points -= pointsChords
	}
	if all.attacks > flurry*n {
		points -= pointsFlurry
	}
	return points - reserve(l.Score.Parts[i].Match.Instrument)
}

// height gives points for the share of other lines that lie lower.
func (l *listening) height(i int, bars []int, mean int) int {
	lower, others := 0, 0
	for k := range l.Score.Parts {
		if k == i || !l.heard(k, bars) {
			continue
		}
		others++
		sum, attacks := 0, 0
		for _, bar := range bars {
			sum += l.Activity[k][bar].sum
			attacks += l.Activity[k][bar].attacks
		}
		if sum/attacks < mean {
			lower++
		}
	}
	if others == 0 {
		return pointsTop
	}
	return pointsTop * lower / others
}

func reserve(in *instruments.Instrument) int {
	if in != nil && (in.Group == instruments.Voices || in.Group == instruments.Keyboards || in.Group == instruments.Plucked) {
		return lastResort
	}
	return 0
}
