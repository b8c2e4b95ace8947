package instruments

import (
	"io/fs"
	"slices"
	"strings"
)

// Conditions under which an alias means its instrument.
const (
	whenFirst  = "first"  // of several instruments of that name, this one unless something else decides
	whenKey    = "key"    // only with a key that the instrument stands in
	whenClef   = "clef"   // only with a clef that the instrument is written in
	whenNumber = "number" // only with a player's number
	whenSound  = "sound"  // only with a sound id of the instrument
	whenFamily = "family" // only beside another instrument of its family
)

// A target is an instrument that a name may mean.
type target struct {
	kind      string
	id        string // set where the name means one member of the kind
	when      string
	languages []string
	plural    bool     // may stand for several players: a plural, or an abbreviation
	spellings []string // of the name, which tell "Tenor Horn" from the German "Tenorhorn"
	sizes     []int    // of the name in tokens, as it is spelled
}

// A lexicon finds the instruments that words may mean.
type lexicon struct {
	strict  map[string][]target // by the form that keeps full stops of single letters
	loose   map[string][]target // without them, where that differs
	sets    map[string][]target // by the words in alphabetical order
	longest int                 // tokens in the longest name

	tokens []token // of the name that is being entered
	form   []byte
}

func (c *Catalogue) readAliases(files fs.FS) error {
	t, err := readTable(files, "aliases.csv", aliasColumns...)
	if err != nil {
		return err
	}
	c.lexicon = &lexicon{
		strict: make(map[string][]target, 4*len(t.rows)), loose: map[string][]target{}, sets: map[string][]target{},
	}
	c.addNames(conditional(t))
	for _, r := range t.rows {
		entry, err := c.readAlias(r)
		if err != nil {
			return err
		}
		abbreviated := strings.HasSuffix(r.text("alias"), ".")
		entry.plural = abbreviated && c.usual(entry.kind).Group != "percussion"
		c.lexicon.add(r.text("alias"), entry)
		// English plurals are regular enough not to be listed.
		if r.text("language") == "en" && !abbreviated {
			entry.plural = true
			c.lexicon.add(r.text("alias")+"s", entry)
		}
	}
	return nil
}

func (c *Catalogue) readAlias(r row) (target, error) {
	language, err := r.word("language", languages...)
	if err != nil {
		return target{}, err
	}
	when, err := r.word("when", "", whenFirst, whenKey, whenClef, whenNumber, whenSound, whenFamily)
	if err != nil {
		return target{}, err
	}
	entry := target{kind: r.text("kind"), when: when, languages: []string{language}}
	if len(c.byKind[entry.kind]) > 0 {
		return entry, nil
	}
	if i := c.byID[entry.kind]; i != nil {
		entry.kind, entry.id = i.Kind, i.ID
		return entry, nil
	}
	return target{}, r.errorf("kind", "%q is no kind and no instrument", entry.kind)
}

// conditional returns the names that aliases.csv gives a kind under a condition:
// the brass band's bass is only meant with its key.
func conditional(t *table) map[string][]string {
	names := map[string][]string{}
	for _, r := range t.rows {
		if when := r.text("when"); when != "" && when != whenFirst {
			names[r.text("kind")] = append(names[r.text("kind")], looseForm(tokenize(r.text("alias"))))
		}
	}
	return names
}

// addNames enters the names that labels use, but for those of another condition,
// which are listed by kind.
func (c *Catalogue) addNames(not map[string][]string) {
	add := func(name string, entry target) {
		if others := not[entry.kind]; len(others) == 0 || !slices.Contains(others, looseForm(tokenize(name))) {
			c.lexicon.add(name, entry)
		}
	}
	for _, i := range c.all {
		if !i.Flags.Usual {
			continue
		}
		for n, language := range languages {
			name := i.names[language]
			one := target{kind: i.Kind, languages: languages[n : n+1 : n+1]}
			several := one
			several.plural = i.Group != "percussion"
			if name.Plural == name.Singular {
				one = several
			}
			add(name.Singular, one)
			add(name.Abbreviation, several)
			add(name.Plural, several)
		}
	}
}

// add enters a name in all its spellings.
func (l *lexicon) add(name string, entry target) {
	l.addSpelling(name, entry)
	if other := twoLetterForm(name); other != name {
		l.addSpelling(other, entry)
	}
}

// addSpelling enters one spelling under its forms. It works in the lexicon's own
// memory: thousands of names are entered whenever the program starts.
func (l *lexicon) addSpelling(name string, entry target) {
	l.tokens = appendTokens(l.tokens[:0], name)
	if len(l.tokens) == 0 {
		return
	}
	l.longest = max(l.longest, len(l.tokens))
	entry.spellings, entry.sizes = []string{written(l.tokens)}, sizeOf(len(l.tokens))
	l.form = appendStrictForm(l.form[:0], l.tokens)
	dots := len(l.form)
	enter(l.strict, l.form, entry)
	if l.form = appendLooseForm(l.form[:0], l.tokens); len(l.form) != dots {
		enter(l.loose, l.form, entry)
	}
	if len(l.tokens) > 1 {
		l.form = appendSetForm(l.form[:0], l.tokens)
		enter(l.sets, l.form, entry)
	}
}

// sizes are the lists of one size; nobody writes into them.
var sizes = [...][]int{{0}, {1}, {2}, {3}, {4}, {5}, {6}, {7}}

func sizeOf(tokens int) []int {
	if tokens < len(sizes) {
		return slices.Clip(sizes[tokens])
	}
	return []int{tokens}
}

// enter adds a target to a form, joining the languages of equal ones.
func enter(index map[string][]target, form []byte, entry target) {
	targets := index[string(form)]
	for n := range targets {
		t := &targets[n]
		if t.kind == entry.kind && t.id == entry.id && (t.when == entry.when || t.always() && entry.always()) {
			t.when = first(t.when, entry.when)
			t.languages = union(t.languages, entry.languages)
			t.spellings = union(t.spellings, entry.spellings)
			t.sizes = union(t.sizes, entry.sizes)
			t.plural = t.plural && entry.plural
			return
		}
	}
	index[string(form)] = append(targets, entry)
}

// named returns what a name may mean without regard to full stops.
func (l *lexicon) named(form string) []target {
	return append(slices.Clip(l.strict[form]), l.loose[form]...)
}

// union returns the values of both. It never writes into the slices it is given.
func union[T comparable](a, b []T) []T {
	for _, value := range b {
		if !slices.Contains(a, value) {
			a = append(slices.Clip(a), value)
		}
	}
	return a
}

// setForm joins the words in alphabetical order, so that "Clarinet, bass" finds
// the bass clarinet.
func setForm(tokens []token) string { return string(appendSetForm(nil, tokens)) }

func appendSetForm(b []byte, tokens []token) []byte {
	var few [8]string
	words := few[:0]
	for i := range tokens {
		words = append(words, tokens[i].text)
	}
	slices.Sort(words)
	for n, word := range words {
		if n > 0 {
			b = append(b, ' ')
		}
		b = append(b, word...)
	}
	return b
}

// written returns the words in small letters as they are spelled, accents and all.
func written(tokens []token) string {
	if len(tokens) == 1 {
		return tokens[0].lower()
	}
	var few [64]byte
	b := few[:0]
	for i := range tokens {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(b, tokens[i].lower()...)
	}
	return string(b)
}

// always reports whether the name means the instrument without a condition.
func (t target) always() bool {
	return t.when == "" || t.when == whenFirst
}
