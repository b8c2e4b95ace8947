package exercise

import (
	"fmt"
	"slices"
	"strings"
)

// Topic is what a sheet trains.
type Topic string

// The topics.
const (
	Transposition Topic = "transposition"
	ClefTopic     Topic = "clef"
	IntervalTopic Topic = "interval"
	Signature     Topic = "signature"
	ConcertScale  Topic = "concert-scale"
	BandKey       Topic = "band-key"
	ScoreReading  Topic = "score-reading"
	Sight         Topic = "sight"
)

// Topics lists them.
func Topics() []Topic {
	return []Topic{Transposition, ClefTopic, IntervalTopic, Signature, ConcertScale, BandKey, ScoreReading, Sight}
}

// ParseTopic reads the word of a flag; none is transposition.
func ParseTopic(word string) (Topic, error) {
	t := Topic(strings.ToLower(strings.TrimSpace(word)))
	if t == "" {
		return Transposition, nil
	}
	if !slices.Contains(Topics(), t) {
		var names []string
		for _, known := range Topics() {
			names = append(names, string(known))
		}
		return "", fmt.Errorf("%q is none of the topics %s", word, strings.Join(names, ", "))
	}
	return t, nil
}

// forBand reports whether a topic has a staff for each player of a band.
func (t Topic) forBand() bool { return t == ConcertScale || t == BandKey }
