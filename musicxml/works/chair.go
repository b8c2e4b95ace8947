package works

import (
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/parts"
)

// seat is a part file of a movement with what is known of who sits there.
type seat struct {
	part   string // id in the movement
	player int    // of a shared staff, from 1; 0 for the whole staff
	kind   string // of the instrument whatever its key; of an unknown one the name
	number []int  // as the name says, or as it was told
	said   bool   // the name says a number
}

// seatsOf lists the part files of a movement, each with its kind and number.
func seatsOf(catalogue *instruments.Catalogue, job *parts.Job) []seat {
	var seats []seat
	for _, a := range job.Assignments() {
		if len(a.With) > 0 {
			continue // a player of a plan, by name
		}
		numbers := numbersOf(catalogue, &a)
		seats = append(seats, seat{part: a.ID, player: a.Player, kind: kindOf(catalogue, &a), number: numbers, said: len(numbers) > 0})
	}
	numberSeats(seats)
	return seats
}

// kindOf is the instrument that the score has the part for, whatever its key. One that
// is not known goes by its name without numbers.
func kindOf(catalogue *instruments.Catalogue, a *parts.Assignment) string {
	switch {
	case a.Written != nil && a.Player > 0 && a.Instrument != nil && a.RecognisedBy != parts.ByPlan:
		return a.Instrument.Kind // of cello and double bass on one staff
	case a.Written != nil:
		return a.Written.Kind
	}
	var words []string
	for _, word := range strings.Fields(catalogue.Spelling(a.Name)) {
		if _, err := strconv.Atoi(word); err != nil {
			words = append(words, word)
		}
	}
	return "name " + strings.Join(words, " ")
}

// numbersOf are the players' numbers, those of an instrument that is not known as they
// stand in its name.
func numbersOf(catalogue *instruments.Catalogue, a *parts.Assignment) []int {
	if a.Written != nil || len(a.Numbers) > 0 {
		return a.Numbers
	}
	var numbers []int
	for _, word := range strings.Fields(catalogue.Spelling(a.Name)) {
		if n, err := strconv.Atoi(word); err == nil {
			numbers = append(numbers, n)
		}
	}
	return numbers
}

// versionOf tells files of one chair apart that are for other readers or instruments.
func versionOf(a *parts.Assignment) string {
	switch {
	case a.Edition != "":
		return "edition " + a.Edition
	case a.RecognisedBy == parts.ByPlan && a.Instrument != nil && a.Instrument != a.Written:
		return "for " + a.Instrument.Kind + " " + a.Instrument.Key
	}
	return ""
}

// numberSeats numbers those whose names say no number: the first that is free among
// their kind, in score order; several files of one part are one seat.
func numberSeats(seats []seat) {
	taken := map[string]map[int]bool{}
	for i := range seats {
		s := &seats[i]
		if taken[s.kind] == nil {
			taken[s.kind] = map[int]bool{}
		}
		for _, n := range s.number {
			taken[s.kind][n] = true
		}
	}
	given := map[string]int{}
	for i := range seats {
		s := &seats[i]
		if s.said {
			continue
		}
		key := s.part + " " + s.kind
		if given[key] == 0 {
			given[key] = firstFree(taken[s.kind])
		}
		s.number = []int{given[key]}
	}
}

func firstFree(taken map[int]bool) int {
	for n := 1; ; n++ {
		if !taken[n] {
			taken[n] = true
			return n
		}
	}
}
