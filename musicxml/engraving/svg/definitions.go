package svg

import (
	"cmp"
	"maps"
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// idPrefix begins every sign's id, so that it clashes with no other id of a page.
const idPrefix = "dp-"

// smallMark ends the id of a sign that is not at full size.
const smallMark = "-s"

// form is a sign at a size: what a <use> refers to.
type form struct {
	name  string
	scale float64
}

func formOf(s display.Sign) form {
	wide, tall := s.Scales()
	if wide != tall {
		return form{s.Name, 1}
	}
	return form{s.Name, wide}
}

func (f form) id() string {
	switch f.scale {
	case 1:
		return idPrefix + f.name
	case smallScale:
		return idPrefix + f.name + smallMark
	}
	return idPrefix + f.name + smallMark + strconv.FormatFloat(100*f.scale, 'f', 0, 64)
}

// smallScale is the usual size of small signs.
const smallScale = 0.7

// Signs names the signs that systems use, each at its sizes.
type Signs map[form]bool

// Add adds an item that is a sign; systems and blocks are walked with it.
func (set Signs) Add(item display.Item, _ display.Spaces) {
	if sign, ok := item.Shape.(display.Sign); ok {
		set[formOf(sign)] = true
	}
}

// Definitions returns one hidden <svg> element with the outlines of the signs; it
// stands once on a page, before the figures.
func Definitions(used Signs) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" width="0" height="0" aria-hidden="true" style="position:absolute">` + used.definitions() + `</svg>`
}

// definitions writes the outlines of the set, in order of their ids.
func (set Signs) definitions() string {
	var out strings.Builder
	out.WriteString("<defs>")
	for _, f := range slices.SortedFunc(maps.Keys(set), func(a, b form) int { return cmp.Compare(a.id(), b.id()) }) {
		sign, _ := fonts.SignOf(f.name)
		scale := strconv.FormatFloat(0.1*f.scale, 'g', 3, 64)
		out.WriteString(`<path id="` + f.id() + `" transform="scale(` + scale + `)" d="` + sign.Path + `"/>`)
	}
	out.WriteString("</defs>")
	return out.String()
}
