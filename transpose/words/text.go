package words

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Fill is what stands in the place of a text's placeholders, by their names: texts
// and whole numbers.
type Fill map[string]any

// text is a text of one language, taken apart.
type text []piece

// piece is a stretch of a text: fixed, or a placeholder.
type piece struct {
	fixed string
	name  string // of the placeholder, "" for a fixed stretch
	// one and other are the words that depend on a number; chooses says that they
	// do.
	one, other string
	chooses    bool
}

var (
	errEmpty = errors.New("the text is missing")
	errBrace = errors.New("a brace has no partner; placeholders are written {name} or {n|one|other}")
)

// parseText takes a text apart.
func parseText(content string) (text, error) {
	if strings.TrimSpace(content) == "" {
		return nil, errEmpty
	}
	var t text
	for content != "" {
		open := strings.IndexAny(content, "{}")
		if open < 0 {
			return append(t, piece{fixed: content}), nil
		}
		end := strings.IndexByte(content, '}')
		if content[open] == '}' || end < open || strings.Contains(content[open+1:end], "{") {
			return nil, errBrace
		}
		if open > 0 {
			t = append(t, piece{fixed: content[:open]})
		}
		p, err := parsePlaceholder(content[open+1 : end])
		if err != nil {
			return nil, err
		}
		t = append(t, p)
		content = content[end+1:]
	}
	return t, nil
}

func parsePlaceholder(content string) (piece, error) {
	parts := strings.Split(content, "|")
	if parts[0] == "" || len(parts) != 1 && len(parts) != 3 {
		return piece{}, fmt.Errorf("{%s} is no placeholder: they are written {name} or {n|one|other}", content)
	}
	p := piece{name: parts[0]}
	if len(parts) == 3 {
		p.one, p.other, p.chooses = parts[1], parts[2], true
	}
	return p, nil
}

// placeholders lists the names, each once, sorted.
func (t text) placeholders() []string {
	var names []string
	for _, p := range t {
		if p.name != "" && !slices.Contains(names, p.name) {
			names = append(names, p.name)
		}
	}
	slices.Sort(names)
	return names
}

// written is the text with value in place of each placeholder.
func (t text) written(value func(piece) string) string {
	var b strings.Builder
	for _, p := range t {
		if p.name == "" {
			b.WriteString(p.fixed)
		} else {
			b.WriteString(value(p))
		}
	}
	return b.String()
}

// raw is the text as it stands in the table.
func (t text) raw() string {
	return t.written(func(p piece) string {
		if p.chooses {
			return "{" + p.name + "|" + p.one + "|" + p.other + "}"
		}
		return "{" + p.name + "}"
	})
}

// fill writes the text.
func (t text) fill(fill Fill) string {
	return t.written(func(p piece) string {
		if p.chooses {
			return p.choose(fill[p.name])
		}
		return fmt.Sprint(fill[p.name])
	})
}

// choose is the word for one or for several.
func (p piece) choose(number any) string {
	if n, ok := number.(int); ok && (n == 1 || n == -1) {
		return p.one
	}
	return p.other
}
