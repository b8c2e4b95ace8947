package joining

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
)

// stretch is what a player has on one staff until the next change.
type stretch struct {
	staff int // place in the row
	from  musicxml.Position
}

// row is one staff of the part, on which the player has some staves of the score in turn.
type row struct {
	music     []*music
	turns     desks.Turns
	frames    []musicxml.Measure // of the part
	divisions musicxml.Fraction
	stretches []stretch
	unsaid    []Unsaid // by places in the row
}

// stretch says where the bars of which staff begin: at the new one's entry, or before it,
// where it has cue notes or words of its own for the player who rests. In a bar of the
// entry in which the old one does not sound any more that is at its bar line.
func (r *row) findStretches() {
	r.stretches = []stretch{{staff: r.turns.First}}
	for _, c := range r.turns.Changes {
		at := musicxml.Position{Measure: c.Entry.Measure}
		if at.Compare(c.Stop) < 0 {
			at = c.Entry
		}
		first := c.Stop.Measure
		if c.Stop.Onset.Sign() > 0 {
			first++
		}
		for i := first; i < at.Measure; i++ {
			if r.tells(c.To, c.From, i) {
				at = musicxml.Position{Measure: i}
			}
		}
		r.stretches = append(r.stretches, stretch{c.To, at})
	}
}

// tells reports whether a staff has something for its player in a bar of rest that
// another does not have: cue notes, words.
func (r *row) tells(staff, other, i int) bool {
	m, o := r.music[staff].measure(i), r.music[other].measure(i)
	if m == nil || o == nil {
		return false
	}
	if draft.HasCue(m) {
		return true
	}
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
		return ev.Kind == musicxml.Direction && !says(o, &ev)
	})
}

// end is where stretch i ends.
func (r *row) end(i int) musicxml.Position {
	if i+1 < len(r.stretches) {
		return r.stretches[i+1].from
	}
	return musicxml.Position{Measure: len(r.frames)}
}

// join makes the part.
func (r *row) join() *etree.Element {
	r.findStretches()
	r.closeLines()
	r.carry()
	part := etree.NewElement("part")
	force := inForce{}
	next := 0
	for i := range r.frames {
		pieces := r.piecesOf(i, &next)
		if len(pieces) == 1 {
			if m := pieces[0].of.measure(i); m != nil && len(pieces[0].of.gone)+len(pieces[0].of.kept) == 0 && len(force.missing(pieces[0].of.holds(i, musicxml.Fraction{}))) == 0 {
				for e := range musicxml.Each(m.Element, "attributes") {
					force.take(e, 0)
				}
				part.AddChild(m.Element)
				continue
			}
		}
		b := newBar(&r.frames[i], r.divisions, force)
		b.pieces(pieces)
		part.AddChild(b.bar)
	}
	return part
}

// piecesOf cuts a bar where the staff changes. next is the stretch that goes on.
func (r *row) piecesOf(i int, next *int) []piece {
	var pieces []piece
	var at musicxml.Fraction
	length := r.frames[i].Length
	for {
		now := r.music[r.stretches[*next].staff]
		end := r.end(*next)
		if end.Measure > i {
			return append(pieces, piece{now, at, length})
		}
		if at.Less(end.Onset) {
			pieces = append(pieces, piece{now, at, end.Onset})
			at = end.Onset
		}
		*next++
	}
}

// spans are the directions that go on until another ends them.
var spans = []string{"wedge", "dashes", "bracket", "pedal", "octave-shift"}

// closeLines sees to lines over the staff (hairpins, dashes, pedals, octave lines) of which
// an end lies where the player has another staff: they end where the player leaves it.
func (r *row) closeLines() {
	for i, m := range r.music {
		for _, l := range linesOf(m.timeline) {
			from, to := r.stretchOf(l.from), r.stretchOf(l.to)
			mine := r.stretches[from].staff == i
			if mine && from == to {
				continue
			}
			late := l.stopAlone()
			m.drop(l.stop, l.ends)
			if mine {
				r.stopAt(m, l, late, from)
			}
		}
	}
}

// drop takes an end of a line out of a direction, which stays where it says something else.
func (s *music) drop(direction, end *etree.Element) {
	draft.DropMark(end)
	if musicxml.Child(direction, "direction-type") == nil {
		s.gone[direction] = true
	}
}

// stopAt ends a line behind the last note that the player has under it before a stretch ends.
func (r *row) stopAt(m *music, l line, stop *etree.Element, stretch int) {
	end := r.end(stretch)
	for i := end.Measure; i >= l.from.Measure; i-- {
		measure := m.measure(i)
		if measure == nil {
			continue
		}
		until := measure.Length
		if i == end.Measure {
			until = end.Onset
		}
		if m.stopIn(measure, l.from, stop, until) {
			return
		}
	}
	m.drop(l.start, l.begins)
}

// stopIn ends a line in a bar, behind the last note that has ended by a time, if it lasts so
// long.
func (s *music) stopIn(m *musicxml.Measure, from musicxml.Position, stop *etree.Element, until musicxml.Fraction) bool {
	for k := len(m.Events) - 1; k >= 0; k-- {
		ev := &m.Events[k]
		at := ev.Onset.Add(ev.Duration)
		if ev.Kind != musicxml.Note || ev.Rest || until.Less(at) || from.Compare(musicxml.Position{Measure: m.Index, Onset: at}) >= 0 {
			continue
		}
		late := musicxml.Event{Element: stop, Kind: musicxml.Direction, Onset: at, Staff: ev.Staff}
		s.kept[stop] = true
		m.Events = slices.Insert(slices.Clone(m.Events), k+1, late)
		return true
	}
	return false
}

func (r *row) stretchOf(at musicxml.Position) (found int) {
	for i, s := range r.stretches {
		if s.from.Compare(at) <= 0 {
			found = i
		}
	}
	return found
}

// line is a line over the staff from one direction to another.
type line struct {
	from, to     musicxml.Position
	start, stop  *etree.Element // the directions
	begins, ends *etree.Element // its ends in them
}

// stopAlone copies the direction that ends the line, without what else that says.
func (l *line) stopAlone() *etree.Element {
	stop := l.stop.Copy()
	musicxml.RemoveChildren(stop, "offset", "direction-type", "sound", "listening")
	stop.InsertChildAt(0, etree.NewElement("direction-type"))
	musicxml.Child(stop, "direction-type").AddChild(l.ends.Copy())
	return stop
}

// linesOf pairs the ends of the lines of a part by kind and number.
func linesOf(t *musicxml.Timeline) []line {
	var lines []line
	open := map[string]line{}
	for i, ev := range t.Each(musicxml.Direction) {
		at := musicxml.Position{Measure: i, Onset: ev.Onset}
		for direction := range musicxml.Each(ev.Element, "direction-type") {
			for _, tag := range spans {
				for e := range musicxml.Each(direction, tag) {
					key := tag + musicxml.Attr(e, "number")
					switch musicxml.Attr(e, "type") {
					case "stop", "discontinue":
						if l, ok := open[key]; ok {
							l.to, l.stop, l.ends = at, ev.Element, e
							lines = append(lines, l)
							delete(open, key)
						}
					case "continue", "change", "sostenuto", "resume":
					default:
						open[key] = line{from: at, start: ev.Element, begins: e}
					}
				}
			}
		}
	}
	return lines
}
