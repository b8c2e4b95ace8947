package fit

import (
	"fmt"
	"strings"

	"deskpart/musicxml/parts"
)

// ChoosePart finds which of a score's assignments a user means by a name, an id
// or a pattern. On a staff that several players share it is that of the
// player with that place, counted from 1; 0 takes the first.
func ChoosePart(assignments []parts.Assignment, pattern string, player int) (int, error) {
	var found []parts.Assignment
	var places []int
	for i, a := range assignments {
		if parts.MatchesPattern(pattern, a.ID, a.Name, a.Label) {
			found, places = append(found, a), append(places, i)
		}
	}
	for _, a := range found {
		if a.Part != found[0].Part {
			return 0, fmt.Errorf("%q means several parts: %s; name one of them or its id", pattern, partNames(found))
		}
	}
	switch {
	case len(found) == 0:
		return 0, fmt.Errorf("the score has no part %q; its parts are %s", pattern, partNames(assignments))
	case player == 0:
		return places[0], nil
	}
	for k, a := range found {
		if a.Player == player {
			return places[k], nil
		}
	}
	return 0, fmt.Errorf("part %q (%s) has no player %d", found[0].Name, found[0].ID, player)
}

// mostListed bounds how many parts a message lists.
const mostListed = 40

func partNames(assignments []parts.Assignment) string {
	var names []string
	last := -1
	for _, a := range assignments {
		if a.Part == last {
			continue
		}
		last = a.Part
		if len(names) == mostListed {
			names = append(names, "…")
			break
		}
		name := a.ID
		if a.Name != "" {
			name = fmt.Sprintf("%s (%s)", a.Name, a.ID)
		}
		names = append(names, name)
	}
	return strings.Join(names, ", ")
}
