package exercise

import (
	"math/rand/v2"
	"slices"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// signatureLevel is what the topic of signatures asks at a level: how many keys, up
// to how many sharps or flats, which clefs, and whether keys are named, moved by an
// interval, or read by an instrument (trade/teaching.md, section 1).
type signatureLevel struct {
	bars, fifths int
	minor        bool
	clefs        []string
	moves        []pitch.Interval
	instruments  bool
}

var signatureLevels = [Levels]signatureLevel{
	{bars: 4, fifths: 2, clefs: []string{"treble"}},
	{bars: 4, fifths: 4, minor: true, clefs: []string{"treble", "bass"}},
	{bars: 4, fifths: 4, minor: true, clefs: []string{"treble", "bass"}, moves: []pitch.Interval{{Diatonic: 1, Chromatic: 2}, {Diatonic: -2, Chromatic: -3}, {Diatonic: 4, Chromatic: 7}, {Diatonic: -4, Chromatic: -7}}},
	{bars: 6, fifths: 7, minor: true, clefs: []string{"treble", "bass", "alto", "tenor"}},
	{bars: 6, fifths: 6, minor: true, clefs: []string{"treble"}, instruments: true},
}

// signatures makes an exercise about key signatures: named keys to write, or keys to
// move.
func (l *Level) signatures(catalogue *instruments.Catalogue, s Settings, follow *Exercise, rng *rand.Rand) (*Exercise, error) {
	of := signatureLevels[l.Number-1]
	task := explain.Task{From: explain.Written, MaxSignature: 7}
	shown := of.moves != nil || of.instruments || s.Instrument != nil
	switch {
	case follow != nil:
		task = follow.Task
	case s.Instrument != nil:
		task = explain.Task{Instrument: s.Instrument, From: explain.Sounding, MaxSignature: 6}
	case of.instruments:
		task = explain.Task{Instrument: l.draw(catalogue, 0, rng), From: explain.Sounding, MaxSignature: 6}
	case of.moves != nil:
		task.Plain = of.moves[rng.IntN(len(of.moves))]
	}
	clef, _ := instruments.ParseClef(of.clefs[rng.IntN(len(of.clefs))])
	if follow != nil {
		clef, _ = explain.ClefOf(follow.Answer)
	}
	keys := of.draw(task, rng)
	return l.signatureExercise(task, keys, clef, shown)
}

// draw draws keys, no two alike and none beside its equal, whose answers can be
// printed; the first bar has a signature.
func (of signatureLevel) draw(task explain.Task, rng *rand.Rand) []pitch.Key {
	var keys []pitch.Key
	for len(keys) < of.bars {
		k := pitch.Key{Fifths: rng.IntN(2*of.fifths+1) - of.fifths, Mode: pitch.Major}
		if of.minor && rng.IntN(2) == 0 {
			k.Mode = pitch.Minor
		}
		to := k.Fifths + task.Interval().Fifths()
		signed := len(keys) > 0 || to != 0
		differs := len(keys) == 0 || keys[len(keys)-1].Fifths != k.Fifths
		if signed && differs && pitch.Abs(to) <= task.MaxSignature && !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	return keys
}

// signatureExercise writes the keys and their answers down.
func (l *Level) signatureExercise(task explain.Task, keys []pitch.Key, clef instruments.Clef, shown bool) (*Exercise, error) {
	var answers []pitch.Key
	for _, k := range keys {
		answers = append(answers, k.Moved(task.Interval()))
	}
	given, err := keyBars(keys, onStaff(clef), clef)
	if err != nil {
		return nil, err
	}
	answer, err := keyBars(answers, onStaff(clef), clef)
	if err != nil {
		return nil, err
	}
	solution, err := explain.NewSolution(task, given, answer, task.Interval())
	if err != nil {
		return nil, err
	}
	e := &Exercise{Solution: solution, Level: *l, Topic: Signature, Band: &Band{Keys: keys, Shown: shown}}
	e.Facts = Facts{Notes: len(keys), Key: keys[0].Fifths, Answer: answers[0].Fifths, Minor: keys[0].Mode == pitch.Minor}
	return e, nil
}
