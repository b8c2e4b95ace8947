package engraving

import (
	"math"
	"slices"
)

// usualSigns are the accidentals of alterations in semitones.
var usualSigns = map[float64]string{
	-3: "triple-flat", -2: "flat-flat", -1.5: "three-quarters-flat", -1: "flat", -0.5: "quarter-flat",
	0: "natural", 0.5: "quarter-sharp", 1: "sharp", 1.5: "three-quarters-sharp", 2: "double-sharp", 3: "triple-sharp",
}

// UsualAccidental names the accidental of an alteration in semitones; "" where music has
// no usual sign for it.
func UsualAccidental(alter float64) string { return usualSigns[alter] }

// PrintAccidentals gives each note the accidental that a reader needs: where its
// alteration is not that of the signature, or of an accidental before it on the
// same line or space of the same bar. The end of a tie needs none. It replaces
// whatever accidentals were there, and serves music made by a program; music
// from a file keeps the accidentals of its editor.
func (m *Music) PrintAccidentals() {
	for s := range m.Staves {
		key := Key{}
		for b := range m.Staves[s].Measures {
			key = printMeasure(&m.Staves[s].Measures[b], key)
		}
	}
}

// printMeasure works through one bar and returns the key at its end.
func printMeasure(measure *Measure, key Key) Key {
	inForce := map[Place]float64{}
	changes := measure.Changes
	for _, e := range inTime(measure) {
		for len(changes) > 0 && !e.Onset.Less(changes[0].Onset) {
			if changes[0].Key != nil {
				key, inForce = *changes[0].Key, map[Place]float64{}
			}
			changes = changes[1:]
		}
		for i := range e.Notes {
			printNote(&e.Notes[i], key, inForce)
		}
	}
	for _, c := range changes {
		if c.Key != nil {
			key = *c.Key
		}
	}
	return key
}

func printNote(n *Note, key Key, inForce map[Place]float64) {
	n.Accidental = nil
	if n.TieFrom || n.Unpitched {
		return
	}
	now, changed := inForce[n.Place]
	if !changed {
		now = key.alter(n.Step)
	}
	if math.Abs(now-n.Alter) < 1e-9 {
		return
	}
	if sign := UsualAccidental(n.Alter); sign != "" {
		n.Accidental = &Accidental{Sign: sign}
		inForce[n.Place] = n.Alter
	}
}

// restated are the notes at the beginning of a bar that a tie leads to and that the
// signature would alter otherwise: where the bar begins a line their accidental stands
// there again, in parentheses, as its tie has come from out of sight (common practice, no
// source). Not in a chord of which a note's line or space is read by the signature later.
func (l *Layout) restated(s, bar int) []*Note {
	measure := &l.music.Staves[s].Measures[bar]
	now := l.states[s][bar].opened(measure)
	if l.o.AsWritten || now.clef.Sign == ClefTab || bar == 0 || l.music.Bars[bar].RestBars > 0 {
		return nil
	}
	var list []*Note
	bySignature := map[Place]bool{}
	for _, e := range slices.Backward(inTime(measure)) {
		var chord []*Note
		for i := range e.Notes {
			n := &e.Notes[i]
			switch {
			case e.Hidden || n.Hidden || n.Unpitched || n.Accidental != nil:
			case !n.TieFrom:
				bySignature[n.Place] = true
			case e.Onset.Sign() == 0 && math.Abs(n.Alter-now.key.alter(n.Step)) > 1e-9 && UsualAccidental(n.Alter) != "":
				chord = append(chord, n)
			}
		}
		if !slices.ContainsFunc(chord, func(n *Note) bool { return bySignature[n.Place] }) {
			list = append(list, chord...)
		}
	}
	return list
}

// inTime returns the events of all voices of a measure in order of time, grace
// notes before the note they lead to.
func inTime(measure *Measure) []*Event {
	all := slices.Collect(measure.Events())
	slices.SortStableFunc(all, func(a, b *Event) int { return a.Onset.Cmp(b.Onset) })
	return all
}

// alter returns what the signature does to a step (C to B as 0 to 6), in
// semitones.
func (k Key) alter(step int) float64 {
	for _, s := range k.Signs {
		if s.Step == step {
			return signAlters[s.Sign]
		}
	}
	if len(k.Signs) > 0 {
		return 0
	}
	// The place on the line of fifths: F is 0, C 1, … B 6.
	place := [7]int{1, 3, 5, 0, 2, 4, 6}[step]
	return math.Floor(float64(k.Fifths-place+6) / 7)
}

// signAlters are the alterations in semitones that accidentals mean, as the
// MusicXML standard and its usual readings have it.
var signAlters = map[string]float64{
	"sharp": 1, "natural": 0, "flat": -1, "double-sharp": 2, "sharp-sharp": 2, "flat-flat": -2,
	"natural-sharp": 1, "natural-flat": -1, "quarter-flat": -0.5, "quarter-sharp": 0.5,
	"three-quarters-flat": -1.5, "three-quarters-sharp": 1.5, "triple-sharp": 3, "triple-flat": -3,
	"sharp-down": 0.5, "sharp-up": 1.5, "natural-down": -0.5, "natural-up": 0.5, "flat-down": -1.5, "flat-up": -0.5,
	"double-sharp-down": 1.5, "double-sharp-up": 2.5, "flat-flat-down": -2.5, "flat-flat-up": -1.5,
}
