package musicxml

import (
	"fmt"
	"html"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"deskpart/musicxml/notice"
)

// entities are the general entities that a document knows beside the five of
// XML itself. Only plain text is expanded; what lies outside the document is
// never fetched.
type entities struct {
	declared map[string]*entity
	order    []string // of declaration
	letters  bool     // the letters of ISO 8879 Latin 1 and 2, which the standard's DTD declares
	budget   int      // bytes that the declared ones may still come to
}

// entity is a declared entity. Text is final once it is done.
type entity struct {
	text string
	done bool
	busy bool // being worked out, so that a loop shows
	why  *Error
}

const (
	entityHint  = "write the character itself, or &amp; for a plain &"
	entityDepth = 32 // entities inside one another; more are no honest text
)

// ownEntities are those of XML itself (XML 1.0, 4.6).
var ownEntities = map[string]string{"lt": "<", "gt": ">", "amp": "&", "apos": "'", "quot": `"`}

// lookup returns the text of an entity, or why there is none.
func (known *entities) lookup(name string) (string, *Error) {
	if text := ownEntities[name]; text != "" {
		return text, nil
	}
	if known != nil {
		if e := known.declared[name]; e != nil {
			return e.text, e.why
		}
		if text := letterEntity(name); text != "" && known.letters {
			return text, nil
		}
	}
	return "", &Error{Code: notice.UndefinedEntity, Hint: entityHint, Err: fmt.Errorf("the entity &%s; is not defined", snippet(name))}
}

// letterEntity returns the letter that a name of the entity sets ISO 8879 Added
// Latin 1 and 2 stands for, or "". The names are among those of HTML.
func letterEntity(name string) string {
	text := html.UnescapeString("&" + name + ";")
	r, size := utf8.DecodeRuneInString(text)
	const gacute = 0x01F5
	if size == len(text) && unicode.IsLetter(r) && (r >= 0xC0 && r <= 0x17F || r == gacute) {
		return text
	}
	return ""
}

// declare notes an entity of the internal subset. The first declaration of a
// name holds (XML 1.0, 4.2).
func (known *entities) declare(name string, e *entity) {
	if known.declared == nil {
		known.declared = map[string]*entity{}
	}
	if known.declared[name] == nil {
		known.declared[name] = e
		known.order = append(known.order, name)
	}
}

// settle works out the text of every declared entity within the budget.
func (known *entities) settle() {
	for _, name := range known.order {
		known.work(name, 0)
	}
}

// work works out one entity.
func (known *entities) work(name string, depth int) *entity {
	e := known.declared[name]
	if e == nil || e.done {
		return e
	}
	if e.busy || depth > entityDepth {
		return &entity{done: true, why: &Error{Code: notice.UndefinedEntity, Hint: entityHint, Err: fmt.Errorf("the entity &%s; contains itself", snippet(name))}}
	}
	e.busy = true
	e.text, e.why = known.replace(e.text, depth)
	e.done, e.busy = true, false
	return e
}

// replace replaces the references in an entity's text.
func (known *entities) replace(text string, depth int) (string, *Error) {
	if strings.IndexByte(text, '<') >= 0 {
		return "", &Error{Code: notice.UndefinedEntity, Hint: "write the elements themselves", Err: fmt.Errorf("an entity that holds elements is used")}
	}
	var b strings.Builder
	for {
		before, after, found := strings.Cut(text, "&")
		b.WriteString(before)
		if !found {
			break
		}
		name, rest, found := strings.Cut(after, ";")
		if !found {
			return "", &Error{Code: notice.UndefinedEntity, Hint: entityHint, Err: fmt.Errorf("& stands alone in an entity")}
		}
		piece, why := known.inner(name, depth)
		if why != nil {
			return "", why
		}
		b.WriteString(piece)
		if text = rest; b.Len() > known.budget {
			break
		}
	}
	if known.budget -= b.Len(); known.budget < 0 {
		return "", &Error{Code: notice.TooLarge, Hint: raiseLimit, Err: fmt.Errorf("the entities expand to too much text")}
	}
	return b.String(), nil
}

// inner returns what a reference inside an entity stands for.
func (known *entities) inner(name string, depth int) (string, *Error) {
	if r, ok := charReference(name); ok {
		return string(r), nil
	}
	if e := known.work(name, depth+1); e != nil {
		return e.text, e.why
	}
	return known.lookup(name)
}

// charReference returns the character of a reference like #233 or #xE9.
func charReference(name string) (rune, bool) {
	digits, base := strings.TrimPrefix(name, "#"), 10
	if digits == name {
		return 0, false
	}
	if hex, ok := strings.CutPrefix(digits, "x"); ok {
		digits, base = hex, 16
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || n > unicode.MaxRune || !isChar(rune(n)) {
		return 0, false
	}
	return rune(n), true
}

// outside is an entity whose text lies outside the document.
func outside(name string) *entity {
	return &entity{done: true, why: &Error{
		Code: notice.ExternalEntity, Hint: "put its text into the file itself",
		Err: fmt.Errorf("the entity &%s; lies outside the file, and nothing is fetched", snippet(name)),
	}}
}

// characterReferences replaces the character references in an entity's value,
// and those alone (XML 1.0, 4.4.5).
func characterReferences(value string) string {
	var b strings.Builder
	for {
		before, after, found := strings.Cut(value, "&#")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		name, rest, found := strings.Cut(after, ";")
		r, ok := charReference("#" + name)
		if !found || !ok {
			b.WriteString("&#")
			value = after
			continue
		}
		b.WriteRune(r)
		value = rest
	}
}
