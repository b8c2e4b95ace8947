package fit

import (
	"errors"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/spreadsheet"
)

// Band is the players that an ensemble has: instruments in the order given, each
// with a number of players.
type Band []Section

// Section is the players of one instrument.
type Section struct {
	Instrument *instruments.Instrument
	Count      int
	// Doubles are what these players take up beside it. Default: nothing that is named.
	Doubles []*instruments.Instrument
}

// largestBand bounds the players of a band.
const largestBand = 500

// counted words are "2 flute", "2x flute", "flute x 2".
var (
	countBefore = regexp.MustCompile(`^(\d{1,4})\s*(?:[x×]\s*)?(\D.*)$`)
	countAfter  = regexp.MustCompile(`^(.*\D)\s*[x×]\s*(\d{1,4})$`)
)

// ParseBand reads a list such as "2 flute, flute+piccolo, 3 clarinet, euphonium t.c.", in
// which a plus stands before what a player doubles.
func ParseBand(c *instruments.Catalogue, list string) (Band, error) {
	var chairs []listed
	for _, item := range strings.FieldsFunc(list, func(r rune) bool { return r == ',' || r == ';' || r == '\n' }) {
		if item = strings.TrimSpace(item); item == "" {
			continue
		}
		name, count := item, "1"
		if m := countBefore.FindStringSubmatch(item); m != nil {
			count, name = m[1], m[2]
		} else if m := countAfter.FindStringSubmatch(item); m != nil {
			name, count = m[1], m[2]
		}
		chairs = append(chairs, listed{name: name, count: count})
	}
	return bandOf(c, chairs)
}

// listed is players as they were named; line is that of a file, from 1.
type listed struct {
	name, count string
	line        int
}

// bandOf finds the instruments. A word that may mean a voice too, as "baritone", is heard
// beside the others.
func bandOf(c *instruments.Catalogue, chairs []listed) (Band, error) {
	names := make([]instruments.Query, len(chairs))
	for i, chair := range chairs {
		names[i].Name, _, _ = strings.Cut(chair.name, "+")
	}
	beside := c.MatchScore(names)
	var band Band
	for i, chair := range chairs {
		meant := beside[i].Instrument
		if err := band.add(c, chair, meant); err != nil {
			if chair.line > 0 {
				return nil, fmt.Errorf("line %d: %w", chair.line, err)
			}
			return nil, err
		}
	}
	return band, band.check()
}

// largestBandFile bounds the size of an ensemble file in bytes.
const largestBandFile = 1 << 20

// ReadBand reads an ensemble file as a spreadsheet saves it (see package spreadsheet): a
// line for each instrument with its name and the number of players, 1 if it is left out.
// A first line of headings is passed over, and so is a line that begins with a #.
func ReadBand(c *instruments.Catalogue, r io.Reader) (Band, error) {
	lines, err := spreadsheet.Read(r, largestBandFile, '#')
	if err != nil {
		return nil, fmt.Errorf("not a list of instruments that can be read: %w", err)
	}
	var chairs []listed
	for i, line := range lines {
		name, count := line.Cell(0), line.Cell(1)
		if m := countBefore.FindStringSubmatch(name); count == "" && m != nil {
			count, name = m[1], m[2]
		} else if count == "" {
			count = "1"
		}
		if name == "" || i == 0 && strings.EqualFold(name, "instrument") {
			continue
		}
		chairs = append(chairs, listed{name, count, line.Line})
	}
	return bandOf(c, chairs)
}

// add adds players of an instrument by its name; beside is what this means beside the other
// names, nil where that is not known.
func (b *Band) add(c *instruments.Catalogue, chair listed, beside *instruments.Instrument) error {
	name, count := chair.name, chair.count
	var all []*instruments.Instrument
	for word := range strings.SplitSeq(name, "+") {
		in, err := FindInstrument(c, strings.TrimSpace(word))
		if err != nil {
			return err
		}
		if len(all) == 0 && in.Flags.Voice && beside != nil && !beside.Flags.Voice {
			in = beside
		}
		all = append(all, in)
	}
	in, doubles := all[0], all[1:]
	n, err := strconv.Atoi(count)
	if err != nil || n < 0 {
		return fmt.Errorf("%q players of %s is not a number", count, name)
	}
	for i := range *b {
		if (*b)[i].Instrument == in && slices.Equal((*b)[i].Doubles, doubles) {
			(*b)[i].Count += n
			return nil
		}
	}
	*b = append(*b, Section{in, n, doubles})
	return nil
}

func (b Band) check() error {
	switch n := b.players(); {
	case n == 0:
		return errors.New("the ensemble has no players; name them as in \"2 flute, 3 clarinet\"")
	case n > largestBand:
		return fmt.Errorf("the ensemble has %d players; the most is %d", n, largestBand)
	}
	return nil
}

func (b Band) players() int {
	n := 0
	for _, s := range b {
		n += min(s.Count, largestBand+1)
	}
	return n
}

// playersOf counts the players of an instrument.
func (b Band) playersOf(in *instruments.Instrument) int {
	n := 0
	for _, s := range b {
		if s.Instrument == in {
			n += s.Count
		}
	}
	return n
}

// Instruments lists each instrument of the band once.
func (b Band) Instruments() []*instruments.Instrument {
	var all []*instruments.Instrument
	for _, s := range b {
		for _, in := range append([]*instruments.Instrument{s.Instrument}, s.Doubles...) {
			if s.Count > 0 && !slices.Contains(all, in) {
				all = append(all, in)
			}
		}
	}
	return all
}
