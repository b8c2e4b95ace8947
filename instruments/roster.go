package instruments

import (
	"cmp"
	"slices"

	"deskpart/transpose/pitch"
)

// roster is the parts of one score beside each other: what each may be, and what is
// settled of it so far. It tells the bass of a choir from that of an orchestra, the
// alto of a choir from a saxophone, and what language a score is in.
type roster struct {
	catalogue *Catalogue
	members   []member
	language  pitch.Language
	ensembles []*ensemble // that the settled members make
	settled   bool        // false while nothing is known of any member
}

// member is one part of the roster.
type member struct {
	query *Query
	heard *hearing
	usual *Instrument // of the kind that is settled, nil while it is not
	choir int         // how surely it stands in a choir by its place: 0, 1 or 2
}

// rounds is how often what is settled of some parts is held against the others: each
// round settles parts beside those of the last.
const rounds = 3

func (c *Catalogue) newRoster(queries []Query) *roster {
	co := &roster{catalogue: c, members: make([]member, len(queries))}
	for i := range queries {
		co.members[i] = member{query: &queries[i], heard: c.hear(&queries[i])}
	}
	co.language = co.mostSpoken()
	co.settleSure()
	co.settled = true
	co.findChoirs()
	for range rounds {
		co.findEnsembles()
		if !co.settleMore() {
			break
		}
	}
	return co
}

// settleSure settles the parts whose names have one meaning in any roster.
func (co *roster) settleSure() {
	for i := range co.members {
		m := &co.members[i]
		if len(m.heard.named) == 0 {
			continue
		}
		main := m.heard.named[0]
		if possible := co.scene(i).possible(main); len(possible) == 1 {
			m.usual = co.catalogue.usual(possible[0].kind)
		}
	}
}

// settleMore settles parts by what is settled so far; false where there is nothing
// new.
func (co *roster) settleMore() bool {
	changed := false
	for i := range co.members {
		m := &co.members[i]
		if len(m.heard.named) == 0 {
			continue
		}
		choice := co.scene(i).choose(m.heard.named[0])
		if choice.target.kind == "" || !choice.sure {
			continue
		}
		if usual := co.catalogue.usual(choice.target.kind); usual != m.usual {
			m.usual, changed = usual, true
		}
	}
	return changed
}

func (co *roster) findEnsembles() {
	var there []*Instrument
	for i := range co.members {
		if usual := co.members[i].usual; usual != nil {
			there = append(there, usual)
		}
	}
	co.ensembles = filter(co.catalogue.ensembles, func(e *ensemble) bool { return e.in(there) })
}

// ensemble returns the one that is there and reads something of its own, nil where
// none does.
func (co *roster) ensemble() *ensemble {
	for _, e := range co.ensembles {
		if len(e.reads) > 0 {
			return e
		}
	}
	return nil
}

func (co *roster) is(name string) bool {
	return slices.ContainsFunc(co.ensembles, func(e *ensemble) bool { return e.name == name })
}

// scene is one part in its roster.
func (co *roster) scene(at int) *scene {
	return &scene{Query: co.members[at].query, c: co.catalogue, roster: co, at: at}
}

// has reports whether one of the other settled members answers so.
func (co *roster) has(at int, is func(*Instrument) bool) bool {
	if co == nil {
		return false
	}
	for i := range co.members {
		if usual := co.members[i].usual; i != at && usual != nil && is(usual) {
			return true
		}
	}
	return false
}

// beside returns the settled instruments of the parts above and below.
func (co *roster) beside(at int) []*Instrument {
	var found []*Instrument
	if co == nil {
		return nil
	}
	for _, i := range []int{at - 1, at + 1} {
		if i >= 0 && i < len(co.members) && co.members[i].usual != nil {
			found = append(found, co.members[i].usual)
		}
	}
	return found
}

// mostSpoken is the language that most of the names belong to, counting those that
// belong to one alone, by the instrument's name or by its key ("Es"); "" where none
// tells.
func (co *roster) mostSpoken() pitch.Language {
	votes := map[pitch.Language]int{}
	for i := range co.members {
		heard := co.members[i].heard
		if len(heard.named) == 0 {
			continue
		}
		var spoken []pitch.Language
		for _, t := range heard.named[0].targets {
			spoken = union(spoken, t.languages)
		}
		language := oneOf(spoken)
		for _, key := range heard.named[0].keys {
			language = cmp.Or(language, oneOf(key.languages))
		}
		if language != "" {
			votes[language]++
		}
	}
	best := pitch.Language("")
	for _, language := range languages {
		if votes[language] > votes[best] {
			best = language
		}
	}
	return best
}

// sung reports whether syllables stand under any part, and whether that is known.
func (co *roster) sung() (sung, known bool) {
	for i := range co.members {
		s, k := co.members[i].query.lyrics()
		sung, known = sung || s, known || k
	}
	return sung, known
}
