package texts

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"deskpart/instruments"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// What is wrong at a place is said by the packages that find it, exactly and in English;
// they know no languages. The table of details has these sentences, with placeholders for
// what changes from place to place. A sentence that is found there is said in another
// language with the same notes, numbers and names; one that is not keeps the meaning of its
// code, and the English words stand behind it.

// detail is a sentence of the table.
type detail struct {
	key          string
	english      *regexp.Regexp
	placeholders []string // in the order of the English sentence
}

// details are those of each code.
var details = sync.OnceValues(func() (map[notice.Code][]detail, error) {
	table, err := detailTable()
	if err != nil {
		return nil, err
	}
	all := map[notice.Code][]detail{}
	for _, key := range table.Keys() {
		code, _, _ := strings.Cut(strings.TrimPrefix(key, "detail."), ".")
		registered := registeredCode(code)
		all[registered] = append(all[registered], newDetail(key, table.Raw(pitch.English, key)))
	}
	for _, of := range all { // the sentence that says most comes first: another may begin as it does
		slices.SortStableFunc(of, func(a, b detail) int { return len(b.placeholders) - len(a.placeholders) })
	}
	return all, nil
})

var detailTable = sync.OnceValues(func() (*words.Table, error) { return words.ReadTable(notice.Files, notice.DetailsName) })

// registeredCode is the code of that name, "" where there is none.
func registeredCode(name string) notice.Code {
	for _, n := range notice.All() {
		if string(n.Code) == name {
			return n.Code
		}
	}
	return ""
}

// kinds are what stands for a placeholder: its letters, and how another language has it.
var kinds = map[string]struct {
	letters string
	say     func(*Texts, string) string
}{
	"n": {number, nil}, "m": {number, nil}, "k": {number, nil},
	"note": {note, (*Texts).pitchOf}, "limit": {note, (*Texts).pitchOf},
	"name": {".+", (*Texts).Named}, "other": {".+", (*Texts).Named},
	"signature": {signature, (*Texts).signatureOf}, "wanted": {signature, (*Texts).signatureOf},
	"clef": {".+", (*Texts).clefOf}, "taken": {".+", (*Texts).clefOf},
	"text": {`".*"|'.+'`, (*Texts).quoted},
}

const (
	number    = `-?[0-9][0-9./]*`
	note      = `[A-G](?:#|b|x)*-?[0-9]+`
	signature = `no sharps or flats|[0-9]+ (?:sharps?|flats?)`
)

var placeholder = regexp.MustCompile(`\{([a-z]+)\}`)

// newDetail makes an expression of an English sentence.
func newDetail(key, english string) detail {
	d := detail{key: key}
	var expression strings.Builder
	at := 0
	for _, found := range placeholder.FindAllStringSubmatchIndex(english, -1) {
		name := english[found[2]:found[3]]
		letters := cmp.Or(kinds[name].letters, ".+")
		expression.WriteString(regexp.QuoteMeta(english[at:found[0]]) + "(" + letters + ")")
		d.placeholders, at = append(d.placeholders, name), found[1]
	}
	d.english = regexp.MustCompile("^" + expression.String() + regexp.QuoteMeta(english[at:]) + "$")
	return d
}

// detail says the exact words of a code in the language, "" where the table has not got
// them.
func (t *Texts) detail(code notice.Code, english string) string {
	all, err := details()
	if err != nil {
		return ""
	}
	table, err := detailTable()
	if err != nil {
		return ""
	}
	for _, d := range all[code] {
		if found := d.english.FindStringSubmatch(english); found != nil {
			return table.In(t.Language, d.key, t.fillOf(d.placeholders, found[1:]))
		}
	}
	return ""
}

// fillOf says what stands for placeholders.
func (t *Texts) fillOf(names, found []string) Fill {
	fill := Fill{}
	for i, name := range names {
		fill[name] = found[i]
		if n, err := strconv.Atoi(found[i]); err == nil {
			fill[name] = n
		} else if kinds[name].say != nil {
			fill[name] = kinds[name].say(t, found[i])
		} else if kinds[name].letters == number && t.Language != pitch.English {
			fill[name] = strings.Replace(found[i], ".", ",", 1)
		}
	}
	return fill
}

func (t *Texts) pitchOf(english string) string {
	p, err := pitch.Parse(english)
	if err != nil {
		return english
	}
	return t.Pitch(p)
}

func (t *Texts) signatureOf(english string) string {
	for fifths := -11; fifths <= 11; fifths++ {
		if pitch.SignatureWords(fifths) == english {
			return t.Signature(fifths)
		}
	}
	return english
}

func (t *Texts) clefOf(english string) string {
	if said, known := t.Clef(english); known {
		return said
	}
	return english
}

// quoted has words of the score in the language's own quotation marks.
func (t *Texts) quoted(english string) string {
	words, err := strconv.Unquote(english)
	if err != nil {
		words = english[1 : len(english)-1]
	}
	return t.Say("told.quoted", Fill{"words": words})
}

// Named names an instrument that English names, with the number of its player; what names
// none stays as it is.
func (t *Texts) Named(english string) string {
	known := englishNames()
	if i := known[english]; i != nil {
		return i.Label(t.Language, "")
	}
	at := strings.LastIndexByte(english, ' ')
	if i := known[english[:max(at, 0)]]; i != nil {
		return i.Label(t.Language, english[at+1:])
	}
	return english
}

// englishNames are the catalogue's instruments by what English calls them.
var englishNames = sync.OnceValue(func() map[string]*instruments.Instrument {
	names := map[string]*instruments.Instrument{}
	catalogue, err := instruments.Load()
	if err != nil {
		return names // a test reads it
	}
	for _, i := range catalogue.All() {
		for _, name := range []string{i.Name(pitch.English), i.Title(pitch.English), i.Label(pitch.English, "")} {
			if _, has := names[name]; !has {
				names[name] = i
			}
		}
	}
	return names
})
