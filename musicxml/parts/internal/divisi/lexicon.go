package divisi

import (
	_ "embed" // the words
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed data/markers.csv
var markers string

// Lexicon holds the words that say who plays from a shared staff.
type Lexicon struct {
	phrases map[string][]phrase // by the first word
	joins   map[string]bool     // between two markers: "1. e 2."
	nots    map[string]bool     // after a number that means no player: "1. volta"
}

// phrase is one marker of the lexicon.
type phrase struct {
	tokens []token
	says   string
	number int // of "number 2"; 0 where the words hold it
}

// LoadLexicon returns the embedded words, which are read once. In them # stands for a number and @ for a Roman one;
// a word written together with the one before it must stand so in the score ("1st").
var LoadLexicon = sync.OnceValues(func() (*Lexicon, error) { return readLexicon(markers) })

func readLexicon(table string) (*Lexicon, error) {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("markers: %w", err)
	}
	l := &Lexicon{phrases: map[string][]phrase{}, joins: map[string]bool{}, nots: map[string]bool{}}
	for _, row := range rows[1:] {
		if err := l.add(row[0], row[1]); err != nil {
			return nil, fmt.Errorf("markers, %q: %w", row, err)
		}
	}
	return l, nil
}

func (l *Lexicon) add(says, words string) error {
	kind, number, _ := strings.Cut(says, " ")
	tokens := tokenize(words)
	if len(tokens) == 0 {
		return fmt.Errorf("no words")
	}
	switch kind {
	case "join":
		l.joins[tokens[0].text] = true
	case "not":
		l.nots[tokens[0].text] = true
	case "all", "divided", "number", "solo", "tutti":
		p := phrase{tokens: tokens, says: kind}
		if number != "" {
			n, err := strconv.Atoi(number)
			if err != nil {
				return fmt.Errorf("%q has no number", says)
			}
			p.number = n
		}
		first := tokens[0].text
		l.phrases[first] = append(l.phrases[first], p)
	default:
		return fmt.Errorf("%q says nothing", says)
	}
	return nil
}

// candidates are the phrases that may begin with a token.
func (l *Lexicon) candidates(t token) []phrase {
	found := l.phrases[t.text]
	if t.number > 0 {
		found = append(found[:len(found):len(found)], l.phrases[t.wildcard()]...)
	}
	return found
}

// longest returns the phrase that matches most tokens from the first one on, how
// many it takes (full stops after its words among them) and the number in it.
func (l *Lexicon) longest(tokens []token) (best phrase, taken, number int) {
	for _, p := range l.candidates(tokens[0]) {
		if n, value := p.match(tokens); n > taken {
			best, taken, number = p, n, value
		}
	}
	if best.number > 0 {
		number = best.number
	}
	return best, taken, number
}

// match returns how many tokens the phrase takes, 0 where it does not fit.
func (p phrase) match(tokens []token) (taken, number int) {
	at := 0
	for _, want := range p.tokens {
		if !want.glued && at < len(tokens) && tokens[at].text == "." {
			at++
		}
		if at == len(tokens) {
			return 0, number
		}
		have := tokens[at]
		switch {
		case want.glued && !have.glued:
			return 0, number
		case want.text == have.text:
		case want.text == have.wildcard():
			number = have.number
		default:
			return 0, number
		}
		at++
	}
	if at < len(tokens) && tokens[at].text == "." {
		at++
	}
	return at, number
}
