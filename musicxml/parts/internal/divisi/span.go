package divisi

import (
	"cmp"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// span is a mark with two ends at notes: a slur, tuplet, glissando, trill line.
type span struct {
	kind        string
	start, stop spanEnd
}

// spanEnd is one end of a span.
type spanEnd struct {
	note    *note  // nil at a rest (of a tuplet)
	group   *group // the note's
	element *etree.Element
}

// spanKinds are the elements of <notations> and <ornaments> with two ends, and
// whether they belong to the whole stem or to one notehead.
var spanKinds = map[string]bool{
	"slur": true, "tuplet": true, "wavy-line": true, "tremolo": true, "glissando": false, "slide": false,
}

// isSpanEnd reports whether a mark is one end of a span.
func isSpanEnd(e *etree.Element) bool {
	if _, ok := spanKinds[e.Tag]; !ok {
		return false
	}
	switch musicxml.Attr(e, "type") {
	case "start", "stop":
		return true
	}
	return false
}

// spanKey finds the other end of a span.
type spanKey struct {
	kind, number, voice string
	staff               int
}

// findSpans pairs the ends of all spans of the part in the order of time: by kind
// and number in one voice, else over the voices of the staff, as where a slur
// begins on a unison and ends in a voice of its own. Ends without another end are
// returned apart.
func (d *division) findSpans() (spans []span, lone []spanEnd) {
	open := map[spanKey][]spanEnd{}
	paired := map[*etree.Element]bool{}
	ends := d.spanEnds()
	for _, end := range ends {
		key := spanKey{end.element.Tag, numberOf(end.element), end.group.voice, end.group.staff}
		if musicxml.Attr(end.element, "type") == "start" {
			if before := open[key]; len(before) > 0 && before[0].group != end.group {
				open[key] = nil // its number is used again
			}
			open[key] = append(open[key], end)
			continue
		}
		if len(open[key]) == 0 {
			key = otherVoice(open, key, func(ends []spanEnd) bool { return len(ends) > 0 })
		}
		if n := len(open[key]); n > 0 {
			start := open[key][n-1]
			spans = append(spans, span{end.element.Tag, start, end})
			open[key] = open[key][:n-1]
			paired[start.element], paired[end.element] = true, true
		}
	}
	for _, end := range ends {
		if !paired[end.element] {
			lone = append(lone, end)
		}
	}
	return spans, lone
}

// numberOf is the number of a span, "1" where it says none.
func numberOf(e *etree.Element) string { return cmp.Or(musicxml.Attr(e, "number"), "1") }

// otherVoice finds an open span of that kind and number in another voice of the
// staff, else on another staff; the uppermost where there are several.
func otherVoice[T any](open map[spanKey]T, key spanKey, is func(T) bool) spanKey {
	found := key
	for k, ends := range open {
		if k.kind == key.kind && k.number == key.number && is(ends) && (found == key || k.closer(found, key.staff)) {
			found = k
		}
	}
	return found
}

// closer reports whether a span stands nearer to a staff than another, or above it.
func (k spanKey) closer(than spanKey, staff int) bool {
	if here, there := k.staff == staff, than.staff == staff; here != there {
		return here
	}
	if k.staff != than.staff {
		return k.staff < than.staff
	}
	return voiceBefore(k.voice, than.voice)
}

// spanEnds lists the ends in the order of time; at one note a slur that stops
// comes before one that starts.
func (d *division) spanEnds() []spanEnd {
	var all []spanEnd
	for _, b := range d.bars {
		for _, g := range inTime(slices.Clone(b.groups)) {
			for _, h := range g.all() {
				ends := h.spanEnds()
				for _, stops := range []bool{true, false} {
					for _, end := range ends {
						if end.stopsSlur() == stops {
							all = append(all, end)
						}
					}
				}
			}
		}
	}
	return all
}

func (e spanEnd) stopsSlur() bool {
	return e.element.Tag == "slur" && musicxml.Attr(e.element, "type") == "stop"
}

// spanEnds lists the ends at one stem.
func (g *group) spanEnds() []spanEnd {
	if g.rest {
		return endsAt(spanEnd{group: g}, g.element)
	}
	var ends []spanEnd
	for _, n := range g.notes {
		ends = append(ends, endsAt(spanEnd{group: g, note: n}, n.element)...)
	}
	return ends
}

func endsAt(at spanEnd, e *etree.Element) []spanEnd {
	var ends []spanEnd
	add := func(parent *etree.Element) {
		for _, c := range parent.ChildElements() {
			if isSpanEnd(c) {
				at.element = c
				ends = append(ends, at)
			}
		}
	}
	for _, notations := range musicxml.Children(e, "notations") {
		add(notations)
		for _, ornaments := range musicxml.Children(notations, "ornaments") {
			add(ornaments)
		}
	}
	return ends
}
