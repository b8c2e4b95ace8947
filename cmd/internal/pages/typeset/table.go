package typeset

import (
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// cellAir is kept free at both sides of a cell, in heights of letters; stillWide is the
// share of a line down to which a column of sentences is narrowed before letters are made
// smaller, in the steps of tableSizes.
const cellAir, stillWide = 0.45, 0.35

var tableSizes = []display.Spaces{1, 0.9, 0.8, 0.7}

// Table sets rows of cells under their heads; the head is repeated on no page, but stays
// with the first row.
func (s *Setter) Table(head []string, rows [][]string) {
	t := table{s: s, head: head, rows: rows}
	t.fit()
	t.row(head, fonts.Bold, true)
	for _, row := range rows {
		t.row(row, fonts.Regular, false)
	}
}

type table struct {
	s      *Setter
	head   []string
	rows   [][]string
	size   display.Spaces
	widths []display.Spaces
}

// fit chooses the largest size in which all columns stand side by side, with the widest
// one broken into lines where it stays wide; or else all of the widest give way.
func (t *table) fit() {
	for _, scale := range tableSizes {
		t.size = scale * t.s.size
		over := t.measure() - t.s.width
		if over <= 0 {
			return
		}
		if widest := t.widest(); t.widths[widest]-over >= stillWide*t.s.width {
			t.widths[widest] -= over
			return
		}
	}
	for over := t.measure() - t.s.width; over > 0.01; over = t.sum() - t.s.width {
		t.narrow(over)
	}
}

// measure finds what the columns want, and returns their sum.
func (t *table) measure() display.Spaces {
	t.widths = make([]display.Spaces, len(t.head))
	want := func(row []string, face fonts.Face) {
		for i, cell := range row {
			t.widths[i] = max(t.widths[i], widthOf(cell, face, t.size)+2*cellAir*t.size)
		}
	}
	want(t.head, fonts.Bold)
	for _, row := range t.rows {
		want(row, fonts.Regular)
	}
	return t.sum()
}

func (t *table) sum() (sum display.Spaces) {
	for _, w := range t.widths {
		sum += w
	}
	return sum
}

// widest is the widest column.
func (t *table) widest() int {
	widest := 0
	for i, w := range t.widths {
		if w > t.widths[widest] {
			widest = i
		}
	}
	return widest
}

// narrow brings the widest column down to the next one, or by what is over.
func (t *table) narrow(over display.Spaces) {
	widest, next := t.widest(), display.Spaces(0)
	for i, w := range t.widths {
		if i != widest {
			next = max(next, w)
		}
	}
	step := max(t.widths[widest]-next, t.size)
	t.widths[widest] -= min(over, step)
}

// row sets a row over its line.
func (t *table) row(cells []string, face fonts.Face, head bool) {
	var items []display.Item
	x, most := display.Spaces(0), 1
	for i, cell := range cells {
		lines := breakLines(wordsOf([]Run{{Face: face, Text: cell}}, t.size), t.widths[i]-2*cellAir*t.size, t.size)
		for n, line := range lines {
			items = append(items, lineOf(line, x+cellAir*t.size, (display.Spaces(n)*leading+1.2)*t.size, t.size)...)
		}
		most = max(most, len(lines))
		x += t.widths[i]
	}
	height := (display.Spaces(most)*leading + 0.5) * t.size
	thickness := display.Spaces(0.15)
	if head {
		thickness = 0.35
	}
	items = append(items, across(0, x, height, thickness))
	p := piece{block: t.s.list(display.Paragraph, items...), height: height, keep: head}
	if head {
		p.before = t.size * 0.5
	}
	t.s.add(p)
}
