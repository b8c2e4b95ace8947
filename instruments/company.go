package instruments

import "slices"

// fitsScore reports whether an instrument that shares its name with others belongs
// among the score's other parts: a voice where there are voices, else the member of
// a section that is there.
func (c *Catalogue) fitsScore(t target, q Query) bool {
	groups := c.others(q.Others, func(i *Instrument) string { return i.Group })
	group := c.usual(t.kind).Group
	if slices.Contains(groups, "voice") {
		return group == "voice"
	}
	return slices.Contains(groups, group)
}

// familiesOf returns the families of the names that mean one instrument only.
func (c *Catalogue) familiesOf(names []string) []string {
	return c.others(names, func(i *Instrument) string { return i.Family })
}

// others asks something of the instrument of each name that means one only.
func (c *Catalogue) others(names []string, ask func(*Instrument) string) []string {
	var answers []string
	for _, name := range names {
		named, _ := c.mentions(tokenize(name))
		if len(named) == 0 {
			continue
		}
		if sure := filter(named[0].targets, target.always); len(sure) == 1 {
			answers = append(answers, ask(c.usual(sure[0].kind)))
		}
	}
	return answers
}

// groupOf returns the group of a mention that means one instrument, else "".
func (c *Catalogue) groupOf(m *mention) string {
	if sure := filter(m.targets, target.always); len(sure) == 1 {
		return c.usual(sure[0].kind).Group
	}
	return ""
}

// Language returns the language that most of the names belong to, counting those
// that belong to one alone; "" where none tells.
func (c *Catalogue) Language(names []string) string {
	votes := map[string]int{}
	for _, name := range names {
		named, _ := c.mentions(tokenize(name))
		if len(named) == 0 {
			continue
		}
		var spoken []string
		for _, t := range named[0].targets {
			spoken = union(spoken, t.languages)
		}
		if language := oneOf(spoken); language != "" {
			votes[language]++
		}
	}
	best := ""
	for _, language := range languages {
		if votes[language] > votes[best] {
			best = language
		}
	}
	return best
}

// languageOf returns the language of the score: as the query says, or as the names
// of its other parts tell.
func (c *Catalogue) languageOf(q Query) string {
	if q.Language != "" || len(q.Others) == 0 {
		return q.Language
	}
	return c.Language(q.Others)
}
