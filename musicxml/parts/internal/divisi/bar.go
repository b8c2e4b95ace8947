package divisi

import (
	"cmp"
	"fmt"
	"iter"
	"maps"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// bar is one measure, its notes put together by stem.
type bar struct {
	measure *musicxml.Measure
	groups  []*group // in document order, grace notes inside the group they lead to
	fixed   []*fixture
	rulers  []ruler
}

// ruler is the divisions of a quarter note from a place in the bar on.
type ruler struct {
	at        musicxml.Fraction
	divisions musicxml.Fraction
}

// group is what one stem holds: a note with its chord, or a rest.
type group struct {
	bar        *bar
	notes      []*note // of a rest: none
	element    *etree.Element
	voice      string
	staff      int
	onset, end musicxml.Fraction // from the start of the bar
	rest       bool
	hidden     bool // a rest that is not printed
	grace      bool
	before     []*group // grace notes that lead to this group
	after      []*group // grace notes at the end of the bar, after this group
}

// note is one notehead.
type note struct {
	group   *group
	element *etree.Element
	pitch   pitch.Pitch
	pitched bool
	tieFrom bool // a tie ends here
	tieTo   bool // a tie begins here
	who     players
}

// fixture is whatever else stands in a bar: directions, attributes, barlines,
// comments.
type fixture struct {
	bar     *bar
	token   etree.Token
	element *etree.Element // nil for a comment
	kind    musicxml.Kind
	at      musicxml.Fraction // where it stands
	onset   musicxml.Fraction // where it takes effect: at plus its own offset
	voice   string            // in whose run of notes it stands; said is true where it says so itself
	said    bool
	staff   int
	last    bool // a barline at the end
}

// readBars puts the notes of a part together.
func readBars(t *musicxml.Timeline) ([]*bar, error) {
	bars := make([]*bar, len(t.Measures))
	divisions := musicxml.NewFraction(1, 1)
	for i := range t.Measures {
		r := barReader{bar: &bar{measure: &t.Measures[i]}, pending: map[string][]*group{}, latest: map[string]*group{}}
		r.rulers = []ruler{{divisions: divisions}}
		if err := r.read(); err != nil {
			m := &t.Measures[i]
			return nil, &musicxml.Error{Measure: m.Number, Beat: m.Beat(r.now), Code: notice.NoMusic, Err: err}
		}
		if len(r.groups) > largestBar {
			return nil, &musicxml.Error{Measure: t.Measures[i].Number, Code: notice.NoMusic, Hint: "extract the part without sharing it out",
				Err: fmt.Errorf("a bar with more than %d notes cannot be shared out among players", largestBar)}
		}
		divisions = r.rulers[len(r.rulers)-1].divisions
		bars[i] = r.bar
	}
	return bars, nil
}

// largestBar bounds the notes of one bar, each of which is compared with the
// others: no player counts so far.
const largestBar = 5000

// barReader reads one measure.
type barReader struct {
	*bar
	now     musicxml.Fraction
	current *group
	pending map[string][]*group // grace notes that have not led to anything yet, by voice
	latest  map[string]*group   // the last group of each voice
}

func (r *barReader) read() error {
	events := r.measure.Events
	for _, token := range r.measure.Element.Child {
		next := slices.IndexFunc(events, func(ev musicxml.Event) bool { return token == etree.Token(ev.Element) })
		if next < 0 {
			if _, text := token.(*etree.CharData); !text {
				r.fixed = append(r.fixed, &fixture{bar: r.bar, token: token, at: r.now, onset: r.now})
			}
			continue
		}
		if err := r.event(&events[next]); err != nil {
			return err
		}
		events = events[next+1:]
	}
	r.leftover()
	r.lendVoices()
	return nil
}

func (r *barReader) event(ev *musicxml.Event) error {
	switch ev.Kind {
	case musicxml.Note:
		return r.note(ev)
	case musicxml.Backup:
		r.leftover()
		r.now = r.now.Sub(ev.Duration)
	case musicxml.Forward:
		r.now = r.now.Add(ev.Duration)
	default:
		f := &fixture{bar: r.bar, token: ev.Element, element: ev.Element, kind: ev.Kind, at: r.now, onset: ev.Onset,
			voice: ev.Voice, said: ev.Voice != "", staff: max(1, ev.Staff)}
		f.last = ev.Kind == musicxml.Barline && isLast(ev.Element)
		r.fixed = append(r.fixed, f)
		if ev.Kind == musicxml.Attributes {
			return r.ruler(ev.Element)
		}
	}
	return nil
}

// isLast reports whether a barline stands at the end, as it does by default
// (MusicXML 4.0, barline).
func isLast(e *etree.Element) bool {
	return cmp.Or(musicxml.Attr(e, "location"), "right") == "right"
}

// ruler follows a change of <divisions>.
func (r *barReader) ruler(attributes *etree.Element) error {
	e := musicxml.Child(attributes, "divisions")
	if e == nil {
		return nil
	}
	d, err := musicxml.ParseFraction(musicxml.Text(e))
	if err != nil {
		return err
	}
	if r.now.Sign() == 0 && len(r.groups) == 0 {
		r.rulers = r.rulers[:0]
	}
	r.rulers = append(r.rulers, ruler{r.now, d})
	return nil
}

// divisions returns how many parts a quarter note has at a place.
func (b *bar) divisions(at musicxml.Fraction) musicxml.Fraction {
	d := b.rulers[0].divisions
	for _, r := range b.rulers[1:] {
		if !at.Less(r.at) {
			d = r.divisions
		}
	}
	return d
}

// note adds a note to the group of its stem, or begins a group.
func (r *barReader) note(ev *musicxml.Event) error {
	n, err := readNote(ev)
	if err != nil {
		return err
	}
	if ev.Chord && r.current != nil && !r.current.rest && r.current.grace == ev.Grace {
		n.group = r.current
		r.current.notes = append(r.current.notes, n)
		return nil
	}
	g := &group{bar: r.bar, element: ev.Element, voice: ev.Voice, staff: ev.Staff, onset: ev.Onset,
		end: ev.Onset.Add(ev.Duration), rest: ev.Rest, grace: ev.Grace}
	n.group = g
	if g.rest {
		g.hidden = musicxml.Attr(ev.Element, "print-object") == "no"
	} else {
		g.notes = []*note{n}
	}
	r.current = g
	r.add(g)
	if !ev.Chord {
		r.now = g.end
	}
	return nil
}

// add places a group among those of its voice; grace notes wait for what they
// lead to, on whichever staff.
func (r *barReader) add(g *group) {
	if g.grace {
		r.pending[g.voice] = append(r.pending[g.voice], g)
		return
	}
	g.before = r.pending[g.voice]
	delete(r.pending, g.voice)
	r.latest[g.voice] = g
	r.groups = append(r.groups, g)
}

// leftover hangs grace notes that lead to nothing in this bar on the group
// before them; without one they stand by themselves.
func (r *barReader) leftover() {
	for _, key := range slices.Sorted(maps.Keys(r.pending)) {
		if last := r.latest[key]; last != nil {
			last.after = append(last.after, r.pending[key]...)
		} else {
			r.groups = append(r.groups, r.pending[key]...)
		}
		delete(r.pending, key)
	}
}

// lendVoices gives every fixture that says no voice the voice of the notes in
// whose run it stands: of the next note before the voice turns back, else of the
// one before it.
func (r *barReader) lendVoices() {
	next, f := "", len(r.fixed)-1
	events := r.measure.Events
	for i := len(events) - 1; i >= 0; i-- {
		switch events[i].Kind {
		case musicxml.Note:
			next = events[i].Voice
		case musicxml.Backup:
			next = ""
		case musicxml.Forward:
		default:
			for f >= 0 && r.fixed[f].element != events[i].Element {
				f--
			}
			if f >= 0 && !r.fixed[f].said {
				r.fixed[f].voice = next
			}
			if next == "" && f >= 0 && !r.fixed[f].said {
				r.fixed[f].voice = voiceBack(events[:i])
			}
		}
	}
}

func voiceBack(events []musicxml.Event) string {
	for i := len(events) - 1; i >= 0; i-- {
		switch events[i].Kind {
		case musicxml.Note:
			return events[i].Voice
		case musicxml.Backup:
			return ""
		}
	}
	return ""
}

// readNote reads what matters of a <note>.
func readNote(ev *musicxml.Event) (*note, error) {
	read, err := music.ReadNote(ev)
	if err != nil {
		return nil, err
	}
	n := &note{element: ev.Element, tieFrom: read.Ties.Stop(), tieTo: read.Ties.Start()}
	if read.Pitched() {
		n.pitch, n.pitched = read.Pitch, true
	}
	return n, nil
}

// on returns the groups of a staff in the order of time.
func (b *bar) on(staff int) []*group {
	var groups []*group
	for _, g := range b.groups {
		if g.staff == staff {
			groups = append(groups, g)
		}
	}
	return inTime(groups)
}

// inTime puts groups in the order of time.
func inTime(groups []*group) []*group {
	slices.SortStableFunc(groups, func(a, b *group) int { return a.onset.Cmp(b.onset) })
	return groups
}

// all returns a group with its grace notes in the order in which they are read.
func (g *group) all() []*group {
	return slices.Concat(g.before, []*group{g}, g.after)
}

// notes goes through the noteheads of a bar, grace notes too.
func (b *bar) notes() iter.Seq[*note] {
	return func(yield func(*note) bool) {
		for _, g := range b.groups {
			for _, h := range g.all() {
				for _, n := range h.notes {
					if !yield(n) {
						return
					}
				}
			}
		}
	}
}

// active reports whether a voice says something here: a note, or a rest that is
// printed. What is not printed, or not there at all, leaves room for others.
func (g *group) active() bool { return !g.rest || !g.hidden }

// overlaps reports whether two groups of one bar share time.
func (g *group) overlaps(h *group) bool {
	if g.onset == g.end || h.onset == h.end {
		return g.onset == h.onset && (g.onset == g.end) == (h.onset == h.end)
	}
	return g.onset.Less(h.end) && h.onset.Less(g.end)
}

// start returns the group's onset from the start of the piece.
func (g *group) start() musicxml.Fraction { return g.bar.measure.Start.Add(g.onset) }

// stop returns the group's end from the start of the piece.
func (g *group) stop() musicxml.Fraction { return g.bar.measure.Start.Add(g.end) }
