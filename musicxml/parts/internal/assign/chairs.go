package assign

import (
	"fmt"
	"slices"

	"deskpart/musicxml/parts/naming"
	"deskpart/musicxml/parts/plan"
)

// chair is one part file before the plan: a part of the score, or one player's share of
// a staff.
type chair struct{ whole, player Assignment }

// chairs lists the part files as they are without a plan, in score order.
func (c *Assigner) chairs() []chair {
	agreed := c.Consensus()
	var all []chair
	for i := range c.Parts {
		usual := c.Usual(i)
		usual.Warnings = append(usual.Warnings, agreed.Contradictions(i)...)
		for _, player := range c.playersOf(usual) {
			all = append(all, chair{usual, player})
		}
	}
	return all
}

// names says what the rows of a plan name: of each row the parts as a whole and the
// players of shared staves, as places in the list of chairs.
type names struct{ wholes, players []bool }

// named finds what each row of a plan names.
func (c *Assigner) named(rows []plannedRow, chairs []chair) (found []names, missing []plan.Missing) {
	if len(rows) == 0 {
		return nil, nil
	}
	players := make([]Assignment, len(chairs))
	for i := range chairs {
		players[i] = chairs[i].player
	}
	called := c.callable(players)
	for k := range rows {
		n := names{make([]bool, len(chairs)), make([]bool, len(chairs))}
		places := called.find(rows[k].Part)
		for _, at := range places {
			called.entries[at].mark(players, &n)
		}
		if len(places) == 0 {
			missing = append(missing, plan.Missing{NotFound: called.Missing(rows[k].Part), Row: &rows[k].Row})
		}
		found = append(found, n)
	}
	if c.options.Work {
		giveWay(rows, found, called, len(chairs))
	}
	return found, missing
}

// Means reports whether words name any part, as a row of a plan does.
func (c *Assigner) Means(words string) bool {
	return len(c.wholes().Find(words)) > 0
}

// wholes finds the parts of the score, each as a whole, by what they can be called.
func (c *Assigner) wholes() *naming.Resolver {
	list := make([]naming.Part, len(c.Parts))
	for i := range list {
		whole := c.Usual(i)
		list[i] = c.calledBy(&whole)
	}
	return naming.New(c.Catalogue, list)
}

// giveWay takes from rows of a work's plan what they only mean in this movement, where
// other rows name it as it stands: "Flute" of one movement is not the piccolo of another,
// nor its "Flutes 1 & 2", if the plan has rows for these.
func giveWay(rows []plannedRow, found []names, called callable, chairs int) {
	precise := make([]bool, chairs)
	for k := range rows {
		if called.CalledSo(rows[k].Part) {
			for i := range precise {
				precise[i] = precise[i] || found[k].wholes[i] || found[k].players[i]
			}
		}
	}
	for k := range rows {
		if !called.CalledSo(rows[k].Part) {
			for i := range precise {
				found[k].wholes[i] = found[k].wholes[i] && !precise[i]
				found[k].players[i] = found[k].players[i] && !precise[i]
			}
		}
	}
}

// callable is a list of part files by what a user may call them: parts, and the players
// of shared staves.
type callable struct {
	*naming.Resolver
	entries []entry // beside what the resolver finds
}

// entry is a part, or where place is not negative one of its players.
type entry struct {
	part  int
	place int // in the list of part files
}

func (e entry) mark(files []Assignment, n *names) {
	if e.place >= 0 {
		n.players[e.place] = true
		return
	}
	for k := range files {
		n.wholes[k] = n.wholes[k] || files[k].Part == e.part
	}
}

// callable lists what part files can be called, each part before its players.
func (c *Assigner) callable(files []Assignment) callable {
	var list []naming.Part
	var entries []entry
	last := -1
	for i := range files {
		a := &files[i]
		if a.Part != last {
			last = a.Part
			whole := c.Usual(a.Part)
			list, entries = append(list, c.calledBy(&whole)), append(entries, entry{a.Part, -1})
		}
		if a.Player > 0 {
			list, entries = append(list, c.calledBy(a)), append(entries, entry{a.Part, i})
		} else { // a plan may have headed it otherwise
			whole := &list[len(list)-1]
			whole.Names = append(whole.Names, a.Label)
		}
	}
	return callable{naming.New(c.Catalogue, list), entries}
}

// find returns the entries that words name. Where they name a staff and some of its
// players but not all ("2. Flöte"), the players are meant.
func (c callable) find(words string) []int {
	places := c.Find(words)
	count := func(part int, among []int) (players int) {
		for _, at := range among {
			if e := c.entries[at]; e.part == part && e.place >= 0 {
				players++
			}
		}
		return players
	}
	all := make([]int, len(c.entries))
	for at := range all {
		all[at] = at
	}
	return slices.DeleteFunc(slices.Clone(places), func(at int) bool {
		e := c.entries[at]
		found := count(e.part, places)
		return e.place < 0 && found > 0 && found < count(e.part, all)
	})
}

// ofOnePart reports whether entries are a part, or a part with its players.
func (c callable) ofOnePart(places []int) bool {
	first := c.entries[places[0]]
	return !slices.ContainsFunc(places[1:], func(at int) bool { return c.entries[at].part != first.part || first.place >= 0 })
}

// Choose returns the place of the one part file that words name. On a staff that
// several players share it is that of the player with that place, counted from 1; 0
// takes the first. The error is a *naming.NotFound or a *naming.Ambiguous, or says that
// there is no such player.
func (c *Assigner) Choose(files []Assignment, words string, player int) (int, error) {
	called := c.callable(files)
	places := called.find(words)
	if len(places) == 0 || !called.ofOnePart(places) {
		_, err := called.One(words)
		return 0, err
	}
	e := called.entries[places[0]]
	if e.place >= 0 && (player == 0 || files[e.place].Player == player) {
		return e.place, nil
	}
	for k := range files {
		if a := &files[k]; a.Part == e.part && (player == 0 || a.Player == player) {
			return k, nil
		}
	}
	return 0, fmt.Errorf("part %q (%s) has no player %d", c.Parts[e.part].Name, c.Parts[e.part].ID, player)
}

// Find returns the one part of the score that words name.
func (c *Assigner) Find(words string) (int, error) { return c.wholes().One(words) }

// Names is what a plan may call each part file so that it means no other: a part by its
// name, a player by the label; by the id where that is not enough.
func (c *Assigner) Names(files []Assignment) []string {
	called := c.callable(files)
	names := make([]string, len(files))
	for at, e := range called.entries {
		for k := range files {
			if e.place == k || files[k].Part == e.part && files[k].Player == 0 {
				names[k] = called.Name(at)
			}
		}
	}
	return names
}

// calledBy is what a part, or the player of a shared staff, can be called by.
func (c *Assigner) calledBy(a *Assignment) naming.Part {
	p := naming.Part{IDs: []string{a.PlayerID()}, Names: []string{a.Label}, Instrument: a.Instrument}
	if a.Edition != "" {
		p.Instrument = a.Written
	}
	if one := a.OnePlayer(); one != nil {
		p.Names, p.Players = append(p.Names, c.englishLabel(*a)), []int{}
		if one.Number > 0 {
			p.Players = append(p.Players, one.Number)
		}
		return p
	}
	p.Names = []string{a.Name, a.Label}
	if display := c.ScoreParts[a.Part].NameDisplay; display != "" {
		p.Names = append(p.Names, display)
	}
	p.Players = append([]int{}, c.Parts[a.Part].Match.Players...)
	return p
}

// beforePlan is called with the instruments of the score in place of those of the plan:
// a horn's part stays a horn's to who asks for it.
func (c *Assigner) beforePlan(all []Assignment, called []naming.Part) []naming.Part {
	before := slices.Clone(called)
	for i := range all {
		before[i].Instrument = c.Usual(all[i].Part).Instrument
	}
	return before
}

// only keeps the part files that the patterns of Only name; all where there are none.
func (c *Assigner) only(all []Assignment) (kept []Assignment, missing []plan.Missing) {
	if len(c.options.Only) == 0 {
		return all, nil
	}
	list := make([]naming.Part, len(all))
	for i := range all {
		list[i] = c.calledBy(&all[i])
		list[i].IDs, list[i].Names = append([]string{all[i].ID}, list[i].IDs...), append(list[i].Names, all[i].Name) // a player's staff
		for k := range all[i].With {
			with := c.calledBy(&all[i].With[k])
			list[i].IDs, list[i].Names = append(list[i].IDs, with.IDs...), append(list[i].Names, with.Names...)
		}
	}
	before := c.beforePlan(all, list)
	resolver, inScore := naming.New(c.Catalogue, list), naming.New(c.Catalogue, before)
	wanted := make([]bool, len(all))
	for _, words := range naming.New(c.Catalogue, slices.Concat(list, before)).Listed(c.options.Only) {
		found := resolver.Find(words)
		if len(found) == 0 {
			found = inScore.Find(words)
		}
		for _, at := range found {
			wanted[at] = true
		}
		if absent := resolver.Missing(words); absent != nil && len(found) == 0 {
			missing = append(missing, plan.Missing{NotFound: absent})
		}
	}
	for i := range all {
		if wanted[i] {
			kept = append(kept, all[i])
		}
	}
	return kept, missing
}
