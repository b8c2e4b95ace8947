package parts

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// wordsCSV lists what words over or under a staff mean, in Italian, German,
// French, English and Spanish. Columns: the words (case, accents and punctuation
// do not matter); their class; what they mean, where several words mean the same;
// "yes" where they must be the whole text; language; source.
//
//go:embed data/words.csv
var wordsCSV string

// wordClass says whom words concern.
type wordClass string

const (
	// tempoWords give a tempo: they hold for everybody wherever they stand.
	tempoWords wordClass = "tempo"
	// gradualWords change the tempo bit by bit, for everybody.
	gradualWords wordClass = "gradual"
	// roadWords say where to go on: da capo, fine.
	roadWords wordClass = "road"
	// pauseWords belong to a pause of everybody.
	pauseWords wordClass = "pause"
	// headingWords are a tempo at the head of a system and an expression elsewhere.
	headingWords wordClass = "heading"
	// sectionWords name a section of the piece.
	sectionWords wordClass = "section"
	// playerWords are one player's own.
	playerWords wordClass = "player"
	// shadeWords say nothing alone: "molto", "poco".
	shadeWords wordClass = "shade"
	// syllableWords go on with a gradual word drawn over several beats: "len", "tan",
	// "do" after "ral".
	syllableWords wordClass = "syllable"
)

// phrase is one row of the lexicon, taken apart into words.
type phrase struct {
	tokens []string
	class  wordClass
	means  string
	whole  bool // it must be the whole text
}

// lexicon knows phrases by their first word, longest first.
type lexicon map[string][]phrase

// words returns the lexicon, which is read once.
var words = sync.OnceValues(func() (lexicon, error) { return readLexicon(wordsCSV) })

// Prepare loads the tables that New needs, which a program may do while it reads the
// score.
func Prepare() { _, _ = words() }

func readLexicon(table string) (lexicon, error) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("the table of words: %w", err)
	}
	l := lexicon{}
	for _, row := range rows[1:] {
		p := phrase{tokens: tokens(row[0]), class: wordClass(row[1]), means: row[2], whole: row[3] == "yes"}
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

// tokens takes a text apart into words without case, accents and punctuation:
// "Più mosso, (molto)" is piu, mosso, molto.
func tokens(text string) []string {
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

// meaning is what the lexicon makes of a text.
type meaning struct {
	class wordClass // "" where no word of it is known
	// key is the same for texts that mean the same: "rit.", "poco ritard." and
	// "rit. e dim." all slow down.
	key string
}

// glossary is the lexicon with what it has made of a score's texts so far: many
// parts say the same.
type glossary struct {
	lexicon lexicon
	texts   memo[string, meaning]
}

// read finds what a text means.
func (g *glossary) read(text string) meaning {
	return g.texts.ask(text, func() meaning { return g.lexicon.read(text) })
}

// read finds what a text means.
func (l lexicon) read(text string) meaning {
	m := l.readTokens(tokens(text))
	if m.class == "" {
		if joined := joinSyllables(text); joined != text {
			if j := l.readTokens(tokens(joined)); j.class != "" {
				return j
			}
		}
	}
	return m
}

// strength orders the classes that decide wherever in the text they stand.
var strength = map[wordClass]int{roadWords: 3, gradualWords: 2, pauseWords: 1}

func (l lexicon) readTokens(t []string) meaning {
	m := meaning{key: strings.Join(t, " ")}
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
		m.class = decide(m.class, p.class)
		if p.means != "" && strength[p.class] >= strength[m.class] {
			means = append(means, p.means)
		}
	}
	if m.class == shadeWords && !known {
		m.class = "" // "With a limp": the words that count are not known
	}
	if len(means) > 0 && (m.class == gradualWords || known) {
		m.key = means[len(means)-1]
	}
	return m
}

// decide weighs the class of the words so far against that of the next ones: road
// map, gradual change and pause count wherever they stand, a tempo also behind its
// character ("Sanft bewegt"); of the others the first one does, shades aside.
func decide(so, next wordClass) wordClass {
	switch {
	case so == "" || so == shadeWords || strength[next] > strength[so]:
		return next
	case so == headingWords && next == tempoWords:
		return next
	}
	return so
}

// longest finds the longest phrase that begins at word i.
func (l lexicon) longest(t []string, i int) (phrase, bool) {
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
