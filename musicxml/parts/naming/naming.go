package naming

import (
	"path"
	"regexp"
	"slices"
	"strings"

	"deskpart/instruments"
)

// Part is what a part can be called by.
type Part struct {
	IDs        []string                // "P5"; for one player of a shared staff also "P5:2"
	Names      []string                // in the score, as displayed, as the sheet is headed; the first is the one to show
	Instrument *instruments.Instrument // nil where it is not known
	Players    []int                   // numbers of those who play it; nil for those that the first name says
}

// A Resolver knows the parts of a score by all their names.
type Resolver struct {
	catalogue *instruments.Catalogue
	parts     []Part
	spellings [][]string // of the names, beside parts
}

// New returns a resolver for the parts of a score, which are told by their places in
// the list.
func New(catalogue *instruments.Catalogue, parts []Part) *Resolver {
	r := &Resolver{catalogue: catalogue, parts: slices.Clone(parts)}
	for i := range r.parts {
		p := &r.parts[i]
		if p.Players == nil && len(p.Names) > 0 {
			p.Players = catalogue.Match(instruments.Query{Name: p.Names[0]}).Players
		}
		var spellings []string
		for _, name := range p.Names {
			spellings = append(spellings, catalogue.Spelling(name))
		}
		r.spellings = append(r.spellings, spellings)
	}
	return r
}

// Find returns the places of the parts that words name, in the order of the list; none
// where they name nothing.
func (r *Resolver) Find(words string) []int {
	words = strings.TrimSpace(words)
	if words == "" || len(r.parts) == 0 {
		return nil
	}
	for _, called := range []func(string) func(int) bool{r.byID, r.byName, r.byPattern, r.byInstrument, r.byMeaning} {
		if found := r.where(called(words)); len(found) > 0 {
			return found
		}
	}
	return nil
}

// Listed cuts words at their commas where they are a list: "flute, horn", but not "Horn 1,
// 2 in F" or "Saxophone, alto".
func (r *Resolver) Listed(words []string) (listed []string) {
	named := func(piece string) bool { return len(r.Find(piece)) > 0 }
	lost := func(piece string) bool {
		return !named(piece) && aWord.MatchString(piece) && r.catalogue.Match(instruments.Query{Name: piece}).Instrument == nil
	}
	for _, whole := range words {
		pieces := strings.Split(whole, ",")
		isWhole := r.CalledSo(whole) || named(whole) && !slices.ContainsFunc(pieces, lost)
		if isWhole || !slices.ContainsFunc(pieces, named) {
			pieces = []string{whole}
		}
		for _, piece := range pieces {
			listed = append(listed, strings.TrimSpace(piece))
		}
	}
	return listed
}

// aWord is more than a key or a number, so that a part may have been meant by it.
var aWord = regexp.MustCompile(`\pL{3}`)

// One returns the place of the one part that words name. The error is a *NotFound or an
// *Ambiguous.
func (r *Resolver) One(words string) (int, error) {
	found := r.Find(words)
	switch len(found) {
	case 0:
		return 0, r.notFound(words)
	case 1:
		return found[0], nil
	}
	if r.isWhole(found[0], found[1:]) {
		return found[0], nil
	}
	return 0, &Ambiguous{Words: words, Parts: r.show(found)}
}

// isWhole reports whether the others are but the players of one part.
func (r *Resolver) isWhole(part int, others []int) bool {
	for _, id := range r.parts[part].IDs {
		if !slices.ContainsFunc(others, func(i int) bool {
			return !slices.ContainsFunc(r.parts[i].IDs, func(own string) bool { return strings.HasPrefix(own, id+":") })
		}) {
			return true
		}
	}
	return false
}

// CalledSo reports whether words are the id or the name of a part as they stand, and not
// a pattern, or what a part means.
func (r *Resolver) CalledSo(words string) bool {
	words = strings.TrimSpace(words)
	return len(r.where(r.byID(words))) > 0 || len(r.where(r.byName(words))) > 0
}

func (r *Resolver) where(is func(int) bool) []int {
	var found []int
	for i := range r.parts {
		if is != nil && is(i) {
			found = append(found, i)
		}
	}
	return found
}

func (r *Resolver) byID(words string) func(int) bool {
	return func(i int) bool {
		return slices.ContainsFunc(r.parts[i].IDs, func(id string) bool { return strings.EqualFold(id, words) })
	}
}

// byName compares spellings; a name without letters, as it stands.
func (r *Resolver) byName(words string) func(int) bool {
	spelling := r.catalogue.Spelling(words)
	return func(i int) bool {
		for k, name := range r.parts[i].Names {
			if strings.EqualFold(strings.TrimSpace(name), words) || spelling != "" && r.spellings[i][k] == spelling {
				return true
			}
		}
		return false
	}
}

// byPattern compares with ids, names and instruments, signs written out.
func (r *Resolver) byPattern(words string) func(int) bool {
	if !strings.ContainsAny(words, "*?[") {
		return nil
	}
	pattern := plain(words)
	if _, err := path.Match(pattern, ""); err != nil {
		return nil
	}
	return func(i int) bool {
		p := &r.parts[i]
		names := slices.Concat(p.IDs, p.Names)
		if p.Instrument != nil {
			names = append(names, p.Instrument.ID, p.Instrument.Kind)
		}
		return slices.ContainsFunc(names, func(name string) bool {
			ok, _ := path.Match(pattern, plain(name))
			return ok
		})
	}
}

// plain writes a name or pattern in small letters, its flats and sharps as b and #. A
// stroke is none that a path is cut at.
func plain(text string) string { return signs.Replace(strings.ToLower(text)) }

var signs = strings.NewReplacer("♭", "b", "♯", "#", "-flat", "b", " flat", "b", "-sharp", "#", " sharp", "#", "/", "|")

// byInstrument takes the words for an instrument's id, kind, family or group, whichever
// is the narrowest that the score has: a flute is no piccolo where there are flutes.
func (r *Resolver) byInstrument(words string) func(int) bool {
	word := strings.ReplaceAll(strings.ToLower(words), " ", "-")
	for _, name := range []func(*instruments.Instrument) string{
		func(in *instruments.Instrument) string { return in.ID },
		func(in *instruments.Instrument) string { return in.Kind },
		func(in *instruments.Instrument) string { return in.Family },
		func(in *instruments.Instrument) string { return string(in.Group) },
	} {
		is := func(i int) bool {
			in := r.parts[i].Instrument
			return in != nil && name(in) == word
		}
		if len(r.where(is)) > 0 {
			return is
		}
	}
	return nil
}

// byMeaning reads the words as the name of a part, in any language: its instrument, its
// key where they say one, its players where they number them.
func (r *Resolver) byMeaning(words string) func(int) bool {
	m := r.catalogue.Match(instruments.Query{Name: words})
	if m.Instrument == nil || len(m.Unknown) > 0 || len(m.Doubles) > 0 {
		return nil
	}
	for _, meant := range slices.Concat([]*instruments.Instrument{m.Instrument}, m.Alternatives) {
		is := func(i int) bool { return r.parts[i].means(meant, m) }
		if len(r.where(is)) > 0 {
			return is
		}
	}
	return nil
}

// means reports whether a part is for an instrument and the players that words mean.
func (p *Part) means(in *instruments.Instrument, m instruments.Match) bool {
	switch {
	case p.Instrument == nil || p.Instrument.Kind != in.Kind:
		return false
	case m.KeyStated && (p.Instrument.Key != in.Key || in.Register != "" && p.Instrument.Register != in.Register):
		return false
	}
	return !slices.ContainsFunc(m.Players, func(n int) bool { return !slices.Contains(p.Players, n) })
}

// Names lists what the parts may be called on a command line: of each its name where
// that means no other part, else its id.
func (r *Resolver) Names() []string {
	names := make([]string, len(r.parts))
	for i := range r.parts {
		names[i] = r.Name(i)
	}
	return names
}

// Name is what a part may be called so that no other is meant: its name, or else its
// last id.
func (r *Resolver) Name(i int) string {
	p := &r.parts[i]
	if len(p.Names) > 0 && strings.TrimSpace(p.Names[0]) != "" {
		if found := r.Find(p.Names[0]); len(found) == 1 && found[0] == i {
			return p.Names[0]
		}
	}
	if len(p.IDs) == 0 {
		return ""
	}
	return p.IDs[len(p.IDs)-1]
}
