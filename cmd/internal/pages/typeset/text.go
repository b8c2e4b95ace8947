package typeset

import (
	"cmp"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
	"deskpart/transpose/words"
)

// Run is a stretch of text in one face.
type Run = fonts.Run

// Plain is text as it is.
func Plain(text string) Run { return Run{Face: fonts.Regular, Text: text} }

// Bold is text in bold letters.
func Bold(text string) Run { return Run{Face: fonts.Bold, Text: text} }

// Italic is text in italics.
func Italic(text string) Run { return Run{Face: fonts.Italic, Text: text} }

// paragraph is text that is broken into lines.
type paragraph struct {
	label   string
	runs    []Run
	size    display.Spaces // default: the document's
	before  display.Spaces
	purpose display.Purpose
	keep    bool
}

// word is one without spaces, with the room behind it.
type word struct {
	Run
	width, space display.Spaces
}

func widthOf(text string, face fonts.Face, size display.Spaces) display.Spaces {
	return display.Spaces(face.Width(text)) * size
}

// wordsOf cuts runs into words. A run that does not begin with a space goes on without
// one.
func wordsOf(runs []Run, size display.Spaces) []word {
	var list []word
	for _, r := range runs {
		space := widthOf(" ", r.Face, size)
		for i, field := range words.Fields(r.Text) {
			if glued := i == 0 && !strings.HasPrefix(r.Text, " ") && len(list) > 0; glued {
				list[len(list)-1].space = 0
			}
			list = append(list, word{Run{Face: r.Face, Text: field}, widthOf(field, r.Face, size), space})
		}
		if strings.HasSuffix(r.Text, " ") && len(list) > 0 {
			list[len(list)-1].space = space
		}
	}
	return list
}

// breakLines breaks words into lines of a width; a word that is wider than a line is
// cut.
func breakLines(words []word, width, size display.Spaces) [][]word {
	var lines [][]word
	var line []word
	at := display.Spaces(0)
	end := func() {
		if len(line) > 0 {
			lines, line, at = append(lines, line), nil, 0
		}
	}
	for _, w := range words {
		for w.width > width && len([]rune(w.Text)) > 1 {
			end()
			var head word
			head, w = cut(w, width, size)
			lines = append(lines, []word{head})
		}
		if at+w.width > width {
			end()
		}
		line = append(line, w)
		at += w.width + w.space
	}
	end()
	return lines
}

// cut parts a word where a line ends; the first part has one letter at least.
func cut(w word, width, size display.Spaces) (head, rest word) {
	runes := []rune(w.Text)
	n := 1
	for n+1 < len(runes) && widthOf(string(runes[:n+1]), w.Face, size) <= width {
		n++
	}
	part := func(text string, space display.Spaces) word {
		return word{Run{Face: w.Face, Text: text}, widthOf(text, w.Face, size), space}
	}
	return part(string(runes[:n]), 0), part(string(runes[n:]), w.space)
}

// text sets a paragraph line by line, so that a page may end within it.
func (s *Setter) text(p paragraph) {
	p.size, p.purpose = cmp.Or(p.size, s.size), cmp.Or(p.purpose, display.Paragraph)
	indent := display.Spaces(0)
	if p.label != "" {
		indent = max(widthOf(p.label+" ", fonts.Bold, p.size), 1.6*p.size)
	}
	lines := breakLines(wordsOf(p.runs, p.size), s.width-indent, p.size)
	for i, line := range lines {
		items := lineOf(line, indent, p.size, p.size)
		if i == 0 && p.label != "" {
			items = append([]display.Item{letters(p.label, fonts.Bold, 0, p.size, p.size, display.Start)}, items...)
		}
		before := display.Spaces(0)
		if i == 0 {
			before = p.before
		}
		last := i == len(lines)-1
		// No line of a paragraph stands alone at the foot or the top of a page.
		s.add(piece{block: s.list(p.purpose, items...), height: p.size * leading, before: before, keep: last && p.keep || !last && (i == 0 || i == len(lines)-2)})
	}
}

// lineOf sets words on a baseline; those of one face are one text.
func lineOf(words []word, x, baseline, size display.Spaces) []display.Item {
	var items []display.Item
	for i := 0; i < len(words); {
		text, face, begin := "", words[i].Face, x
		for ; i < len(words) && words[i].Face == face; i++ {
			text += words[i].Text
			x += words[i].width
			if words[i].space > 0 && i+1 < len(words) {
				text += " "
				x += words[i].space
			}
		}
		items = append(items, letters(text, face, begin, baseline, size, display.Start))
	}
	return items
}
