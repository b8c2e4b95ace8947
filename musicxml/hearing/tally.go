package hearing

// tally counts intervals by their semitones upward, as they are written.
type tally [12]int

// add counts the intervals from the notes of one choir up to those of another.
func (t *tally) add(lower, upper *census) {
	for a, n := range lower {
		if n == 0 {
			continue
		}
		for b, m := range upper[a:] {
			t[b] += n * m
		}
		for b, m := range upper[:a] {
			t[b+12-a] += n * m
		}
	}
}

func (t *tally) sum() int {
	n := 0
	for _, count := range t {
		n += count
	}
	return n
}

// worth is the consonance of all intervals of a tally with some semitones added, in
// hundredths.
func (e *Ear) worth(t *tally, shift int) int {
	worth := 0
	for semitones, count := range t {
		worth += count * e.weights[class(semitones+shift)]
	}
	return worth
}
