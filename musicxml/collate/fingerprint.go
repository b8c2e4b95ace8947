package collate

import (
	"slices"

	"deskpart/musicxml"
)

// print is a bar's fingerprint: what sounds when, without voices and spelling.
type print struct {
	hash    uint64   // of all
	notes   []uint64 // one for each note, sorted
	rhythms []uint64 // the same without pitch, sorted
}

// printOf takes the fingerprint of a bar whose notes are moved by a height.
func printOf(b *bar, moved int) print {
	p := print{notes: make([]uint64, 0, len(b.notes)), rhythms: make([]uint64, 0, len(b.notes))}
	for i := range b.notes {
		rhythm := rhythmHash(&b.notes[i])
		p.rhythms = append(p.rhythms, rhythm)
		p.notes = append(p.notes, mix(rhythm, heightHash(&b.notes[i], moved)))
	}
	slices.Sort(p.notes)
	slices.Sort(p.rhythms)
	p.hash = 1
	for _, n := range p.notes {
		p.hash = mix(p.hash, n)
	}
	return p
}

func printsOf(bars []bar, moved int) []print {
	prints := make([]print, len(bars))
	for i := range bars {
		prints[i] = printOf(&bars[i], moved)
	}
	return prints
}

func rhythmHash(n *note) uint64 {
	h := mix(fractionHash(n.onset), fractionHash(n.length))
	if n.grace > 0 {
		h = mix(h, uint64(n.grace))
	}
	return h
}

func heightHash(n *note, moved int) uint64 {
	if n.unpitched {
		return ^uint64(n.height)
	}
	return uint64(n.height + moved)
}

func fractionHash(f musicxml.Fraction) uint64 { return mix(uint64(f.Num()), uint64(f.Den())) }

// mix combines two numbers so that every bit counts (the finaliser of
// SplitMix64, Steele, Lea and Flood 2014).
func mix(a, b uint64) uint64 {
	z := a*0x9e3779b97f4a7c15 + b + 0x9e3779b97f4a7c15
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// common counts what two sorted lists share.
func common(a, b []uint64) int {
	n := 0
	for len(a) > 0 && len(b) > 0 {
		switch {
		case a[0] == b[0]:
			n++
			a, b = a[1:], b[1:]
		case a[0] < b[0]:
			a = a[1:]
		default:
			b = b[1:]
		}
	}
	return n
}

// shapes counts the bars of a part by what sounds in them whatever the
// transposition, each with its notes: by this, parts find their staves.
func shapes(s *transcript) map[uint64]int {
	list := map[uint64]int{}
	for i := range s.bars {
		if b := &s.bars[i]; len(b.notes) > 0 {
			list[shapeOf(b)] += len(b.notes)
		}
	}
	return list
}

// shapeOf is a bar's fingerprint with its heights counted from the lowest note.
func shapeOf(b *bar) uint64 {
	height := 0
	if low := lowest(b); low != nil {
		height = low.height
	}
	return printOf(b, -height).hash
}

// lowest is the lowest pitched note, nil for none.
func lowest(b *bar) *note {
	var low *note
	for i := range b.notes {
		if n := &b.notes[i]; !n.unpitched && (low == nil || n.height < low.height) {
			low = n
		}
	}
	return low
}

// likeness is how much of the notes of two parts stands in bars of the same
// shape, from 0 to 1.
func likeness(a, b map[uint64]int, notesA, notesB int) float64 {
	shared := 0
	for shape, n := range a {
		shared += min(n, b[shape])
	}
	if most := max(notesA, notesB); most > 0 {
		return float64(shared) / float64(most)
	}
	return 0
}
