package exercise

import (
	"math/rand/v2"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// Three topics have melodies like those to transpose, and only their task and clefs
// are other ones: the same notes in another clef, by a named interval, and read at
// sight by an imagined clef.

// clefSteps are the clefs that come in at each level (trade/teaching.md, section 1:
// treble and bass, alto, tenor; the rest for score reading).
var clefSteps = [Levels][]string{
	{"treble", "bass"}, {"treble", "bass"}, {"treble", "bass", "alto"}, {"treble", "bass", "alto", "tenor"},
	{"treble", "bass", "alto", "tenor", "soprano", "mezzo", "baritone"},
}

// clefPair draws two clefs; one of them is what the level brings.
func (l *Level) clefPair(rng *rand.Rand) *clefs {
	names := clefSteps[l.Number-1]
	newest := names[len(names)-1-rng.IntN(max(1, len(names)-3)):][0]
	other := names[rng.IntN(len(names))]
	for other == newest {
		other = names[rng.IntN(len(names))]
	}
	if rng.IntN(2) == 0 {
		newest, other = other, newest
	}
	from, _ := instruments.ParseClef(newest)
	to, _ := instruments.ParseClef(other)
	return &clefs{given: from, answer: to}
}

// intervalSteps are the intervals that come in at each level, without direction
// (trade/teaching.md, section 1: octaves first, then major, minor and perfect ones,
// then any).
var intervalSteps = [Levels][]pitch.Interval{
	{{Diatonic: 1, Chromatic: 2}, {Diatonic: 7, Chromatic: 12}},
	{{Diatonic: 2, Chromatic: 3}, {Diatonic: 3, Chromatic: 5}, {Diatonic: 4, Chromatic: 7}},
	{{Diatonic: 2, Chromatic: 4}, {Diatonic: 5, Chromatic: 9}},
	{{Diatonic: 1, Chromatic: 1}, {Diatonic: 5, Chromatic: 8}, {Diatonic: 6, Chromatic: 10}},
	{{Diatonic: 6, Chromatic: 11}, {Diatonic: 3, Chromatic: 6}, {Diatonic: 4, Chromatic: 6}, {Diatonic: 8, Chromatic: 14}},
}

// drawInterval draws an interval of the level or one below, half of the time a new
// one, up or down.
func (l *Level) drawInterval(rng *rand.Rand) pitch.Interval {
	known := intervalSteps[l.Number-1]
	if rng.IntN(2) == 0 {
		known = intervalSteps[rng.IntN(l.Number)]
	}
	i := known[rng.IntN(len(known))]
	if rng.IntN(2) == 0 {
		return i.Negate()
	}
	return i
}

// sightInstruments are those of each level, for whom a clef is to be imagined.
var sightInstruments = [Levels][]string{
	{"clarinet-bflat", "trumpet-bflat"},
	{"clarinet-bflat", "clarinet-a", "horn-f", "english-horn"},
	{"clarinet-a", "horn-f", "alto-saxophone-eflat", "clarinet-eflat"},
	{"horn-f", "alto-saxophone-eflat", "alto-flute-g", "clarinet-d", "tenor-saxophone-bflat"},
	{"horn-e", "horn-eflat", "horn-d", "trumpet-d", "trumpet-f", "alto-flute-g", "baritone-saxophone-eflat", "clarinet-a"},
}

// MovableClefs are all that a score reader imagines: of each of the seven letters
// on the middle line one.
var MovableClefs = []instruments.Clef{explain.Treble, explain.Bass, explain.Alto, explain.Tenor, {Sign: "C", Line: 1}, {Sign: "C", Line: 2}, {Sign: "F", Line: 3}}

// ImaginedClef is the clef in which notes that stay on their lines sound an interval
// away; its octave change sets the octave right.
func ImaginedClef(written instruments.Clef, to pitch.Interval) instruments.Clef {
	wanted := explain.MiddleLine(written) + to.Diatonic
	for _, c := range MovableClefs {
		if off := wanted - explain.MiddleLine(c); off%7 == 0 {
			c.OctaveChange = off / 7
			return c
		}
	}
	return written
}

// melodyTask is the task of a topic with a melody, and the clefs that it settles.
func (l *Level) melodyTask(catalogue *instruments.Catalogue, s Settings, n int, rng *rand.Rand) (explain.Task, *clefs) {
	task := explain.Task{Instrument: s.Instrument, From: s.From, WithoutSignature: s.WithoutSignature, MaxSignature: 6}
	switch s.Topic {
	case ClefTopic:
		return explain.Task{From: explain.Written, MaxSignature: 6}, l.clefPair(rng)
	case IntervalTopic:
		return explain.Task{Plain: l.drawInterval(rng), From: explain.Written, MaxSignature: 6}, nil
	case Sight:
		if task.Instrument == nil {
			names := sightInstruments[l.Number-1]
			task.Instrument = catalogue.ByID(names[rng.IntN(len(names))])
		}
		task.From = explain.Written
		written := task.Instrument.Clefs[0]
		return task, &clefs{given: written, answer: ImaginedClef(written, task.Interval())}
	}
	if task.Instrument == nil {
		task.Instrument = l.draw(catalogue, n, rng)
	}
	return task, nil
}
