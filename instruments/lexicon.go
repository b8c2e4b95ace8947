package instruments

import (
	"cmp"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/language"

	"deskpart/transpose/pitch"
)

// Conditions under which an alias means its instrument.
const (
	whenFirst  = "first"  // of several instruments of that name, this one unless something else decides
	whenKey    = "key"    // only with a key that the instrument stands in
	whenClef   = "clef"   // only with a clef that the instrument is written in
	whenNumber = "number" // only with a player's number
	whenSound  = "sound"  // only with a sound id of the instrument
	whenFamily = "family" // only beside another instrument of its family
	whenIn     = "in "    // only in an ensemble, whose name follows: "in brass-band"
)

// A target is an instrument that a name may mean.
type target struct {
	kind      string
	id        string // set where the name means one member of the kind
	when      string
	languages []pitch.Language
	plural    bool     // may stand for several players: a plural, or an abbreviation
	spellings []string // of the name, which tell "Tenor Horn" from the German "Tenorhorn"
	sizes     []int    // of the name in tokens, as it is spelled
}

// A lexicon finds the instruments that words may mean. A program run asks for few of
// its thousands of names, so a name is read the first time that something with the
// same letters is asked for.
type lexicon struct {
	names   []entry          // in the order of the catalogue
	letters map[uint32]chain // the names by the sum of their letters
	longest int              // tokens in the longest name
	folded  map[rune]uint32  // the sum of what a letter folds to

	mutex sync.RWMutex
	read  map[uint32]*forms // by the sum of the letters
}

// An entry is a name as the catalogue has it, and what it may mean.
type entry struct {
	name string
	*target
	next int // the next name with the same letters
}

// chain is where the names with the same letters begin and end; places are counted
// from 1, so that 0 is none.
type chain struct{ first, last int }

// forms are the ways in which names with the same letters are found.
type forms struct {
	strict map[string][]target // by the form that keeps full stops of single letters
	loose  map[string][]target // without them, where that differs
	sets   map[string][]target // by the words in alphabetical order
}

// namesPerAlias is how many names of all kinds there are for a row of aliases.csv,
// about.
const namesPerAlias = 3

func (c *Catalogue) readAliases(files fs.FS) error {
	t, err := readTable(files, "aliases.csv", aliasColumns...)
	if err != nil {
		return err
	}
	c.lexicon = &lexicon{names: make([]entry, 0, namesPerAlias*len(t.rows)), letters: make(map[uint32]chain, namesPerAlias*len(t.rows)), folded: map[rune]uint32{}, read: map[uint32]*forms{}}
	c.addNames(c.conditional(t))
	conditions := []string{"", whenFirst, whenKey, whenClef, whenNumber, whenSound, whenFamily}
	for _, e := range c.ensembles {
		conditions = append(conditions, whenIn+e.name)
	}
	for _, r := range t.rows {
		entry, err := c.readAlias(r, conditions)
		if err != nil {
			return err
		}
		abbreviated := strings.HasSuffix(r.text("alias"), ".")
		entry.plural = abbreviated && c.usual(entry.kind).Group != Percussion
		c.lexicon.add(r.text("alias"), &entry)
		// English plurals are regular enough not to be listed.
		if r.text("language") == "en" && !abbreviated {
			several := entry
			several.plural = true
			c.lexicon.add(r.text("alias")+"s", &several)
		}
	}
	return nil
}

func (c *Catalogue) readAlias(r row, conditions []string) (target, error) {
	// Names are known in more languages than labels are written in.
	if _, err := language.ParseBase(r.text("language")); err != nil {
		return target{}, r.errorf("language", "%q is no code of a language (ISO 639-1)", r.text("language"))
	}
	when, err := word(r, "when", conditions...)
	if err != nil {
		return target{}, err
	}
	entry := target{kind: r.text("kind"), when: when, languages: []pitch.Language{pitch.Language(r.text("language"))}}
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
func (c *Catalogue) conditional(t *table) map[string][]string {
	names := map[string][]string{}
	for _, r := range t.rows {
		if when := r.text("when"); when != "" && when != whenFirst && !strings.HasPrefix(when, whenIn) {
			kind := r.text("kind")
			if i := c.byID[kind]; i != nil {
				kind = i.Kind
			}
			names[kind] = append(names[kind], looseForm(tokenize(r.text("alias"))))
		}
	}
	return names
}

// addNames enters the names that labels use, but for those of another condition,
// which are listed by kind.
func (c *Catalogue) addNames(not map[string][]string) {
	add := func(name string, entry *target) {
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
			one := &target{kind: i.Kind, languages: languages[n : n+1 : n+1]}
			several := &target{kind: one.kind, languages: one.languages, plural: i.Group != Percussion}
			if name.Plural == name.Singular {
				one = several
			}
			add(name.Singular, one)
			add(name.Abbreviation, several)
			add(name.Plural, several)
		}
	}
}

// add notes a name in all its spellings, to be read when it is asked for.
func (l *lexicon) add(name string, meant *target) {
	l.addSpelling(name, meant)
	if other := twoLetterForm(name); other != name {
		l.addSpelling(other, meant)
	}
}

func (l *lexicon) addSpelling(name string, meant *target) {
	sum, words, simple := l.simpleLetters(name)
	if !simple {
		tokens := tokenize(name)
		sum, words = 0, len(tokens)
		for i := range tokens {
			sum += letterSum(tokens[i].text)
		}
	}
	if words == 0 {
		return
	}
	l.longest = max(l.longest, words)
	l.names = append(l.names, entry{name: name, target: meant})
	at, c := len(l.names), l.letters[sum]
	if c.first == 0 {
		c.first = at
	} else {
		l.names[c.last-1].next = at
	}
	c.last = at
	l.letters[sum] = c
}

// letterSum adds up the letters of a form, in whichever order and however they are
// parted into words. Other names may come to the same sum by chance.
func letterSum(form string) uint32 {
	var sum uint32
	for i := range len(form) {
		if c := form[i]; c != ' ' && c != '.' {
			sum += letterValue(c)
		}
	}
	return sum
}

func letterValue(c byte) uint32 { return (uint32(c) + 1) * 0x9E3779B1 >> 8 }

// simpleLetters adds up the letters of a name and counts its words where it is
// written in letters, numbers, full stops, hyphens and spaces alone.
func (l *lexicon) simpleLetters(name string) (sum uint32, words int, simple bool) {
	kind := rune(0) // of the word that is being read
	for _, r := range name {
		now := 'a'
		switch {
		case r >= 'a' && r <= 'z':
			sum += letterValue(byte(r))
		case r >= 'A' && r <= 'Z':
			sum += letterValue(byte(r) + 'a' - 'A')
		case r >= '0' && r <= '9':
			now = '1'
			sum += letterValue(byte(r))
		case r == ' ' || r == '.' || r == '-':
			kind = 0
			continue
		default:
			value := l.foldedSum(r)
			if value == 0 {
				return 0, 0, false
			}
			now = letterKind(r)
			sum += value
		}
		if now != kind || now == 'h' {
			words++
		}
		kind = now
	}
	return sum, words, len(name) <= maxNameLength && words <= maxNameWords
}

// foldedSum is the sum of the letters that a letter folds to wherever it stands; 0 for
// what is none, or is read otherwise beside others.
func (l *lexicon) foldedSum(r rune) uint32 {
	sum, known := l.folded[r]
	if !known {
		switch letter := string(r); {
		case r >= '一' && r <= '鿿': // Chinese characters fold to themselves
			sum = letterSum(letter)
		case unicode.IsLetter(r) && plainSign(r) == r && plainForm(letter) == letter:
			sum = letterSum(fold(letter))
		}
		l.folded[r] = sum
	}
	return sum
}

// noForms are those of letters that no name has.
var noForms forms

// formsLike returns the forms of all names that have the letters of a form.
func (l *lexicon) formsLike(form string) *forms {
	sum := letterSum(form)
	if l.letters[sum].first == 0 { // not kept: scores ask for any number of words
		return &noForms
	}
	l.mutex.RLock()
	f, read := l.read[sum]
	l.mutex.RUnlock()
	if read {
		return f
	}
	l.mutex.Lock()
	defer l.mutex.Unlock()
	if f, read = l.read[sum]; !read {
		f = &forms{map[string][]target{}, map[string][]target{}, map[string][]target{}}
		for at := l.letters[sum].first; at > 0; at = l.names[at-1].next {
			f.enter(&l.names[at-1])
		}
		l.read[sum] = f
	}
	return f
}

// enter reads a name and enters it under its forms.
func (f *forms) enter(e *entry) {
	tokens := tokenize(e.name)
	meant := *e.target
	meant.spellings, meant.sizes = []string{written(tokens)}, []int{len(tokens)}
	strict, loose := strictForm(tokens), looseForm(tokens)
	enter(f.strict, strict, meant)
	if loose != strict {
		enter(f.loose, loose, meant)
	}
	if len(tokens) > 1 {
		enter(f.sets, setForm(tokens), meant)
	}
}

// enter adds a target to a form, joining the languages of equal ones.
func enter(index map[string][]target, form string, entry target) {
	targets := index[form]
	for n := range targets {
		t := &targets[n]
		if t.kind == entry.kind && t.id == entry.id && (t.when == entry.when || t.always() && entry.always()) {
			t.when = cmp.Or(t.when, entry.when)
			t.languages = union(t.languages, entry.languages)
			t.spellings = union(t.spellings, entry.spellings)
			t.sizes = union(t.sizes, entry.sizes)
			t.plural = t.plural && entry.plural
			return
		}
	}
	index[form] = append(targets, entry)
}

// strictly returns what a name may mean, by its form with the full stops of single
// letters.
func (l *lexicon) strictly(form string) []target { return l.formsLike(form).strict[form] }

// named returns what a name may mean without regard to full stops.
func (l *lexicon) named(form string) []target {
	f := l.formsLike(form)
	return append(slices.Clip(f.strict[form]), f.loose[form]...)
}

// inAnyOrder returns what words in any order may mean, by their form.
func (l *lexicon) inAnyOrder(form string) []target { return l.formsLike(form).sets[form] }

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
func setForm(tokens []token) string {
	words := make([]string, len(tokens))
	for n := range tokens {
		words[n] = tokens[n].text
	}
	slices.Sort(words)
	return strings.Join(words, " ")
}

// written returns the words in small letters as they are spelled, accents and all.
func written(tokens []token) string {
	words := make([]string, len(tokens))
	for n := range tokens {
		words[n] = tokens[n].lower()
	}
	return strings.Join(words, " ")
}

// always reports whether the name means the instrument without a condition.
func (t target) always() bool {
	return t.when == "" || t.when == whenFirst
}
