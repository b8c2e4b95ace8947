package explain

import (
	"fmt"
	"strings"

	"deskpart/instruments"
)

// ParsePlayer finds the instrument that words name; nil for no words.
func ParsePlayer(catalogue *instruments.Catalogue, words string) (*instruments.Instrument, error) {
	if words == "" {
		return nil, nil
	}
	task, err := ParseTask(catalogue, words, Sounding)
	if err != nil {
		return nil, err
	}
	if task.Instrument == nil {
		return nil, fmt.Errorf("%q is an interval; name an instrument", words)
	}
	return task.Instrument, nil
}

// ParseBand finds the players of a list such as "flute, clarinet, alto saxophone"; none
// for no words.
func ParseBand(catalogue *instruments.Catalogue, list string) (band []*instruments.Instrument, err error) {
	for _, words := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ';' }) {
		player, err := ParsePlayer(catalogue, words)
		if err != nil {
			return nil, err
		}
		band = append(band, player)
	}
	return band, nil
}
