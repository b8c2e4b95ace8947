package exercise

import (
	"fmt"
	"math/rand/v2"
	"slices"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml/engraving"
	"deskpart/transpose/pitch"
)

// bands are the players of each level, in the order of a score (trade/teaching.md,
// section 2 for when an instrument comes in).
var bands = [Levels][]string{
	{"flute", "clarinet-bflat", "trumpet-bflat"},
	{"flute", "clarinet-bflat", "alto-saxophone-eflat", "trumpet-bflat", "trombone"},
	{"flute", "clarinet-bflat", "alto-saxophone-eflat", "trumpet-bflat", "horn-f", "tuba"},
	{"oboe", "clarinet-bflat", "alto-saxophone-eflat", "baritone-saxophone-eflat", "trumpet-bflat", "horn-f", "trombone"},
	{"oboe", "clarinet-a", "alto-saxophone-eflat", "tenor-saxophone-bflat", "horn-eflat", "trumpet-d", "trombone"},
}

// concertKeys are those in which a band of the level plays, in fifths, at least and
// at most: bands live among flats (common practice, no source).
var concertKeys = [Levels][2]int{{-3, -1}, {-3, 0}, {-4, 1}, {-5, 2}, {-6, 4}}

// band is who plays: those who were named, or those of the level.
func (l *Level) band(catalogue *instruments.Catalogue, s Settings) []*instruments.Instrument {
	if len(s.Band) > 0 {
		return s.Band
	}
	var list []*instruments.Instrument
	for _, id := range bands[l.Number-1] {
		list = append(list, catalogue.ByID(id))
	}
	return list
}

// drawKey draws a concert key; one of another version lies within a fifth of it.
func (l *Level) drawKey(follow *Exercise, rng *rand.Rand) pitch.Key {
	low, high := concertKeys[l.Number-1][0], concertKeys[l.Number-1][1]
	if follow != nil {
		k := follow.Band.Key
		k.Fifths = max(low, min(high, k.Fifths+1-2*rng.IntN(2)))
		return k
	}
	k := pitch.Key{Fifths: low + rng.IntN(high-low+1), Mode: pitch.Major}
	if l.Number >= 3 && rng.IntN(2) == 0 {
		k.Mode = pitch.Minor
	}
	return k
}

// wonted is the level whose band and ranges stand for any band's.
const wonted = 3

// WontedBand is a band to show something on.
func WontedBand(catalogue *instruments.Catalogue) []*instruments.Instrument {
	l, _ := LevelOf(wonted)
	return l.band(catalogue, Settings{})
}

// Scales writes a concert scale for each player of a band, as exercises have it.
func Scales(players []*instruments.Instrument, key pitch.Key) ([]*explain.Solution, error) {
	l, _ := LevelOf(wonted)
	return l.forPlayers(players, func(octave int) explain.Tune { return scaleTune(key, octave, false) })
}

// KeyNotes writes the signature and the key note of a concert key for each player.
func KeyNotes(players []*instruments.Instrument, key pitch.Key) ([]*explain.Solution, error) {
	l, _ := LevelOf(wonted)
	return l.forPlayers(players, func(octave int) explain.Tune { return keyNoteTune(key, octave) })
}

// forPlayers writes music at sounding pitch for every player, in the octave that suits
// each.
func (l *Level) forPlayers(players []*instruments.Instrument, music func(octave int) explain.Tune) ([]*explain.Solution, error) {
	var staves []*explain.Solution
	for _, i := range players {
		s, err := l.forPlayer(i, music)
		if err != nil {
			return nil, err
		}
		staves = append(staves, s)
	}
	return staves, nil
}

// keyNoteTune is a bar of the key note.
func keyNoteTune(key pitch.Key, octave int) explain.Tune {
	tonic := scale{key}.pitch(tone{}, octave)
	return explain.Tune{Key: &key, Beats: "4", BeatType: "4", Bars: []explain.Bar{{Notes: []explain.Note{{Pitches: []pitch.Pitch{tonic}, Value: engraving.Whole}}}}}
}

// concertScale makes an exercise in which a scale that sounds is written for every
// player of a band.
func (l *Level) concertScale(catalogue *instruments.Catalogue, s Settings, follow *Exercise, rng *rand.Rand) (*Exercise, error) {
	key := l.drawKey(follow, rng)
	return l.forBand(catalogue, s, ConcertScale, key, func(octave int) explain.Tune {
		return scaleTune(key, octave, l.Number >= 4)
	})
}

// scaleTune is a scale of eight notes in two bars, upwards; melodic raises the sixth
// and seventh of a minor one.
func scaleTune(key pitch.Key, octave int, melodic bool) explain.Tune {
	s := scale{key}
	t := explain.Tune{Key: &key, Beats: "4", BeatType: "4", Bars: make([]explain.Bar, 2)}
	for step := range 8 {
		tone := tone{step: step}
		if d := tone.degree(); melodic && s.minor() && (d == sixth || d == seventh) {
			tone.raised = 1
		}
		n := explain.Note{Pitches: []pitch.Pitch{s.pitch(tone, octave)}, Value: engraving.Quarter}
		t.Bars[step/4].Notes = append(t.Bars[step/4].Notes, n)
	}
	return t
}

// bandKey makes an exercise in which every player's signature for a concert key is
// written, and the key that suits the band is chosen.
func (l *Level) bandKey(catalogue *instruments.Catalogue, s Settings, follow *Exercise, rng *rand.Rand) (*Exercise, error) {
	key := l.drawKey(follow, rng)
	e, err := l.forBand(catalogue, s, BandKey, key, func(octave int) explain.Tune { return keyNoteTune(key, octave) })
	if err != nil {
		return nil, err
	}
	players := l.band(catalogue, s)
	if e.Band.Offered, e.Band.Best, err = offer(players, rng); err != nil {
		return nil, err
	}
	best, err := keyBars([]pitch.Key{e.Band.Best}, onStaff(explain.Treble), explain.Treble)
	if err != nil {
		return nil, err
	}
	solution, err := explain.NewSolution(explain.Task{From: explain.Written, MaxSignature: 7}, best, best.Copy(), pitch.Interval{})
	if err != nil {
		return nil, err
	}
	e.Others = append(e.Others, solution)
	return e, nil
}

// Burden is how many sharps or flats the player with the most has in a concert key.
func Burden(players []*instruments.Instrument, fifths int) int {
	most := 0
	for _, i := range players {
		most = max(most, pitch.Abs(i.WrittenFifths(fifths)))
	}
	return most
}

// offered is how many concert keys there are to choose from.
const offered = 3

// offer draws concert keys of which one alone is the kindest to the band.
func offer(players []*instruments.Instrument, rng *rand.Rand) (keys []pitch.Key, best pitch.Key, err error) {
	for range draws {
		keys = keys[:0]
		for len(keys) < offered {
			k := pitch.Key{Fifths: rng.IntN(11) - 5, Mode: pitch.Major}
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
		best := slices.MinFunc(keys, func(a, b pitch.Key) int { return Burden(players, a.Fifths) - Burden(players, b.Fifths) })
		alone := 0
		for _, k := range keys {
			if Burden(players, k.Fifths) == Burden(players, best.Fifths) {
				alone++
			}
		}
		if alone == 1 && best.Fifths != 0 {
			return keys, best, nil
		}
	}
	return nil, best, fmt.Errorf("no concert key suits this band better than the others; name another band")
}

// forBand makes an exercise of music for every player of a band.
func (l *Level) forBand(catalogue *instruments.Catalogue, s Settings, topic Topic, key pitch.Key, music func(octave int) explain.Tune) (*Exercise, error) {
	staves, err := l.forPlayers(l.band(catalogue, s), music)
	if err != nil {
		return nil, err
	}
	e := &Exercise{Solution: staves[0], Others: staves[1:], Level: *l, Topic: topic, Band: &Band{Key: key}}
	e.Facts = Facts{Key: key.Fifths, Answer: key.Fifths, Minor: key.Mode == pitch.Minor}
	for _, staff := range staves {
		e.Facts.Notes += len(staff.Pairs)
	}
	return e, nil
}

// forPlayer chooses the octave in which most of the notes suit a player, the one
// nearest to the middle of the piano.
func (l *Level) forPlayer(i *instruments.Instrument, music func(octave int) explain.Tune) (*explain.Solution, error) {
	task := explain.Task{Instrument: i, From: explain.Sounding, MaxSignature: 6}
	var best *explain.Solution
	least := 0
	for _, octave := range []int{4, 3, 5, 2, 6, 1} {
		tune := music(octave)
		tune.Clef = task.ClefFor(explain.Sounding, tune.Pitches())
		part, err := tune.Part()
		if err != nil {
			return nil, err
		}
		solution, err := task.Solve(part)
		if err != nil {
			continue // an octave that MusicXML does not have
		}
		if out := l.outside(solution); best == nil || out < least {
			best, least = solution, out
		}
	}
	if best == nil {
		return nil, fmt.Errorf("%s: no octave suits it", i.ID)
	}
	return best, nil
}

// outside counts the answer's notes beyond the comfortable range of the level, those
// beyond its whole range ten times, and those that nobody plays a hundred times.
func (l *Level) outside(s *explain.Solution) int {
	r, ok := rangeOf(s.Instrument, l.Grade)
	if !ok {
		return 0
	}
	all, known := s.Instrument.Range(instruments.Professional)
	count := 0
	for _, p := range s.Pairs {
		n, _ := p.To.MIDI().Whole()
		switch {
		case known && !all.Written.Contains(n):
			count += 100
		case !r.Written.Contains(n):
			count += 10
		case !r.Written.Comfortable(n):
			count++
		}
	}
	return count
}
