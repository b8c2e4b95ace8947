package instruments

import "slices"

// fitsScore reports whether an instrument that shares its name with others belongs
// among the score's other parts: a voice where there are voices, else the member of
// a section that is there.
func (c *Catalogue) fitsScore(t target, q Query) bool {
	if len(q.Others) == 0 {
		return false
	}
	groups := c.groupsOf(q.Others)
	group := c.usual(t.kind).Group
	if slices.Contains(groups, "voice") {
		return group == "voice"
	}
	return slices.Contains(groups, group)
}

// groupsOf returns the sections of the names that mean one instrument only.
func (c *Catalogue) groupsOf(names []string) []string {
	var groups []string
	for _, name := range names {
		named, _ := c.mentions(tokenize(name))
		if len(named) == 0 {
			continue
		}
		if sure := filter(named[0].targets, target.always); len(sure) == 1 {
			groups = append(groups, c.usual(sure[0].kind).Group)
		}
	}
	return groups
}
