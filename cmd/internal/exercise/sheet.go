package exercise

import (
	"errors"
	"fmt"
	"math/rand/v2"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
)

// Both is a direction for Settings: every other exercise goes the other way.
const Both explain.Side = "both"

// Settings say what sheets are wanted.
type Settings struct {
	// Instrument is nil for those of the level, drawn for each exercise.
	Instrument *instruments.Instrument
	// From is the pitch that is given, or Both. Default: explain.Sounding.
	From  explain.Side
	Count int
	Seed  uint64
	// Level from 1 to 5.
	Level int
	// Versions is how many sheets of equal difficulty. Default: 1.
	Versions int
	// WithoutSignature is written music without key signature. Default: with one.
	WithoutSignature bool
	// WithoutClefs leaves the clefs of the answer's staves to the learner. Default:
	// they are printed.
	WithoutClefs bool
}

// Sheet is one version.
type Sheet struct {
	// Version is "A", "B", …
	Version   string
	Settings  Settings
	Exercises []*Exercise
	// Source is set where the music is from a score.
	Source string
}

// The bounds of what is made at once.
const (
	MaxCount    = 500
	MaxVersions = 26
)

var errCount = fmt.Errorf("the number of exercises is not from 1 to %d", MaxCount)
var errVersions = errors.New("the number of versions is not from 1 to 26, a letter for each")

// Make makes the sheets. An exercise depends on the seed, the settings, its
// number and its version alone: more exercises or versions change no others.
func Make(catalogue *instruments.Catalogue, s Settings) ([]Sheet, error) {
	level, err := LevelOf(s.Level)
	switch {
	case err != nil:
		return nil, err
	case s.Count < 1 || s.Count > MaxCount:
		return nil, errCount
	case s.Versions < 1 || s.Versions > MaxVersions:
		return nil, errVersions
	}
	sheets := make([]Sheet, s.Versions)
	for v := range sheets {
		sheets[v] = Sheet{Version: string(rune('A' + v)), Settings: s}
	}
	for n := range s.Count {
		if err := level.addExercise(catalogue, s, n, sheets); err != nil {
			return nil, fmt.Errorf("exercise %d: %w", n+1, err)
		}
	}
	return sheets, nil
}

// addExercise makes exercise n, from 0, of every sheet.
func (l *Level) addExercise(catalogue *instruments.Catalogue, s Settings, n int, sheets []Sheet) error {
	var follow *plan
	for v := range sheets {
		rng := rand.New(rand.NewPCG(s.Seed, uint64(s.Level)<<48|uint64(v)<<32|uint64(n)))
		task := explain.Task{Instrument: s.Instrument, From: s.From, WithoutSignature: s.WithoutSignature, MaxSignature: 6}
		if task.Instrument == nil {
			task.Instrument = l.draw(catalogue, rng)
		}
		switch {
		case follow != nil:
			task = follow.task
		case task.From == Both:
			task.From = []explain.Side{explain.Sounding, explain.Written}[n%2]
		}
		e, p, err := l.make(task, follow, rng)
		if err != nil {
			return err
		}
		follow = p
		e.Number = n + 1
		sheets[v].Exercises = append(sheets[v].Exercises, e)
	}
	return nil
}

func (l *Level) draw(catalogue *instruments.Catalogue, rng *rand.Rand) *instruments.Instrument {
	return catalogue.ByID(l.Instruments[rng.IntN(len(l.Instruments))])
}

// Code names the sheet, so that questions and answers find each other: level,
// instrument, direction, seed, version.
func (s Sheet) Code() string {
	if s.Source != "" {
		return fmt.Sprintf("%s-%s", s.instrumentWord(), s.directionWord())
	}
	code := fmt.Sprintf("L%d-%s-%s-%d-%s", s.Settings.Level, s.instrumentWord(), s.directionWord(), s.Settings.Seed, s.Version)
	if s.Settings.WithoutSignature {
		code += "-N"
	}
	return code
}

func (s Sheet) instrumentWord() string {
	if s.Settings.Instrument == nil {
		return "mixed"
	}
	return s.Settings.Instrument.ID
}

// directionWord is W for writing what the player reads, S for what sounds, B for
// both.
func (s Sheet) directionWord() string {
	switch s.Settings.From {
	case explain.Written:
		return "S"
	case Both:
		return "B"
	}
	return "W"
}
