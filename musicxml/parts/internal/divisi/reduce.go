package divisi

import (
	"math/bits"
	"slices"
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// Reduce leaves of a part what an instrument on one staff can play, and with oneLine
// what one that sounds a note at a time can. It is no sharing out: no words say who
// plays, and there is nobody else.
//
// The line that stays is the upper voice of the upper staff, where the melody is, and
// the upper note of each chord. Where it rests, also in mid-bar, the next voice is
// taken over note by note; a note that is already sounding there begins anew, and one
// that would go on under the upper voice ends. So the part sounds wherever the score
// does. Without oneLine the same holds of staves, and voices and chords stay.
//
// The timeline's tree is changed in place; lay it out again afterwards.
func Reduce(t *musicxml.Timeline, oneLine bool) (Report, error) {
	bars, err := readBars(t)
	if err != nil {
		return Report{}, err
	}
	d := &division{Options: Options{Players: make([]Player, 2)}, bars: bars, addressed: map[*etree.Element]players{}}
	for _, b := range bars {
		(&reduction{bar: b, oneLine: oneLine}).run()
	}
	d.findStaves()
	d.report.Staff = d.keep()
	return d.report, nil
}

// The line that stays is one player's, what goes another's.
const (
	lineStays players = 1 << iota
	lineGoes
)

// reduction is the work on one bar.
type reduction struct {
	*bar
	oneLine bool
	covered []stretchOfTime // where the line sounds, in order
}

// stretchOfTime is a part of a bar, in quarter notes from its start.
type stretchOfTime struct{ from, to musicxml.Fraction }

// layer is what is taken as a whole: a voice, or all that stands on a staff.
type layer struct {
	staff int
	voice string // "" for a whole staff
}

func (r *reduction) run() {
	for _, l := range r.layers() {
		var sounds []stretchOfTime
		for i := 0; i < len(r.groups); i++ {
			g := r.groups[i]
			if g.rest || r.layerOf(g) != l {
				continue
			}
			pieces := r.cut(g)
			r.groups = slices.Replace(r.groups, i, i+1, pieces...)
			i += len(pieces) - 1
			for _, piece := range pieces {
				if now := r.choose(piece); r.oneLine {
					r.cover(now)
				} else {
					sounds = append(sounds, now...)
				}
			}
		}
		r.cover(sounds)
	}
}

// layers lists what is in the bar, what has the melody first.
func (r *reduction) layers() []layer {
	var all []layer
	for _, g := range r.groups {
		if l := r.layerOf(g); !g.rest && !slices.Contains(all, l) {
			all = append(all, l)
		}
	}
	sort.SliceStable(all, func(i, j int) bool {
		if all[i].staff != all[j].staff {
			return all[i].staff < all[j].staff
		}
		return voiceBefore(all[i].voice, all[j].voice)
	})
	return all
}

func (r *reduction) layerOf(g *group) layer {
	if r.oneLine {
		return layer{g.staff, g.voice}
	}
	return layer{staff: g.staff}
}

// choose decides whether a group is of the line, and returns where it then sounds.
func (r *reduction) choose(g *group) []stretchOfTime {
	who := lineStays
	if r.isCovered(g) {
		who = lineGoes
	}
	for _, h := range g.all() {
		notes := fromTheTop(h.notes)
		for i, n := range notes {
			n.who = who
			if r.oneLine && i > 0 {
				n.who = lineGoes
			}
		}
	}
	if isCue(g) { // only to be read
		return nil
	}
	return []stretchOfTime{{g.onset, g.end}}
}

func isCue(g *group) bool { return musicxml.Child(g.element, "cue") != nil }

// isCovered reports whether the line sounds already where a group begins. A group
// without length is covered by what begins there, or goes on.
func (r *reduction) isCovered(g *group) bool {
	return slices.ContainsFunc(r.covered, func(c stretchOfTime) bool { return !g.onset.Less(c.from) && g.onset.Less(c.to) })
}

// cover adds to where the line sounds.
func (r *reduction) cover(sounds []stretchOfTime) {
	if len(sounds) == 0 {
		return
	}
	r.covered = append(r.covered, sounds...)
	slices.SortFunc(r.covered, func(a, b stretchOfTime) int { return a.from.Cmp(b.from) })
	joined := r.covered[:1]
	for _, c := range r.covered[1:] {
		last := &joined[len(joined)-1]
		switch {
		case last.to.Less(c.from):
			joined = append(joined, c)
		case last.to.Less(c.to):
			last.to = c.to
		}
	}
	r.covered = joined
}

// cut parts a group where the line begins or ceases to sound while it lasts.
func (r *reduction) cut(g *group) []*group {
	ends := []musicxml.Fraction{g.onset}
	for _, c := range r.covered {
		for _, at := range []musicxml.Fraction{c.from, c.to} {
			if g.onset.Less(at) && at.Less(g.end) {
				ends = append(ends, at)
			}
		}
	}
	if len(ends) == 1 {
		return []*group{g}
	}
	ends = append(ends, g.end)
	var parts []written
	for i := 1; i < len(ends); i++ {
		parts = append(parts, g.valuesOf(ends[i-1], ends[i])...)
	}
	pieces := make([]*group, len(parts))
	for i, w := range parts {
		pieces[i] = g.piece(w, i == 0, i == len(parts)-1)
	}
	pieces[0].before, pieces[len(pieces)-1].after = g.before, g.after
	return pieces
}

// written is a piece of a note in a value that can be written.
type written struct {
	from, to       musicxml.Fraction
	value          NoteValue
	actual, normal int64 // of a tuplet, 1 and 1 without
}

// valuesOf writes a stretch in as few note values as can be, the longest first. In a
// tuplet they are the tuplet's.
func (g *group) valuesOf(from, to musicxml.Fraction) []written {
	actual, normal := tupletOf(g.element, to.Sub(from))
	ratio := musicxml.NewFraction(actual, normal)
	var list []written
	for from.Less(to) {
		length, value := longestValue(to.Sub(from).Mul(ratio))
		end := from.Add(length.Div(ratio))
		if length.Sign() <= 0 { // shorter than any value
			end, value = to, NoteValue{}
		}
		list = append(list, written{from, end, value, actual, normal})
		from = end
	}
	return list
}

// tupletOf is the tuplet of a note, or the one that a length asks for: 1/3 of a
// quarter note is one of three in the time of two.
func tupletOf(e *etree.Element, length musicxml.Fraction) (actual, normal int64) {
	actual, normal = 1, 1
	if m := musicxml.Child(e, "time-modification"); m != nil {
		a, n := number(musicxml.ChildText(m, "actual-notes")), number(musicxml.ChildText(m, "normal-notes"))
		if a > 0 && n > 0 {
			actual, normal = a, n
		}
	}
	odd := length.Mul(musicxml.NewFraction(actual, normal)).Den()
	for odd%2 == 0 && odd > 0 {
		odd /= 2
	}
	if odd < 2 || odd > largestTuplet {
		return actual, normal
	}
	return odd, 1 << (bits.Len64(uint64(odd)) - 1)
}

// largestTuplet bounds the tuplets that are made.
const largestTuplet = 15

// longestValue is the longest value of at most a length, with up to two dots.
func longestValue(length musicxml.Fraction) (musicxml.Fraction, NoteValue) {
	for _, v := range values {
		if length.Less(v.length) {
			continue
		}
		for dots := 2; dots > 0; dots-- {
			dotted := v.length.Mul(musicxml.NewFraction(int64(1)<<(dots+1)-1, int64(1)<<dots))
			if dotted == length {
				return dotted, NoteValue{v.name, dots}
			}
		}
		return v.length, NoteValue{v.name, 0}
	}
	return musicxml.Fraction{}, NoteValue{}
}

// piece makes one piece of a group: its notes anew, in another value.
func (g *group) piece(w written, first, last bool) *group {
	p := &group{bar: g.bar, voice: g.voice, staff: g.staff, onset: w.from, end: w.to}
	for _, n := range g.notes {
		e := n.element.Copy()
		setValue(e, w, decimal(w.to.Sub(w.from).Mul(g.bar.divisions(w.from))))
		keepEnds(e, first, last)
		if !last {
			music.AddTie(e, "start")
		}
		if !first {
			music.AddTie(e, "stop")
		}
		p.notes = append(p.notes, &note{group: p, element: e, pitch: n.pitch, pitched: n.pitched,
			tieFrom: !first || n.tieFrom, tieTo: !last || n.tieTo})
	}
	p.element = p.notes[0].element
	return p
}

// setValue writes a note in another value.
func setValue(e *etree.Element, w written, duration string) {
	musicxml.RemoveChildren(e, "type", "dot", "time-modification", "beam")
	musicxml.SetChildText(e, "duration", duration)
	if w.value.Type == "" {
		return
	}
	musicxml.SetChildText(e, "type", w.value.Type)
	for range w.value.Dots {
		musicxml.AddInOrder(e, etree.NewElement("dot"))
	}
	if w.actual != w.normal {
		m := etree.NewElement("time-modification")
		musicxml.SetChildText(m, "actual-notes", strconv.Itoa(int(w.actual)))
		m.CreateElement("normal-notes").SetText(strconv.Itoa(int(w.normal)))
		musicxml.AddInOrder(e, m)
	}
}

// keepEnds leaves at a piece of a note what belongs to its beginning, to its end, or
// to both.
func keepEnds(e *etree.Element, first, last bool) {
	if !first {
		musicxml.RemoveChildren(e, "accidental", "lyric")
		music.DropTie(e, "stop")
	}
	if !last {
		music.DropTie(e, "start")
	}
	for _, notations := range musicxml.Children(e, "notations") {
		for _, c := range notations.ChildElements() {
			if ending := isEnding(c); c.Tag != "tied" && (ending && !last || !ending && !first) {
				notations.RemoveChild(c)
			}
		}
		dropEmpty(notations)
	}
}

// isEnding reports whether a notation belongs to the end of a note.
func isEnding(e *etree.Element) bool {
	switch e.Tag {
	case "fermata":
		return true
	case "slur", "tuplet":
		return musicxml.Attr(e, "type") == "stop"
	case "glissando", "slide":
		return musicxml.Attr(e, "type") == "start"
	case "articulations":
		return musicxml.Child(e, "breath-mark") != nil || musicxml.Child(e, "caesura") != nil
	}
	return false
}
