package pitch

// Interval is a move by letter steps and semitones, both signed upward, octaves
// folded in (an octave is 7 and 12). Intervals are a group: the zero value moves
// nothing, Add composes, Negate undoes, and moving by I and then by −I gives
// back the same spelled pitch, never only the same sound.
type Interval struct {
	Diatonic  int // letter steps
	Chromatic int // semitones
}

// Add returns the interval of moving by i and then by j.
func (i Interval) Add(j Interval) Interval {
	return Interval{i.Diatonic + j.Diatonic, i.Chromatic + j.Chromatic}
}

// Negate returns the interval that undoes i.
func (i Interval) Negate() Interval { return Interval{-i.Diatonic, -i.Chromatic} }

// Sub returns i followed by the undoing of j.
func (i Interval) Sub(j Interval) Interval { return i.Add(j.Negate()) }

// Octaves returns an interval of n octaves.
func Octaves(n int) Interval { return Interval{7 * n, 12 * n} }

// Fifths returns how far the interval moves a key on the line of fifths: sharps
// added, flats negative (7·chromatic − 12·diatonic).
func (i Interval) Fifths() int { return 7*i.Chromatic - 12*i.Diatonic }

// Apply moves a pitch. The fraction of a microtone is kept.
func (i Interval) Apply(p Pitch) Pitch {
	moved := At(p.Place() + i.Diatonic)
	moved.Alter = p.MIDI() + Semitones(i.Chromatic) - moved.MIDI()
	return moved
}

// Between returns the interval from a to b and whether it is a whole number of
// semitones; if not, the fraction is left out.
func Between(a, b Pitch) (Interval, bool) {
	n, whole := (b.MIDI() - a.MIDI()).Whole()
	return Interval{b.Place() - a.Place(), n}, whole
}

// Respelled returns the interval one diminished second away: same sound,
// letters moved by n steps.
func (i Interval) Respelled(n int) Interval { return Interval{i.Diatonic + n, i.Chromatic} }

// IsDown reports whether the interval leads downward; a unison is judged by its
// semitones.
func (i Interval) IsDown() bool { return i.Diatonic < 0 || i.Diatonic == 0 && i.Chromatic < 0 }

// up is the interval upward, and how many semitones it is off the perfect or major
// one of its size.
func (i Interval) up() (up Interval, off int) {
	if i.IsDown() {
		i = i.Negate()
	}
	return i, i.Chromatic - natural(i.Diatonic)
}

// natural counts the semitones of the perfect or major interval of that many steps.
func natural(steps int) int { return int(At(steps).MIDI()-Pitch{}.MIDI()) / int(Semitone) }

// isPerfect tells sizes that are perfect, diminished and augmented (unison, fourth,
// fifth, octave) from those that are major and minor.
func isPerfect(steps int) bool {
	size := steps % 7
	return size == 0 || size == 3 || size == 4
}
