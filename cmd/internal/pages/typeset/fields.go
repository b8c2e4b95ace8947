package typeset

import (
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// leastBlank is the least length of a line to write on, boxWidth that of a box for
// marks, in heights of letters.
const leastBlank, boxWidth, fieldGap = 9, 3.2, 1.6

// Blanks are labels with lines to write on, side by side.
func (s *Setter) Blanks(labels ...string) {
	var row []string
	used := display.Spaces(0)
	flush := func() {
		if len(row) > 0 {
			s.blankRow(row)
			row, used = nil, 0
		}
	}
	for _, label := range labels {
		need := widthOf(label, fonts.Regular, s.size) + (leastBlank+fieldGap)*s.size
		if used+need > s.width+fieldGap*s.size {
			flush()
		}
		row, used = append(row, label), used+need
	}
	flush()
}

// blankRow shares a line among blanks.
func (s *Setter) blankRow(labels []string) {
	free := s.width - fieldGap*s.size*display.Spaces(len(labels)-1)
	for _, label := range labels {
		free -= widthOf(label, fonts.Regular, s.size) + 0.4*s.size
	}
	free /= display.Spaces(len(labels))
	var items []display.Item
	x, baseline := display.Spaces(0), 1.6*s.size
	for _, label := range labels {
		items = append(items, letters(label, fonts.Regular, x, baseline, s.size, display.Start))
		x += widthOf(label, fonts.Regular, s.size) + 0.4*s.size
		items = append(items, across(x, x+free, baseline+0.15*s.size, 0.3))
		x += free + fieldGap*s.size
	}
	s.add(piece{block: s.list(display.Paragraph, items...), height: 2 * s.size, keep: true})
}

// Mark is a box to write marks into: what for, and how many there are.
type Mark struct{ Name, Of string }

// Marks are boxes at the right.
func (s *Setter) Marks(marks ...Mark) {
	var items []display.Item
	right, baseline := s.width, 1.3*s.size
	for i := len(marks) - 1; i >= 0; i-- {
		m := marks[i]
		of := "/ " + m.Of
		wide := max(boxWidth*s.size, widthOf(of, fonts.Regular, s.size)+1.6*s.size)
		left, top, bottom := right-wide, 0.2*s.size, 1.75*s.size
		items = append(items, display.Item{Shape: display.Line{Closed: true, Thickness: 0.35,
			Points: []display.Point{{X: left, Y: top}, {X: right, Y: top}, {X: right, Y: bottom}, {X: left, Y: bottom}}}},
			letters(of, fonts.Regular, right-0.3*s.size, baseline, s.size, display.End))
		right -= wide + 0.5*s.size
		items = append(items, letters(m.Name, fonts.Regular, right, baseline, s.size, display.End))
		right -= widthOf(m.Name, fonts.Regular, s.size) + fieldGap*s.size
	}
	s.add(piece{block: s.list(display.Paragraph, items...), height: 2 * s.size, before: 0.4 * s.size})
}
