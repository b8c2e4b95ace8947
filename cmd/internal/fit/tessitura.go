package fit

import (
	"cmp"
	"fmt"
	"slices"

	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// Tessitura is where a line lies: its outermost notes, and the two between which
// it spends the middle half of its time.
type Tessitura struct {
	Lowest     string `json:"lowest"`
	Highest    string `json:"highest"`
	MostlyLow  string `json:"mostly_low"`
	MostlyHigh string `json:"mostly_high"`
}

// tessituraOf measures the line's pitches as choose gives them.
func tessituraOf(line Line, choose func(*Note) pitch.Pitch) Tessitura {
	if len(line) == 0 {
		return Tessitura{}
	}
	type weighed struct {
		pitch pitch.Pitch
		time  float64
	}
	var all []weighed
	total := 0.0
	for i := range line {
		w := weighed{choose(&line[i]), max(line[i].Duration.Float(), 1.0/64)}
		total += w.time
		all = append(all, w)
	}
	slices.SortStableFunc(all, func(a, b weighed) int { return cmp.Compare(a.pitch.MIDI(), b.pitch.MIDI()) })
	at := func(share float64) string {
		sum := 0.0
		for _, w := range all {
			if sum += w.time; sum >= share*total {
				return w.pitch.String()
			}
		}
		return all[len(all)-1].pitch.String()
	}
	return Tessitura{all[0].pitch.String(), all[len(all)-1].pitch.String(), at(0.25), at(0.75)}
}

// Words says where the line lies.
func (t Tessitura) Words() string {
	switch {
	case t.Lowest == "":
		return "silent"
	case t.Lowest == t.Highest:
		return t.Lowest + " alone"
	case t.MostlyLow == t.MostlyHigh:
		return fmt.Sprintf("%s to %s, mostly about %s", t.Lowest, t.Highest, t.MostlyLow)
	}
	return fmt.Sprintf("%s to %s, mostly %s to %s", t.Lowest, t.Highest, t.MostlyLow, t.MostlyHigh)
}

// lies says in words how a line suits an instrument's range, both as they sound.
func lies(line Line, in *instruments.Instrument, level instruments.Level) string {
	r, ok := in.Range(level)
	if !ok || len(line) == 0 {
		return ""
	}
	full, comfortable := shares(line, r.Sounding)
	name := in.Label("en", "")
	switch {
	case full < 1:
		return fmt.Sprintf("%s of its notes in the range of %s (written %s to %s)", Percent(full), name, r.Written.Low, r.Written.High)
	case comfortable == 1:
		return "all of it comfortable for " + name
	case comfortable >= 0.5:
		return fmt.Sprintf("within the range of %s, %s of it comfortable", name, Percent(comfortable))
	}
	below, above := strain(line, r.Sounding)
	if below > above {
		return "within the range of " + name + ", but low for it"
	}
	return "within the range of " + name + ", but high for it"
}

// strain counts the notes below and above the comfortable range.
func strain(line Line, c instruments.Compass) (below, above int) {
	for i := range line {
		switch m := line[i].midi(); {
		case m < c.ComfortableLow.NoteNumber():
			below++
		case m > c.ComfortableHigh.NoteNumber():
			above++
		}
	}
	return below, above
}

// shares are how much of a line lies in a range, and in its comfortable part: its notes,
// all counting alike.
func shares(line Line, c instruments.Compass) (full, comfortable float64) {
	for i := range line {
		m := line[i].midi()
		if c.Contains(m) {
			full++
		}
		if c.Comfortable(m) {
			comfortable++
		}
	}
	n := float64(len(line))
	return full / n, comfortable / n
}

// Percent writes a share, never rounding up to all or down to nothing.
func Percent(share float64) string {
	switch n := int(share*100 + 0.5); {
	case n >= 100 && share < 1:
		return "99%"
	case n == 0 && share > 0:
		return "1%"
	default:
		return fmt.Sprintf("%d%%", n)
	}
}
