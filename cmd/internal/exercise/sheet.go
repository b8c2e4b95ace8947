package exercise

import (
	"cmp"
	"errors"
	"fmt"
	"math/rand/v2"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// Both is a direction for Settings: every other exercise goes the other way.
const Both explain.Side = "both"

// Settings say what sheets are wanted.
type Settings struct {
	// Topic is what is trained. Default: Transposition.
	Topic Topic
	// Texts are the language of the sheets. Default, for nil: English.
	Texts *texts.Texts
	// Band are the players for topics that have several. Default: those of the level.
	Band []*instruments.Instrument
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
	if err := s.complete(); err != nil {
		return nil, err
	}
	level, err := LevelOf(s.Level)
	switch {
	case err != nil:
		return nil, err
	case s.nothingToTrain() != nil:
		return nil, s.nothingToTrain()
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

// complete puts the defaults in.
func (s *Settings) complete() (err error) {
	s.Topic = cmp.Or(s.Topic, Transposition)
	if s.Texts == nil {
		s.Texts, err = texts.In(pitch.English)
	}
	return err
}

// nothingToTrain says that an instrument asks nothing of a topic.
func (s Settings) nothingToTrain() error {
	i := s.Instrument
	if i == nil {
		return nil
	}
	name := i.Name("en")
	switch octaves := i.OctaveOnly(); {
	case i.Flags.Unpitched:
		return fmt.Errorf("%s has no pitch to move; choose an instrument that sounds notes", name)
	case s.Topic == Transposition && !i.Transposes():
		return fmt.Errorf("%s sounds as written: there is nothing to transpose; choose an instrument that transposes, or --topic clef or interval", name)
	case (s.Topic == Sight || s.Topic == Signature) && octaves:
		return fmt.Errorf("%s keeps every note's name: there is no other clef or signature to imagine; choose an instrument such as a clarinet or a horn", name)
	}
	return nil
}

// addExercise makes exercise n, from 0, of every sheet. Versions follow the first.
func (l *Level) addExercise(catalogue *instruments.Catalogue, s Settings, n int, sheets []Sheet) error {
	var follow *plan
	var first *Exercise
	for v := range sheets {
		rng := rand.New(rand.NewPCG(s.Seed, uint64(s.Level)<<48|uint64(v)<<32|uint64(n)))
		e, p, err := l.drawExercise(catalogue, s, n, follow, first, rng)
		if err != nil {
			return err
		}
		follow = p
		if first == nil {
			first = e
		}
		e.Number, e.Topic = n+1, s.Topic
		sheets[v].Exercises = append(sheets[v].Exercises, e)
	}
	return nil
}

// drawExercise makes one exercise of the topic.
func (l *Level) drawExercise(catalogue *instruments.Catalogue, s Settings, n int, follow *plan, first *Exercise, rng *rand.Rand) (e *Exercise, p *plan, err error) {
	switch s.Topic {
	case Signature:
		e, err = l.signatures(catalogue, s, first, rng)
	case ConcertScale:
		e, err = l.concertScale(catalogue, s, first, rng)
	case BandKey:
		e, err = l.bandKey(catalogue, s, first, rng)
	case ScoreReading:
		e, err = l.scoreReading(catalogue, first, rng)
	default:
		task, settled := l.melodyTask(catalogue, s, n, rng)
		switch {
		case follow != nil:
			task, settled = follow.task, follow.clefs
		case task.From == Both:
			task.From = []explain.Side{explain.Sounding, explain.Written}[n%2]
		}
		return l.make(task, settled, follow, rng)
	}
	return e, nil, err
}

// octavesOneIn is how often an instrument that moves by octaves alone may be drawn.
const octavesOneIn = 4

// draw draws an instrument of the level for exercise n, from 0.
func (l *Level) draw(catalogue *instruments.Catalogue, n int, rng *rand.Rand) *instruments.Instrument {
	for {
		i := catalogue.ByID(l.Instruments[rng.IntN(len(l.Instruments))])
		if !i.OctaveOnly() || n%octavesOneIn == octavesOneIn-1 {
			return i
		}
	}
}

// Code names the sheet, so that questions and answers find each other: level,
// instrument, direction, seed, version.
func (s Sheet) Code() string {
	if s.Source != "" {
		return fmt.Sprintf("%s-%s", s.instrumentWord(), s.directionWord())
	}
	code := fmt.Sprintf("L%d-%s-%s-%d-%s", s.Settings.Level, s.instrumentWord(), s.directionWord(), s.Settings.Seed, s.Version)
	if t := s.Settings.Topic; t != Transposition && t != "" {
		code = fmt.Sprintf("%s-L%d-%s-%d-%s", t, s.Settings.Level, s.instrumentWord(), s.Settings.Seed, s.Version)
	}
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
