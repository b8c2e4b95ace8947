package lexicon

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"deskpart/musicxml/internal/answers"
)

// wordsCSV lists what words over or under a staff mean, in Italian, German,
// French, English and Spanish. Columns: the words (case, accents and punctuation
// do not matter); their class; what they mean, where several words mean the same;
// "yes" where they must be the whole text; language; source.
//
//go:embed data/words.csv
var wordsCSV string

// WordClass says whom words concern.
type WordClass string

const (
	// TempoWords give a tempo: they hold for everybody wherever they stand.
	TempoWords WordClass = "tempo"
	// GradualWords change the tempo bit by bit, for everybody.
	GradualWords WordClass = "gradual"
	// NavigationWords say where to go on: da capo, fine.
	NavigationWords WordClass = "navigation"
	// PauseWords belong to a pause of everybody.
	PauseWords WordClass = "pause"
	// HeadingWords are a tempo at the head of a system and an expression elsewhere.
	HeadingWords WordClass = "heading"
	// SectionWords name a section of the piece.
	SectionWords WordClass = "section"
	// PlayerWords are one player's own.
	PlayerWords WordClass = "player"
	// ShadeWords say nothing alone: "molto", "poco".
	ShadeWords WordClass = "shade"
	// SyllableWords go on with a gradual word drawn over several beats: "len", "tan",
	// "do" after "ral".
	SyllableWords WordClass = "syllable"
)

// phrase is one row of the lexicon, taken apart into words.
type phrase struct {
	tokens []string
	class  WordClass
	means  string
	whole  bool // it must be the whole text
}

// Lexicon knows phrases by their first word, longest first.
type Lexicon map[string][]phrase

// Load returns the lexicon, which is read once.
var Load = sync.OnceValues(func() (Lexicon, error) { return readLexicon(wordsCSV) })

func readLexicon(table string) (Lexicon, error) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("the table of words: %w", err)
	}
	l := Lexicon{}
	for _, row := range rows[1:] {
		p := phrase{tokens: Tokens(row[0]), class: WordClass(row[1]), means: row[2], whole: row[3] == "yes"}
		if len(p.tokens) == 0 {
			return nil, fmt.Errorf("the table of words: a row without words: %q", row)
		}
		l[p.tokens[0]] = append(l[p.tokens[0]], p)
	}
	for _, list := range l {
		slices.SortStableFunc(list, func(a, b phrase) int { return len(b.tokens) - len(a.tokens) })
	}
	return l, nil
}

// ClassOf says whom words concern, "" where that is not known: "più mosso" is TempoWords,
// "D.C. al Fine" NavigationWords.
func ClassOf(text string) WordClass { return Of(text).Class }

// Of finds what a text means, nothing where the table of words cannot be read.
func Of(text string) Meaning {
	l, err := Load()
	if err != nil {
		return Meaning{}
	}
	return l.Read(text)
}

// joints are what stands between words without a meaning of its own: "sempre div. e",
// "div. a 3".
var joints = []string{"a", "e", "and", "en", "et", "in", "poco", "sempre", "und", "zu"}

// OnlySays reports whether a text says what one of these meanings is and nothing else,
// numbers aside: "div. a 2" is only divided.
func OnlySays(text string, meanings ...string) bool {
	l, err := Load()
	if err != nil {
		return false
	}
	t, found := Tokens(text), false
	for i := 0; i < len(t); {
		p, ok := l.longest(t, i)
		switch {
		case ok && slices.Contains(meanings, p.means):
			found = true
			i += len(p.tokens)
		case slices.Contains(joints, t[i]) || strings.Trim(t[i], "0123456789") == "":
			i++
		default:
			return false
		}
	}
	return found
}

// Tokens takes a text apart into words without case, accents and punctuation:
// "Più mosso, (molto)" is piu, mosso, molto.
func Tokens(text string) []string {
	folded := strings.Map(func(r rune) rune {
		switch {
		case unicode.Is(unicode.Mn, r):
			return -1
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			return unicode.ToLower(r)
		}
		return ' '
	}, norm.NFD.String(strings.ReplaceAll(text, "ß", "ss")))
	return strings.Fields(folded)
}

// Meaning is what the lexicon makes of a text.
type Meaning struct {
	Class WordClass // "" where no word of it is known
	// Key is the same for texts that mean the same: "rit.", "poco ritard." and
	// "rit. e dim." all slow down.
	Key string
	// Says is what the table has its phrases mean, in order: of "Variation 2 (geteilt)"
	// "divided". Default: nothing.
	Says []string
}

// Glossary is the lexicon with what it has made of a score's texts so far: many
// parts say the same.
type Glossary struct {
	lexicon Lexicon
	texts   answers.Kept[string, Meaning]
}

// NewGlossary begins with a lexicon.
func NewGlossary(l Lexicon) *Glossary { return &Glossary{lexicon: l} }

// Read finds what a text means.
func (g *Glossary) Read(text string) Meaning {
	return g.texts.Ask(text, func() Meaning { return g.lexicon.Read(text) })
}

// Read finds what a text means.
func (l Lexicon) Read(text string) Meaning {
	m := l.readTokens(Tokens(text))
	if m.Class == "" {
		if joined := joinSyllables(text); joined != text {
			if j := l.readTokens(Tokens(joined)); j.Class != "" {
				return j
			}
		}
	}
	return m
}

// strength orders the classes that decide wherever in the text they stand.
var strength = map[WordClass]int{NavigationWords: 3, GradualWords: 2, PauseWords: 1}

func (l Lexicon) readTokens(t []string) Meaning {
	m := Meaning{Key: strings.Join(t, " ")}
	known := true // every word is in the lexicon
	var means []string
	for i := 0; i < len(t); {
		p, ok := l.longest(t, i)
		if !ok {
			known = false
			i++
			continue
		}
		i += len(p.tokens)
		m.Class = decide(m.Class, p.class)
		if p.means == "" {
			continue
		}
		m.Says = append(m.Says, p.means)
		if p.class != PlayerWords && strength[p.class] >= strength[m.Class] {
			means = append(means, p.means)
		}
	}
	if m.Class == ShadeWords && !known {
		m.Class = "" // "With a limp": the words that count are not known
	}
	if len(means) > 0 && (m.Class == GradualWords || known) {
		m.Key = means[len(means)-1]
	}
	return m
}

// decide weighs the class of the words so far against that of the next ones: navigation,
// gradual change and pause count wherever they stand, a tempo also behind its character
// ("Sanft bewegt"); of the others the first one does, shades aside.
func decide(so, next WordClass) WordClass {
	switch {
	case so == "" || so == ShadeWords || strength[next] > strength[so]:
		return next
	case so == HeadingWords && next == TempoWords:
		return next
	}
	return so
}

// longest finds the longest phrase that begins at word i.
func (l Lexicon) longest(t []string, i int) (phrase, bool) {
	for _, p := range l[t[i]] {
		if p.whole && (i > 0 || len(p.tokens) != len(t)) {
			continue
		}
		if i+len(p.tokens) <= len(t) && slices.Equal(p.tokens, t[i:i+len(p.tokens)]) {
			return p, true
		}
	}
	return phrase{}, false
}

// joinSyllables takes out the strokes of a word drawn apart: "ral - len - tan - do",
// "cresc.....en.....do".
func joinSyllables(text string) string {
	var b strings.Builder
	gap := ""
	for _, r := range text {
		if strings.ContainsRune(" -–—_.…", r) {
			gap += string(r)
			continue
		}
		if drawn := strings.ContainsAny(gap, "-–—_…") || strings.Contains(gap, ".."); !drawn {
			b.WriteString(gap)
		}
		gap = ""
		b.WriteRune(r)
	}
	return b.String()
}
