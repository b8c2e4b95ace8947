package reading

import (
	"errors"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// item is a child of a measure that matters to the reader, at its place in time.
type item struct {
	element         *etree.Element
	rank            int
	onset, duration musicxml.Fraction
	staff           int
	voice           string
	grace           int // place in its group of grace notes, from 1
	chord           bool
}

// At one moment grace notes and marks come as they are written, then the notes they lead to.
const (
	rankMark = iota
	rankGrace
	rankNote
)

// clock is plain addition: it knows where in the bar the next note starts.
type clock struct {
	divisions musicxml.Fraction // in one quarter note
	start     musicxml.Fraction // of the bar, from the start of the piece
	now       musicxml.Fraction // from the start of the bar
	last      musicxml.Fraction // onset of the last note that was not a chord's second
	end       musicxml.Fraction // where the longest voice has got to
	graces    map[string]int    // grace notes in a row, by voice
	items     []item            // of the bar
	known     known             // the last length
}

func newClock() clock {
	return clock{divisions: musicxml.NewFraction(1, 1), graces: map[string]int{}}
}

var (
	errDivisions = errors.New("the divisions of a quarter note are not a number above 0")
	errDuration  = errors.New("a note without a usable duration")
	errBackwards = errors.New("a note starts before its bar")
)

// measure returns the measure's items in the order in which they are read, and
// moves on to the next bar. They are valid until then.
func (c *clock) measure(e *etree.Element) ([]item, error) {
	c.now, c.last, c.end = musicxml.Fraction{}, musicxml.Fraction{}, musicxml.Fraction{}
	clear(c.graces)
	items := c.items[:0]
	for child := range e.ChildElementsSeq() {
		it := item{element: child, onset: c.now}
		keep, err := c.place(&it)
		if err != nil {
			return nil, err
		}
		if c.now.Sign() < 0 || !c.now.Valid() {
			return nil, errBackwards
		}
		c.end = c.end.Max(c.now)
		if keep {
			items = append(items, it)
		}
	}
	c.items = items
	c.start = c.start.Add(c.end)
	slices.SortStableFunc(items, func(a, b item) int {
		if order := a.onset.Cmp(b.onset); order != 0 {
			return order
		}
		return max(a.rank, rankGrace) - max(b.rank, rankGrace)
	})
	return items, nil
}

// place gives an item its onset and moves the clock; it reports whether the
// reader wants the item.
func (c *clock) place(it *item) (bool, error) {
	e := it.element
	if e.Space != "" {
		return false, nil
	}
	switch e.Tag {
	case "note":
		return c.note(it)
	case "backup", "forward":
		length, err := c.length(musicxml.Child(e, "duration"))
		if e.Tag == "backup" {
			length = length.Neg()
		}
		c.now = c.now.Add(length)
		return false, err
	case "attributes":
		return true, c.attributes(e)
	case "direction":
		c.direction(it)
		return true, nil
	}
	return false, nil
}

// note reports whether it is none of a rest.
func (c *clock) note(it *item) (bool, error) {
	var voice, staff, duration *etree.Element
	var grace, rest bool
	for e := range it.element.ChildElementsSeq() {
		switch e.Tag {
		case "voice":
			voice = first(voice, e)
		case "staff":
			staff = first(staff, e)
		case "duration":
			duration = first(duration, e)
		case "chord":
			it.chord = it.chord || e.Space == ""
		case "grace":
			grace = grace || e.Space == ""
		case "rest":
			rest = rest || e.Space == ""
		}
	}
	it.rank, it.staff, it.voice = rankNote, staffOf(staff), musicxml.Text(voice)
	if it.chord {
		it.onset = c.last
	}
	c.last = it.onset
	if grace {
		it.rank = rankGrace
		if !it.chord {
			c.graces[it.voice]++
		}
		it.grace = c.graces[it.voice]
		return !rest, nil
	}
	if len(c.graces) > 0 {
		c.graces[it.voice] = 0
	}
	length, err := c.length(duration)
	it.duration = length
	if !it.chord {
		c.now = c.now.Add(length)
	}
	return !rest, err
}

// first keeps the first of several elements of a name that has no prefix.
func first(known, e *etree.Element) *etree.Element {
	if known == nil && e.Space == "" {
		return e
	}
	return known
}

func (c *clock) attributes(e *etree.Element) error {
	text := musicxml.ChildText(e, "divisions")
	if text == "" {
		return nil
	}
	divisions, err := musicxml.ParseFraction(text)
	if err != nil || divisions.Sign() <= 0 {
		return errDivisions
	}
	c.divisions = divisions
	return nil
}

// direction moves a mark by its own offset, which stays inside the bar.
func (c *clock) direction(it *item) {
	it.staff = staffOf(musicxml.Child(it.element, "staff"))
	offset, err := musicxml.ParseFraction(musicxml.ChildText(it.element, "offset"))
	if err != nil {
		return // none, or a crooked one, which moves a mark, not a note
	}
	if at := it.onset.Add(offset.Div(c.divisions)); at.Sign() >= 0 {
		it.onset = at
	}
}

// length is what a <duration> comes to.
func (c *clock) length(duration *etree.Element) (musicxml.Fraction, error) {
	text := musicxml.Text(duration)
	if known := &c.known; text != "" && text == known.text && c.divisions == known.divisions { // mostly as the note before
		return known.length, nil
	}
	d, err := musicxml.ParseFraction(text)
	if err != nil || d.Sign() < 0 {
		return musicxml.Fraction{}, errDuration
	}
	c.known = known{text, c.divisions, d.Div(c.divisions)}
	return c.known.length, nil
}

// known is a length that was worked out.
type known struct {
	text              string
	divisions, length musicxml.Fraction
}

// staffOf reads a <staff>; nil is the first.
func staffOf(staff *etree.Element) int {
	if staff == nil {
		return 1
	}
	if n, err := strconv.Atoi(musicxml.Text(staff)); err == nil && n > 0 {
		return n
	}
	return 1
}

// sameMoment returns how many items from the first on are read together: the full
// notes of one moment, one grace note with its chord, or one mark.
func sameMoment(items []item) int {
	n := 1
	for items[0].rank != rankMark && n < len(items) && items[n].rank == items[0].rank && items[n].onset == items[0].onset {
		if items[0].rank == rankGrace && !items[n].chord {
			break
		}
		n++
	}
	return n
}
