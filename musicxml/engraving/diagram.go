package engraving

import (
	"strconv"

	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// Diagram is a small drawing beside the staff: the pedals of a harp, the stops of
// an accordion, the frets of a chord.
type Diagram interface {
	// extent is its width and how far it reaches above and below its axis.
	extent() (width, up, down float64)
	// draw draws it from its left edge, on its axis.
	draw(k *ink, x, y float64)
}

// HarpPedals are the positions of the pedals D C B E F G A: −1 is up (flat), 0 in
// the middle, +1 down (sharp).
type HarpPedals [7]int

func (h HarpPedals) extent() (width, up, down float64) { return 7*0.8 + 0.6, 1, 1 }

func (h HarpPedals) draw(k *ink, x, y float64) {
	width, _, _ := h.extent()
	k.line(display.RoleDiagram, x, y, x+width, y)
	for i, position := range h {
		at := x + 0.4 + 0.8*float64(i)
		if i > 2 {
			at += 0.6
		}
		middle := y + 0.45*float64(position)
		k.box(display.RoleDiagramFill, at-0.12, middle-0.4, at+0.12, middle+0.4)
	}
	divider := x + 3*0.8 + 0.3
	k.line(display.RoleDiagram, divider, y-1, divider, y+1)
}

// Accordion is a registration: a dot in the upper third, one to three in the
// middle, one in the lower third.
type Accordion struct {
	High, Low bool
	Middle    int
}

func (a Accordion) extent() (width, up, down float64) { return 3, 1.5, 1.5 }

func (a Accordion) draw(k *ink, x, y float64) {
	const r = 1.5
	k.oval(display.RoleDiagram, x, y-r, x+2*r, y+r)
	half := r * 0.943 // half the chord at a third of the height
	for _, dy := range []float64{-r / 3, r / 3} {
		k.line(display.RoleDiagram, x+r-half, y+dy, x+r+half, y+dy)
	}
	dot := func(dx, dy float64) {
		s := shape{name: "dot"}
		k.sign(display.RoleDiagram, s, x+r+dx-s.width()/2, y+dy, "")
	}
	if a.High {
		dot(0, -1)
	}
	if a.Low {
		dot(0, 1)
	}
	for i := range min(a.Middle, 3) {
		dot(0.6*(float64(i)-float64(min(a.Middle, 3)-1)/2), 0)
	}
}

// Frame is the diagram of a chord on a fretted instrument.
type Frame struct {
	Strings, Frets int
	// FirstFret is the number of the uppermost fret; 1 (or 0) has the nut above it.
	FirstFret int
	Notes     []FrameNote
}

// FrameNote is a finger on a string (from 1, the highest, at the right). Fret 0 is
// an open string.
type FrameNote struct {
	String, Fret int
	Fingering    string
	// BarreTo is the string to which a barre reaches that begins here; 0 for none.
	BarreTo int
}

// The size of a chord's diagram.
const (
	frameString = 0.75 // from string to string
	frameFret   = 0.95 // from fret to fret
)

func (f *Frame) extent() (width, up, down float64) {
	width = float64(f.Strings-1)*frameString + 0.5
	if f.FirstFret > 1 {
		width += 2.6
	}
	down = float64(f.Frets) * frameFret
	for _, n := range f.Notes {
		if n.Fingering != "" {
			down = max(down, float64(f.Frets)*frameFret+1.2)
		}
	}
	return width, 1.1, down
}

func (f *Frame) draw(k *ink, x, y float64) {
	left := x + 0.25
	right, bottom := left+float64(f.Strings-1)*frameString, y+float64(f.Frets)*frameFret
	for i := range f.Strings {
		at := left + float64(i)*frameString
		k.line(display.RoleDiagram, at, y, at, bottom)
	}
	for i := range f.Frets + 1 {
		at := y + float64(i)*frameFret
		k.line(display.RoleDiagram, left, at, right, at)
	}
	if f.FirstFret <= 1 {
		k.box(display.RoleDiagramFill, left-0.05, y-0.15, right+0.05, y)
	} else {
		k.letters(display.RoleFigure, fonts.Regular, 1.2, strconv.Itoa(f.FirstFret)+"fr.", right+0.4, y+frameFret*0.75)
	}
	played := map[int]bool{}
	for _, n := range f.Notes {
		played[n.String] = true
		f.drawNote(k, n, left, y, bottom)
	}
	for s := 1; s <= f.Strings; s++ {
		if at := left + float64(f.Strings-s)*frameString; !played[s] {
			k.line(display.RoleDiagram, at-0.25, y-0.85, at+0.25, y-0.35)
			k.line(display.RoleDiagram, at-0.25, y-0.35, at+0.25, y-0.85)
		}
	}
}

func (f *Frame) drawNote(k *ink, n FrameNote, left, y, bottom float64) {
	at := left + float64(f.Strings-n.String)*frameString
	switch {
	case n.Fret == 0:
		k.oval(display.RoleDiagram, at-0.27, y-0.87, at+0.27, y-0.33)
	default:
		row := n.Fret
		if f.FirstFret > 1 {
			row -= f.FirstFret - 1
		}
		middle := y + (float64(row)-0.5)*frameFret
		s := shape{name: "hole-closed", small: true}
		k.sign(display.RoleDiagram, s, at-s.width()/2-s.box().left, middle, "")
		if n.BarreTo > 0 {
			to := left + float64(f.Strings-n.BarreTo)*frameString
			k.box(display.RoleDiagramFill, min(at, to), middle-0.18, max(at, to), middle+0.18)
		}
	}
	if n.Fingering != "" {
		k.letters(display.RoleFigure, fonts.Regular, 1.1, n.Fingering, at-0.27, bottom+1.0)
	}
}
