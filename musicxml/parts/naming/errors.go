package naming

import (
	"fmt"
	"slices"
	"strings"

	"deskpart/instruments"
)

// NotFound says that words name no part of a score.
type NotFound struct {
	Words   string
	Nearest []string // names that are spelled nearly like them, the nearest first
	Parts   []string // what the parts are called, as far as a message has room
}

func (e *NotFound) Error() string {
	if e.Words == "" {
		return "no part is named; " + e.Hint()
	}
	return fmt.Sprintf("no part is called %q; %s", e.Words, e.Hint())
}

// Hint says what may be meant: the nearest names, or else what there is.
func (e *NotFound) Hint() string {
	switch {
	case len(e.Nearest) > 0:
		return "did you mean " + strings.Join(e.Nearest, ", ") + "?"
	case len(e.Parts) == 0:
		return "the score has no parts"
	}
	return "the parts are " + strings.Join(e.Parts, ", ")
}

// Ambiguous says that words name several parts where one is wanted.
type Ambiguous struct {
	Words string
	Parts []string
}

func (e *Ambiguous) Error() string {
	return fmt.Sprintf("%q means several parts: %s; name one of them or its id", e.Words, strings.Join(e.Parts, ", "))
}

// mostListed bounds how many parts a message lists, mostNearest how many it guesses at.
const mostListed, mostNearest = 40, 3

// Missing returns a *NotFound for words that name no part, nil for others.
func (r *Resolver) Missing(words string) *NotFound {
	if len(r.Find(words)) > 0 {
		return nil
	}
	return r.notFound(words)
}

func (r *Resolver) notFound(words string) *NotFound {
	all := make([]int, len(r.parts))
	for i := range all {
		all[i] = i
	}
	return &NotFound{Words: words, Nearest: r.nearest(words), Parts: r.show(all)}
}

// nearest finds the names that are spelled nearly like words.
func (r *Resolver) nearest(words string) []string {
	if len(r.parts) == 0 {
		return nil
	}
	var names, spellings []string
	for i, p := range r.parts {
		names, spellings = append(names, p.Names...), append(spellings, r.spellings[i]...)
		for _, id := range p.IDs {
			names, spellings = append(names, id), append(spellings, strings.ToLower(id))
		}
		if p.Instrument != nil {
			names, spellings = append(names, p.Instrument.Kind), append(spellings, p.Instrument.Kind)
		}
	}
	var near []string
	for _, place := range instruments.Nearest(r.catalogue.Spelling(words), spellings, mostListed) {
		if !slices.ContainsFunc(near, func(other string) bool { return strings.EqualFold(other, names[place]) }) {
			near = append(near, names[place])
		}
	}
	return near[:min(mostNearest, len(near))]
}

// show lists parts by name and id.
func (r *Resolver) show(places []int) []string {
	var list []string
	for _, i := range places {
		if len(list) == mostListed {
			return append(list, "…")
		}
		p := &r.parts[i]
		name, id := "", ""
		if len(p.Names) > 0 {
			name = p.Names[0]
		}
		if len(p.IDs) > 0 {
			id = p.IDs[len(p.IDs)-1]
		}
		switch {
		case name == "":
			list = append(list, id)
		case id == "":
			list = append(list, name)
		default:
			list = append(list, fmt.Sprintf("%s (%s)", name, id))
		}
	}
	return list
}
