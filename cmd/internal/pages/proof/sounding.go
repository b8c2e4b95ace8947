package proof

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// transposes reports whether the part sounds anywhere else than written.
func (e *examination) transposes() bool {
	return slices.ContainsFunc(e.said, func(s transpose.Stretch) bool { return s.To.Interval() != pitch.Interval{} })
}

// soundingMusic is the part as it sounds. An instrument that transposes by
// octaves alone keeps its place on the staff, under a clef that says the octave,
// as a double bass in a score does.
func (e *examination) soundingMusic() (*engraving.Music, error) {
	part := e.element.Copy()
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, err
	}
	if _, err := transpose.Move(timeline, transpose.Options{Stretches: []transpose.Stretch{{}}, MaxSignature: parts.Unlimited}); err != nil {
		return nil, err
	}
	music, err := notate.Part(part, notate.Options{})
	if err != nil {
		return nil, err
	}
	if t := e.part.Transpose; len(e.said) == 1 && t.OctaveOnly() {
		changeClefs(music, func(c engraving.Clef) engraving.Clef {
			c.Octave += t.Interval().Diatonic / 7
			return c
		})
	}
	return music, nil
}

// changeClefs replaces every clef with a sign that names a pitch. Rests go where
// the new clef has them.
func changeClefs(m *engraving.Music, replace func(engraving.Clef) engraving.Clef) {
	for s := range m.Staves {
		for b := range m.Staves[s].Measures {
			measure := &m.Staves[s].Measures[b]
			for i, c := range measure.Changes {
				if c.Clef == nil || c.Clef.Sign > engraving.ClefC {
					continue
				}
				clef := replace(*c.Clef)
				measure.Changes[i].Clef = &clef
			}
			for e := range measure.Events() {
				e.RestPosition = nil
			}
		}
	}
}

// fitClef gives music of one staff a piano's clef in place of its own where the
// bars from and to (from 0, to excluded) then need half the ledger lines or fewer:
// a baritone saxophone is read in the treble clef and sounds in the bass.
func fitClef(m *engraving.Music, from, to int) {
	if len(m.Staves) != 1 {
		return
	}
	least := ledgerLines(m, from, to, nil)
	var best *engraving.Clef
	for _, clef := range []engraving.Clef{engraving.Treble(), engraving.Bass()} {
		if n := ledgerLines(m, from, to, &clef); 2*n < least {
			least, best = 2*n, &clef
		}
	}
	if best != nil {
		changeClefs(m, func(engraving.Clef) engraving.Clef { return *best })
	}
}

// ledgerLines counts them in some bars, under the staff's own clefs or another.
func ledgerLines(m *engraving.Music, from, to int, other *engraving.Clef) int {
	lines, clef := 0, engraving.Treble()
	for b := 0; b < to && b < len(m.Bars); b++ {
		measure := &m.Staves[0].Measures[b]
		for _, c := range measure.Changes {
			if c.Clef != nil {
				clef = *c.Clef
			}
		}
		if b < from {
			continue
		}
		if other != nil {
			clef = *other
		}
		for _, n := range notesOf(measure) {
			position := clef.Position(n.Place)
			lines += max(0, (max(position, -position)-4)/2)
		}
	}
	return lines
}

// notesOf lists the heads that are drawn in a bar.
func notesOf(m *engraving.Measure) []engraving.Note {
	var list []engraving.Note
	for e := range m.Events() {
		if !e.Hidden {
			list = append(list, e.Notes...)
		}
	}
	return list
}
