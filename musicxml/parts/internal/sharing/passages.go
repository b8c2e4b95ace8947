package sharing

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
)

// TakePassages leaves of a percussion staff the passages that the player has.
func TakePassages(d *draft.Draft) error {
	if len(d.Assignment.Takes) == 0 {
		return nil
	}
	read, err := music.Read(d.Timeline)
	if err != nil {
		return err
	}
	for i := range d.Timeline.Measures {
		m := &d.Timeline.Measures[i]
		lost := false
		for k := 0; k < len(m.Events); {
			end := k + 1
			for end < len(m.Events) && m.Events[end].Kind == musicxml.Note && m.Events[end].Chord {
				end++
			}
			if ev := &m.Events[k]; ev.Kind == musicxml.Note && !ev.Rest {
				lost = takeChord(d, i, m.Events[k:end]) || lost
			}
			k = end
		}
		dropOthersMarks(d, &read.Measures[i])
		if lost {
			for ev := range m.Each(musicxml.Note) {
				musicxml.RemoveChildren(ev.Element, "beam") // that led to others' notes
			}
			joinRests(d, m)
		}
	}
	dropLoneEnds(read.Spans)
	d.Rewritten()
	return nil
}

// takeChord leaves of the notes on one stem those that the player has, and reports whether
// any went.
func takeChord(d *draft.Draft, measure int, chord []musicxml.Event) (lost bool) {
	var kept []*etree.Element
	for i := range chord {
		e := chord[i].Element
		if d.Assignment.TakesNote(instrumentOf(e), musicxml.Position{Measure: measure, Onset: chord[i].Onset}) {
			kept = append(kept, e)
			continue
		}
		lost = true
		if i > 0 || chord[0].Grace {
			e.Parent().RemoveChild(e)
		}
	}
	first := chord[0].Element
	switch {
	case !lost || chord[0].Grace:
	case len(kept) == 0:
		rest(first)
	case kept[0] != first:
		musicxml.RemoveChildren(kept[0], "chord")
		first.Parent().RemoveChild(first)
	}
	return lost
}

// instrumentOf is the id of the instrument of a note, "" without.
func instrumentOf(note *etree.Element) string {
	if e := musicxml.Child(note, "instrument"); e != nil {
		return musicxml.Attr(e, "id")
	}
	return ""
}

// rest makes a rest of a note, hidden: where nothing else fills the time it will be shown.
func rest(note *etree.Element) {
	musicxml.RemoveChildren(note, "pitch", "unpitched", "tie", "instrument", "accidental", "beam", "stem", "lyric", "notehead", "notehead-text", "play", "listen")
	if notations := musicxml.Child(note, "notations"); notations != nil {
		for _, c := range notations.ChildElements() {
			if c.Tag != "tuplet" && c.Tag != "fermata" {
				notations.RemoveChild(c)
			}
		}
		if len(notations.ChildElements()) == 0 {
			note.RemoveChild(notations)
		}
	}
	musicxml.AddInOrder(note, etree.NewElement("rest"))
	note.CreateAttr("print-object", "no")
}

// dropOthersMarks takes out what is said of passages that others play. The ends of lines stay
// for now: an end goes with its beginning (dropLoneEnds).
func dropOthersMarks(d *draft.Draft, m *music.Measure) {
	for k := range m.Marks {
		mark := &m.Marks[k]
		if mark.Event.Kind != musicxml.Direction || mark.Role == music.Stops && mark.Span.Start != nil || draft.ForAll(mark.Event.Element) {
			continue
		}
		at := musicxml.Position{Measure: mark.Measure, Onset: mark.Onset}
		if !d.Assignment.TakesMark(at) || namesAnother(d, mark.Event.Element) {
			draft.DropMark(mark.Element)
		}
	}
}

// namesAnother reports whether words over the staff name an instrument of it that another
// player has, in full or shortened: "Side drum", "Susp. cym.".
func namesAnother(d *draft.Draft, direction *etree.Element) bool {
	words := musicxml.Text(musicxml.Descend(direction, "direction-type", "words"))
	if words == "" {
		return false
	}
	another := false
	for _, in := range d.Score.ScoreParts[d.Assignment.Part].Instruments {
		if !isShortFor(words, in.Name) {
			continue
		}
		if d.Assignment.TakesInstrument(in.ID) {
			return false
		}
		another = true
	}
	return another
}

// isShortFor reports whether words are a name, or its words cut short.
func isShortFor(words, name string) bool {
	short, long := strings.Fields(strings.ToLower(words)), strings.Fields(strings.ToLower(name))
	if len(short) != len(long) {
		return false
	}
	for i := range short {
		if !strings.HasPrefix(long[i], strings.TrimRight(short[i], ".:")) {
			return false
		}
	}
	return len(short) > 0
}

// dropLoneEnds takes out the ends of lines, slurs and the like whose other ends are others'.
// What has one end in the score keeps it.
func dropLoneEnds(spans []music.Span) {
	for _, s := range spans {
		if s.Start == nil || s.Stop == nil || stands(s.Start.Element) && stands(s.Stop.Element) {
			continue
		}
		for _, mark := range append([]*music.Mark{s.Start, s.Stop}, s.Through...) {
			if stands(mark.Element) {
				draft.DropMark(mark.Element)
			}
		}
	}
}

// stands reports whether an element is in a bar still.
func stands(e *etree.Element) bool {
	for e != nil && e.Tag != "measure" {
		e = e.Parent()
	}
	return e != nil
}

// joinRests writes rests that follow each other as the fewest that show the beats.
func joinRests(d *draft.Draft, m *musicxml.Measure) {
	var run []musicxml.Event
	for _, ev := range m.Events {
		switch {
		case ev.Element.Parent() == nil: // taken out
		case plainRest(&ev) && (len(run) == 0 || ev.Voice == run[0].Voice):
			run = append(run, ev)
		default:
			joinRun(d, m, run)
			if run = run[:0]; plainRest(&ev) {
				run = append(run, ev)
			}
		}
	}
	joinRun(d, m, run)
}

// plainRest reports whether an event is a rest, or was made one, with nothing of its own.
func plainRest(ev *musicxml.Event) bool {
	return ev.Kind == musicxml.Note && musicxml.Child(ev.Element, "rest") != nil &&
		musicxml.Child(ev.Element, "notations") == nil && musicxml.Child(ev.Element, "time-modification") == nil
}

func joinRun(d *draft.Draft, m *musicxml.Measure, run []musicxml.Event) {
	if len(run) < 2 {
		return
	}
	from, last := run[0].Onset, &run[len(run)-1]
	divisions := d.DivisionsBefore(m.Index, run[0].Element)
	rests := divisi.Rests(m, from, last.Onset.Add(last.Duration))
	if len(rests) >= len(run) {
		return
	}
	for _, r := range rests {
		if r.Type == "" || r.To.Sub(r.From).Mul(divisions).Den() > 1 {
			return
		}
	}
	for i, r := range rests {
		e := run[i].Element
		musicxml.SetChildText(e, "duration", draft.Decimal(r.To.Sub(r.From).Mul(divisions)))
		musicxml.RemoveChildren(e, "dot")
		musicxml.SetChildText(e, "type", r.Type)
		for range r.Dots {
			musicxml.AddInOrder(e, etree.NewElement("dot"))
		}
	}
	for i := len(rests); i < len(run); i++ {
		m.Element.RemoveChild(run[i].Element)
	}
}
