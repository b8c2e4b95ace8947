package exercise

import (
	"math/rand/v2"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// Chord is what a score sounds in a bar: its root, by name alone, and its kind in
// MusicXML's words (major, minor, diminished, dominant, minor-seventh).
type Chord struct {
	Root pitch.Pitch
	Kind string
}

// chordDegree is a chord of a key: the degree of its root, whether it has a seventh,
// whether its third is raised to that of a dominant.
type chordDegree struct {
	root      int
	seventh   bool
	dominant  bool
	inversion int // 0 for the root in the bass, 1 for the third
}

// scoreLevel is what a level of score reading has: players from high to low, the
// number of bars, and the progressions.
type scoreLevel struct {
	players      []string
	minor        bool
	fifths       int
	progressions [][]chordDegree
}

var scoreLevels = [Levels]scoreLevel{
	{players: []string{"flute", "clarinet-bflat", "bassoon"}, fifths: 2, progressions: [][]chordDegree{
		{{root: tonic}, {root: fourth}, {root: fifth}, {root: tonic}},
		{{root: tonic}, {root: fifth}, {root: fourth}, {root: tonic}},
	}},
	{players: []string{"clarinet-bflat", "horn-f", "bassoon"}, fifths: 3, progressions: [][]chordDegree{
		{{root: tonic}, {root: sixth}, {root: fourth}, {root: fifth}},
		{{root: tonic}, {root: fourth, inversion: 1}, {root: fifth}, {root: tonic}},
		{{root: sixth}, {root: second}, {root: fifth}, {root: tonic}},
	}},
	{players: []string{"oboe", "clarinet-a", "horn-f", "bassoon"}, fifths: 3, minor: true, progressions: [][]chordDegree{
		{{root: tonic}, {root: fourth}, {root: fifth, dominant: true}, {root: tonic}},
		{{root: tonic}, {root: sixth}, {root: second, inversion: 1}, {root: fifth, dominant: true}},
		{{root: tonic}, {root: fifth, dominant: true, inversion: 1}, {root: tonic}, {root: fourth}},
	}},
	{players: []string{"alto-saxophone-eflat", "clarinet-bflat", "horn-f", "bassoon"}, fifths: 4, minor: true, progressions: [][]chordDegree{
		{{root: tonic}, {root: second, inversion: 1}, {root: fifth, seventh: true, dominant: true}, {root: tonic}},
		{{root: tonic}, {root: fourth}, {root: fifth, seventh: true, dominant: true, inversion: 1}, {root: tonic}},
		{{root: sixth}, {root: fourth}, {root: fifth, seventh: true, dominant: true}, {root: tonic}},
	}},
	{players: []string{"oboe", "clarinet-a", "horn-eflat", "trumpet-d", "bassoon"}, fifths: 5, minor: true, progressions: [][]chordDegree{
		{{root: tonic}, {root: second, dominant: true}, {root: fifth, seventh: true, dominant: true}, {root: tonic}},
		{{root: tonic}, {root: second, seventh: true, inversion: 1}, {root: fifth, seventh: true, dominant: true}, {root: sixth}},
		{{root: fourth}, {root: second, seventh: true, dominant: true, inversion: 1}, {root: fifth, dominant: true}, {root: tonic}},
	}},
}

// scoreReading makes an exercise of chords for several players, to be read at
// sounding pitch and named.
func (l *Level) scoreReading(catalogue *instruments.Catalogue, follow *Exercise, rng *rand.Rand) (*Exercise, error) {
	of := scoreLevels[l.Number-1]
	for {
		key := pitch.Key{Fifths: rng.IntN(2*of.fifths+1) - of.fifths, Mode: pitch.Major}
		if of.minor && rng.IntN(2) == 0 {
			key.Mode = pitch.Minor
		}
		if follow != nil {
			key = follow.Band.Key
			key.Fifths = max(-of.fifths, min(of.fifths, key.Fifths+1-2*rng.IntN(2)))
		}
		v := voicing{scale: scale{key}, chords: of.progressions[rng.IntN(len(of.progressions))]}
		for _, id := range of.players {
			v.players = append(v.players, catalogue.ByID(id))
		}
		if e, ok, err := l.scoreExercise(&v, rng); ok || err != nil {
			return e, err
		}
	}
}

// voicing gives the tones of chords to players.
type voicing struct {
	scale   scale
	chords  []chordDegree
	players []*instruments.Instrument
}

// tones are those of a chord, from the bass up, as pitches without octave; the chord's
// name goes with them.
func (v *voicing) tones(c chordDegree) ([]pitch.Pitch, Chord) {
	var list []pitch.Pitch
	count := 3
	if c.seventh {
		count = 4
	}
	root := v.scale.pitch(tone{step: c.root}, 4)
	for n := range count {
		t := tone{step: c.root + 2*n}
		p := v.scale.pitch(t, 4)
		switch {
		case c.dominant && n == 1: // the major third that leads
			p = pitch.Interval{Diatonic: 2, Chromatic: 4}.Apply(root)
		case c.dominant && n == 2:
			p = pitch.Interval{Diatonic: 4, Chromatic: 7}.Apply(root)
		}
		list = append(list, p)
	}
	return slices.Concat(list[c.inversion:], list[:c.inversion]), Chord{pitch.Pitch{Step: root.Step, Alter: root.Alter, Octave: 4}, kindOf(list)}
}

// kindOf names a chord by the semitones over its root.
func kindOf(tones []pitch.Pitch) string {
	above := func(p pitch.Pitch) int {
		n, _ := (p.MIDI() - tones[0].MIDI()).Whole()
		return ((n % 12) + 12) % 12
	}
	third, fifth := above(tones[1]), above(tones[2])
	switch {
	case len(tones) == 4 && third == 4 && above(tones[3]) == 10:
		return "dominant"
	case len(tones) == 4 && third == 3 && fifth == 7 && above(tones[3]) == 10:
		return "minor-seventh"
	case len(tones) == 4:
		return ""
	case third == 4 && fifth == 7:
		return "major"
	case third == 3 && fifth == 7:
		return "minor"
	case third == 3 && fifth == 6:
		return "diminished"
	}
	return ""
}

// scoreExercise writes the chords down; ok is false where a player has no room, or a
// chord no plain name.
func (l *Level) scoreExercise(v *voicing, rng *rand.Rand) (e *Exercise, ok bool, err error) {
	lines := make([][]pitch.Pitch, len(v.players))
	band := &Band{Key: v.scale.Key}
	for _, c := range v.chords {
		tones, chord := v.tones(c)
		if chord.Kind == "" {
			return nil, false, nil
		}
		band.Chords = append(band.Chords, chord)
		voices := v.spread(tones, lines, rng)
		if voices == nil {
			return nil, false, nil
		}
		for i, p := range voices {
			lines[i] = append(lines[i], p)
		}
	}
	e = &Exercise{Level: *l, Topic: ScoreReading, Band: band}
	for i, line := range lines {
		solution, err := v.staff(v.players[i], line)
		if err != nil || solution.Respelled {
			return nil, false, err
		}
		e.Facts.Notes += len(line)
		e.Others = append(e.Others, solution)
	}
	e.Solution, e.Others = e.Others[0], e.Others[1:]
	e.Facts.Key, e.Facts.Minor = v.scale.Fifths, v.scale.minor()
	addChords(e.Answer, band.Chords)
	return e, true, nil
}

// spread gives a chord to the players: the first tone to the lowest, all others once
// at least, each near where its player was; nil where there is no room.
func (v *voicing) spread(tones []pitch.Pitch, before [][]pitch.Pitch, rng *rand.Rand) []pitch.Pitch {
	last := len(v.players) - 1
	voices := make([]pitch.Pitch, len(v.players))
	var ok bool
	if voices[last], ok = v.place(last, tones[0], before[last], -1); !ok {
		return nil
	}
	wanted := slices.Clone(tones[1:])
	for len(wanted) < last {
		wanted = append(wanted, tones[0]) // the bass doubled
	}
	if len(wanted) > last {
		return nil // more tones than players
	}
	rng.Shuffle(len(wanted), func(i, k int) { wanted[i], wanted[k] = wanted[k], wanted[i] })
	floor, _ := voices[last].MIDI().Whole()
	for i := last - 1; i >= 0; i-- {
		if voices[i], ok = v.place(i, wanted[i], before[i], floor); !ok {
			return nil
		}
	}
	return voices
}

// place puts a tone into the octave that suits a player: above the bass, near the
// tone before, or near the middle of the range.
func (v *voicing) place(i int, tone pitch.Pitch, before []pitch.Pitch, floor int) (pitch.Pitch, bool) {
	r, ok := rangeOf(v.players[i], secondGrade)
	if !ok {
		return tone, false
	}
	by := v.players[i].Interval()
	low, high := by.Apply(r.Written.ComfortableLow), by.Apply(r.Written.ComfortableHigh)
	goal := (low.NoteNumber() + high.NoteNumber()) / 2
	if len(before) > 0 {
		goal = before[len(before)-1].NoteNumber()
	}
	best, found := tone, false
	for octave := 1; octave <= 6; octave++ {
		tone.Octave = octave
		n := tone.NoteNumber()
		if n < low.NoteNumber() || n > high.NoteNumber() || n <= floor {
			continue
		}
		if !found || pitch.Abs(n-goal) < pitch.Abs(best.NoteNumber()-goal) {
			best, found = tone, true
		}
	}
	return best, found
}

// staff writes a player's line: what is read is given, what sounds is the answer.
func (v *voicing) staff(i *instruments.Instrument, line []pitch.Pitch) (*explain.Solution, error) {
	key := v.scale.Key
	t := explain.Tune{Key: &key, Beats: "4", BeatType: "4"}
	for _, p := range line {
		t.Bars = append(t.Bars, explain.Bar{Notes: []explain.Note{{Pitches: []pitch.Pitch{p}, Value: engraving.Whole}}})
	}
	reads := explain.Task{Instrument: i, From: explain.Sounding, MaxSignature: 6}
	t.Clef = reads.ClefFor(explain.Sounding, line)
	sounding, err := t.Part()
	if err != nil {
		return nil, err
	}
	written, err := reads.Solve(sounding)
	if err != nil || written.Respelled {
		return written, err
	}
	back := explain.Task{Instrument: i, From: explain.Written, MaxSignature: 7}
	return back.Solve(written.Answer)
}

// addChords writes the names of the chords over the bars of a part.
func addChords(part *etree.Element, chords []Chord) {
	for i, m := range part.SelectElements("measure") {
		if i >= len(chords) {
			break
		}
		h := etree.NewElement("harmony")
		root := h.CreateElement("root")
		root.CreateElement("root-step").SetText(chords[i].Root.Step.String())
		if n, _ := chords[i].Root.Alter.Whole(); n != 0 {
			root.CreateElement("root-alter").SetText(strconv.Itoa(n))
		}
		h.CreateElement("kind").SetText(chords[i].Kind)
		at := 0
		for _, e := range musicxml.Children(m, "attributes") {
			at = e.Index() + 1
		}
		m.InsertChildAt(at, h)
	}
}
