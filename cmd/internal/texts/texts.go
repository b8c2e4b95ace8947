package texts

import (
	"embed"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"deskpart/instruments"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

//go:embed data/*.csv
var data embed.FS

// Fill is what stands in the place of a text's placeholders.
type Fill = words.Fill

// Texts is everything that is said in one language. It does not change; several
// goroutines may use it.
type Texts struct {
	*words.Names
	table   *words.Table
	notices *words.Table // of the registry
}

// table has the texts in all languages.
var table = sync.OnceValues(func() (*words.Table, error) {
	names, err := fs.Glob(data, "data/*.csv")
	if err != nil {
		return nil, err
	}
	return words.ReadTable(data, names...)
})

// notices has the texts of the registry in all languages.
var notices = sync.OnceValues(func() (*words.Table, error) { return words.ReadTable(notice.Files, notice.TableName) })

// In returns the texts of a language. The error is that of a table which is not
// whole: it names file, row and column.
func In(l pitch.Language) (*Texts, error) {
	names, err := words.In(l)
	if err != nil {
		return nil, err
	}
	t, err := table()
	if err != nil {
		return nil, err
	}
	n, err := notices()
	if err != nil {
		return nil, err
	}
	return &Texts{names, t, n}, nil
}

// Say returns a text with what is filled in. The key is written out where it is
// asked for, so that the test finds it.
func (t *Texts) Say(key string, fill Fill) string { return t.table.In(t.Language, key, fill) }

// Pick returns a text without placeholders that is one of a kind: all keys that
// begin with kind and a dot.
func (t *Texts) Pick(kind, name string) string {
	return t.table.In(t.Language, kind+"."+name, nil)
}

// Has reports whether there is a text of that kind.
func (t *Texts) Has(kind, name string) bool { return t.table.Has(kind + "." + name) }

// Raw are the texts whose keys begin with a prefix, by their keys, with their
// placeholders: for a page that fills them itself.
func (t *Texts) Raw(prefix string) map[string]string {
	raw := map[string]string{}
	for _, key := range t.table.Keys() {
		if strings.HasPrefix(key, prefix) {
			raw[key] = t.table.Raw(t.Language, key)
		}
	}
	return raw
}

// Instrument names an instrument and its notation as it stands within a sentence:
// "horn in F", "Horn in F", "cor en fa".
func (t *Texts) Instrument(i *instruments.Instrument) string {
	name := i.Title(t.Language)
	switch t.Language {
	case pitch.German:
		return name
	case pitch.English:
		return inSentence(name)
	}
	first, size := utf8.DecodeRuneInString(name)
	return string(unicode.ToLower(first)) + name[size:]
}

// InstrumentTitle names an instrument and its notation as it stands by itself: "Horn
// in F".
func (t *Texts) InstrumentTitle(i *instruments.Instrument) string {
	return i.Title(t.Language)
}

// properNames are the words of English names that keep their capital.
var properNames = []string{"English", "French", "German", "Wagner", "Celtic", "Irish", "Scottish", "Swiss", "MIDI", "C-melody"}

// inSentence writes an English name with small letters, but for keys and proper
// names.
func inSentence(name string) string {
	fields := strings.Fields(name)
	for i, w := range fields {
		if utf8.RuneCountInString(w) > 2 && !slices.Contains(properNames, w) {
			fields[i] = strings.ToLower(w)
		}
	}
	return strings.Join(fields, " ")
}

// UpperFirst writes a text as the beginning of a line.
func UpperFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:]
}
