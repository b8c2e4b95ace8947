package instruments

// Company is the other parts of a score, by what their names mean: it tells the bass
// of a choir from that of an orchestra, and what language a score is in.
type Company struct {
	members []member
	left    int // the place of the part whose company it is; -1 where that is not among them
}

// member is what is known of one part by its name alone.
type member struct {
	group, family string // "" where the name means no instrument, or one of several
	language      string // "" where the name does not tell
}

// Company reads the names of parts.
func (c *Catalogue) Company(names []string) *Company {
	company := &Company{left: -1}
	for _, name := range names {
		company.members = append(company.members, c.member(name))
	}
	return company
}

// Without is the company that one of its parts has in the others.
func (co *Company) Without(i int) *Company { return &Company{co.members, i} }

func (c *Catalogue) member(name string) member {
	var m member
	named, _ := c.mentions(tokenize(name))
	if len(named) == 0 {
		return m
	}
	if sure := filter(named[0].targets, target.always); len(sure) == 1 {
		usual := c.usual(sure[0].kind)
		m.group, m.family = usual.Group, usual.Family
	}
	var spoken []string
	for _, t := range named[0].targets {
		spoken = union(spoken, t.languages)
	}
	m.language = oneOf(spoken)
	return m
}

// has reports whether one of the others answers so.
func (co *Company) has(is func(*member) bool) bool {
	if co == nil {
		return false
	}
	for i := range co.members {
		if i != co.left && is(&co.members[i]) {
			return true
		}
	}
	return false
}

// language is the one that most of the names belong to, counting those that belong
// to one alone; "" where none tells.
func (co *Company) language() string {
	if co == nil {
		return ""
	}
	votes := map[string]int{}
	for i, m := range co.members {
		if i != co.left && m.language != "" {
			votes[m.language]++
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

// fitsScore reports whether an instrument that shares its name with others belongs
// among the score's other parts: a voice where there are voices, else the member of
// a section that is there.
func (c *Catalogue) fitsScore(t target, q Query) bool {
	group := c.usual(t.kind).Group
	if q.Others.has(func(m *member) bool { return m.group == "voice" }) {
		return group == "voice"
	}
	return q.Others.has(func(m *member) bool { return m.group == group })
}

// hasFamily reports whether an instrument has one of its family beside it.
func (c *Catalogue) hasFamily(t target, q Query) bool {
	family := c.usual(t.kind).Family
	return q.Others.has(func(m *member) bool { return m.family == family })
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
func (c *Catalogue) Language(names []string) string { return c.Company(names).language() }

// languageOf returns the language of the score: as the query says, or as the names
// of its other parts tell.
func (c *Catalogue) languageOf(q Query) string {
	if q.Language != "" {
		return q.Language
	}
	return q.Others.language()
}
