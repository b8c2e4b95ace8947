package octaves

// Lie is how a line lies for an instrument in the octaves that were chosen.
type Lie struct {
	Notes       int
	Missing     int // notes that the instrument does not have
	Strange     int // notes that it has, out of the expected range
	Strained    int // expected notes out of the comfortable range
	Main        int // the octave of most notes, of equal ones the nearest
	Moved       int // notes away from the score's octave
	Away        int // octaves away from the score's, summed over the notes
	Changes     int // of octave on the way
	DearChanges int // those in the middle of a phrase
	SumOfSounds int // of the MIDI numbers
}

// Weigh counts what a choice of octaves, one for each phrase, comes to.
func Weigh(phrases []Phrase, chosen []int, c Compass) Lie {
	var l Lie
	var at [tried]int
	for i := range phrases {
		octave := chosen[i]
		if i > 0 && octave != chosen[i-1] {
			l.Changes++
			if phrases[i].Before == AtBar && phrases[i].breaks(octave-chosen[i-1]) {
				l.DearChanges++
			}
		}
		at[octave+Farthest] += len(phrases[i].Sounds)
		for _, sound := range phrases[i].Sounds {
			l.count(sound+12*octave, &c)
		}
	}
	for _, o := range nearestFirst {
		away := distance(o, Farthest)
		l.Away += away * at[o]
		if away > 0 {
			l.Moved += at[o]
		}
		if at[o] > at[l.Main+Farthest] {
			l.Main = o - Farthest
		}
	}
	return l
}

func (l *Lie) count(sound int, c *Compass) {
	l.Notes++
	l.SumOfSounds += sound
	switch {
	case !c.Has(sound):
		l.Missing++
	case !c.Expects(sound):
		l.Strange++
	case !c.Comfortable(sound):
		l.Strained++
	}
}
