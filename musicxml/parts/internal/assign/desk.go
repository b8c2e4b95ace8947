package assign

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/parts/plan"
)

// followPlayers finds for each row that names another row's part as its player who that
// is in the end. Rows that name each other in a circle are wrong.
func followPlayers(rows []plannedRow, wrong *plan.Error) {
	next := make([]int, len(rows))
	for i := range rows {
		next[i] = i
		for k := range rows {
			if !sameName(rows[i].Player, rows[i].Part) && sameName(rows[i].Player, rows[k].Part) {
				next[i] = k
				break
			}
		}
	}
	for i := range rows {
		path := []string{rows[i].Part}
		at := i
		for next[at] != at && len(path) <= len(rows) {
			at = next[at]
			path = append(path, rows[at].Part)
		}
		switch {
		case len(path) > len(rows):
			circle := slices.Index(path[1:], path[0]) + 1
			if circle > 0 {
				wrong.Add(rows[i].Line, rows[i].Part, "the players go in a circle: "+strings.Join(path[:circle+1], " is played by "))
			}
		case at != i:
			if rows[at].Player == "" {
				rows[at].Player = rows[at].Part
			}
			rows[i].Player = rows[at].Player
		}
	}
}

func sameName(a, b string) bool { return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) }

// bringTogether joins what the same player has. A player who is called like a part that
// no row gives a player has that part, too.
func (c *Assigner) bringTogether(all []Assignment) []Assignment {
	c.addNamesakes(all)
	groups := map[string][]int{}
	for i := range all {
		if key := all[i].deskKey(); key != "" {
			groups[key] = append(groups[key], i)
		}
	}
	var together []Assignment
	for i, a := range all {
		group := groups[a.deskKey()]
		if len(group) > 1 && i != head(all, group) {
			continue
		}
		a.Number = len(together) + 1
		for _, k := range group {
			if k != i {
				a.With = append(a.With, all[k])
				a.Copies = max(a.Copies, all[k].Copies)
			}
		}
		a.StaffLabel = a.Label
		for k := range a.With {
			a.With[k].StaffLabel = a.With[k].Label
		}
		if len(a.With) > 0 {
			a.Label = c.deskLabel(&a)
		}
		together = append(together, a)
	}
	return together
}

// deskKey tells players apart; "" for a part that is joined with none: that of a stand-in,
// of one of several readers.
func (a *Assignment) deskKey() string {
	if a.Edition != "" || a.StandsFor != "" {
		return ""
	}
	return strings.ToLower(strings.Join(strings.Fields(a.Desk), " "))
}

// head is the one of a player's staves that the part is called by: the one that the player
// is called by, else the first of the plan.
func head(all []Assignment, group []int) int {
	return slices.MinFunc(group, func(x, y int) int {
		a, b := &all[x], &all[y]
		if a, b := a.namesake(), b.namesake(); a != b {
			if a {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.planIndex, b.planIndex)
	})
}

// namesake reports whether the player is called like the part.
func (a *Assignment) namesake() bool { return a.PlanPart == "" || sameName(a.PlanPart, a.Desk) }

// addNamesakes gives a part that has no player to the player who is called like it.
func (c *Assigner) addNamesakes(all []Assignment) {
	for i := range all {
		desk := all[i].Desk
		if desk == "" {
			continue
		}
		for k := range all {
			if all[k].Desk == "" && (sameName(all[k].Name, desk) || sameName(all[k].Label, desk)) {
				all[k].Desk = desk
			}
		}
	}
}

// deskLabel heads the part of a player with several staves: the plan's label, else the
// first instrument with the others in brackets ("Flute 2 (Piccolo)"); a percussionist's
// is the player's name.
func (c *Assigner) deskLabel(a *Assignment) string {
	if a.planLabel {
		return a.Label
	}
	if a.Sings && a.Desk == choirDesk {
		return c.choirLabel(a)
	}
	staves := append([]Assignment{*a}, a.With...)
	var others []string
	percussion := true
	for i := range staves {
		if staves[i].planLabel {
			return staves[i].Label
		}
		in := staves[i].Instrument
		percussion = percussion && in != nil && in.Group == instruments.Percussion
		if label := staves[i].Label; i > 0 && label != a.Label && !slices.Contains(others, label) {
			others = append(others, label)
		}
	}
	switch {
	case percussion && strings.ContainsFunc(a.Desk, func(r rune) bool { return r < '0' || r > '9' }):
		return strings.Join(strings.Fields(a.Desk), " ")
	case len(others) == 0:
		return a.Label
	}
	return fmt.Sprintf("%s (%s)", a.Label, strings.Join(others, ", "))
}

// AtOnce reports whether one pair of hands can play two instruments at once: two of
// percussion, or two keyboards (common practice, no source).
func AtOnce(a, b *instruments.Instrument) bool {
	if a == nil || b == nil {
		return false
	}
	return a.Group == b.Group && (a.Group == instruments.Percussion || a.Group == instruments.Keyboards)
}
