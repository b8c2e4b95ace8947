package condense

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// Join puts parts of players with these numbers, of as many bars each, on one staff. Their trees are used up; clefs and all that is not a note
// or a mark of one player are the first's.
func Join(staves []*draft.Draft, numbers []string) *etree.Element {
	var parts []*etree.Element
	var times []*musicxml.Timeline
	for _, s := range staves {
		parts, times = append(parts, s.Part), append(times, s.Timeline)
	}
	for _, s := range staves {
		dropWhoPlays(s)
	}
	divisions := draft.CommonDivisions(parts...)
	for _, p := range parts {
		draft.Unify(p, divisions)
	}
	j := joiner{times: times, marks: marksOf(times), numbers: numbers, divisions: musicxml.NewFraction(divisions, 1)}
	part := etree.NewElement("part")
	for i, kind := range kindsOf(times, j.marks) {
		part.AddChild(j.bar(i, kind))
	}
	return part
}

type joiner struct {
	times     []*musicxml.Timeline
	marks     [][][]mark // by player and bar
	numbers   []string
	divisions musicxml.Fraction
	said      kind // the words in force
	numbered  int  // the player, from 1, whose number stands before marks of one's own; 0: nobody's
}

// bar puts one bar together: what is the first player's but for notes, the notes as the
// kind has it.
func (j *joiner) bar(i int, k kind) *etree.Element {
	first := &j.times[0].Measures[i]
	var lines [][]*etree.Element
	switch k {
	case chords:
		lines = [][]*etree.Element{j.chords(i)}
	case voices:
		for player := range j.times {
			lines = append(lines, j.line(player, i, player+1))
			turnStems(lines[player], player == 0)
		}
		j.restOnce(lines)
	default:
		lines = [][]*etree.Element{j.line(max(int(k)-int(alone), 0), i, 1)}
	}
	dropNotes(first)
	j.write(first, lines, j.placeMarks(i, k), j.words(k))
	return first.Element
}

// dropNotes takes the notes, and what counts time, out of a bar.
func dropNotes(m *musicxml.Measure) {
	for k := range m.Events {
		switch m.Events[k].Kind {
		case musicxml.Note, musicxml.Backup, musicxml.Forward:
			m.Element.RemoveChild(m.Events[k].Element)
		}
	}
}

// timed is something with its place in a bar.
type timed struct {
	e  *etree.Element
	at musicxml.Fraction
}

// line copies a player's notes into a voice, with the lines under numbers of their own.
// Where nothing stands time goes forward: by the notes' places, as a part may turn back and
// forward for its marks.
func (j *joiner) line(player, i, voice int) []*etree.Element {
	m := &j.times[player].Measures[i]
	var notes []*etree.Element
	var now musicxml.Fraction
	forward := func(to musicxml.Fraction) {
		if now.Less(to) {
			notes = append(notes, draft.Turn("forward", draft.Decimal(to.Sub(now).Mul(j.divisions))))
			now = to
		}
	}
	for ev := range m.Each(musicxml.Note) {
		forward(ev.Onset)
		e := ev.Element.Copy()
		musicxml.SetChildText(e, "voice", strconv.Itoa(voice))
		if player > 0 {
			renumber(e, 4*player)
		}
		notes = append(notes, e)
		now = now.Add(j.length(e))
	}
	forward(m.Length)
	return notes
}

// turnStems turns the stems of one voice of several away from the others.
func turnStems(line []*etree.Element, up bool) {
	direction := "down"
	if up {
		direction = "up"
	}
	for _, e := range line {
		if stem := musicxml.Child(e, "stem"); stem != nil && musicxml.Text(stem) != "none" {
			musicxml.SetText(stem, direction)
		}
	}
}

// restOnce hides the rests of lower voices that the uppermost has at the same time.
func (j *joiner) restOnce(lines [][]*etree.Element) {
	type rest struct{ from, to musicxml.Fraction }
	upper := map[rest]bool{}
	for n, line := range lines {
		var at musicxml.Fraction
		for _, e := range line {
			r := rest{at, at.Add(j.length(e))}
			at = r.to
			switch {
			case musicxml.Child(e, "rest") == nil:
			case n == 0:
				upper[r] = true
			case upper[r]:
				e.CreateAttr("print-object", "no")
			}
		}
	}
}

func renumber(e *etree.Element, by int) {
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "slur", "glissando", "slide", "wavy-line":
			draft.Renumber(c, by)
		}
		renumber(c, by)
	}
}

// chords sets the players' notes on one stem, the lowest first.
func (j *joiner) chords(i int) []*etree.Element {
	n := len(j.times)
	lines := make([][]*etree.Element, n)
	for player := range lines {
		lines[player] = j.line(player, i, 1)
	}
	var notes []*etree.Element
	for k, lowest := range lines[n-1] {
		for _, notations := range musicxml.Children(lowest, "notations") {
			renumber(notations, draft.MostLines-4*(n-1)) // as the first player's
		}
		notes = append(notes, lowest)
		if musicxml.Child(lowest, "rest") != nil || lowest.Tag != "note" {
			continue
		}
		for player := n - 2; player >= 0; player-- {
			e := lines[player][k]
			musicxml.AddInOrder(e, etree.NewElement("chord"))
			musicxml.RemoveChildren(e, "beam", "lyric")
			keepTies(e)
			notes = append(notes, e)
		}
	}
	return notes
}

// keepTies leaves of a chord note's notations what is its own.
func keepTies(note *etree.Element) {
	notations := musicxml.Child(note, "notations")
	if notations == nil {
		return
	}
	for _, c := range notations.ChildElements() {
		if c.Tag != "tied" {
			notations.RemoveChild(c)
		}
	}
	if len(notations.ChildElements()) == 0 {
		note.RemoveChild(notations)
	}
}

// words say who plays, where that changes.
func (j *joiner) words(k kind) *etree.Element {
	text := ""
	switch {
	case k == silent:
		return nil
	case k >= alone:
		text = j.numbers[k-alone] + "."
	case k == unison:
		text = fmt.Sprintf("a %d", len(j.times))
	}
	before := j.said
	j.said = k
	if text == "" || before == k {
		return nil
	}
	return draft.WordsAbove(text, "", "")
}

// write puts the notes into a bar that has none: what the first player has at a time comes
// before the notes at it.
func (j *joiner) write(m *musicxml.Measure, lines [][]*etree.Element, marks []timed, words *etree.Element) {
	var fixed []timed
	var closing []*etree.Element
	var now musicxml.Fraction
	for k := range m.Events {
		ev, here := &m.Events[k], now
		now = ev.After(now)
		if ev.Element.Parent() != m.Element {
			continue
		}
		m.Element.RemoveChild(ev.Element)
		if ev.Kind == musicxml.Barline && draft.LocationOf(ev.Element) == "right" {
			closing = append(closing, ev.Element)
			continue
		}
		fixed = append(fixed, timed{ev.Element, here})
	}
	if words != nil {
		fixed = append(fixed, timed{words, j.firstNote(lines)})
	}
	fixed = append(fixed, marks...)
	w := barWriter{j: j, bar: m.Element, fixed: fixed}
	for _, line := range lines {
		w.to(musicxml.Fraction{})
		w.line(line)
	}
	w.rest(m.Length)
	for _, e := range closing {
		w.bar.AddChild(e)
	}
}

// firstNote is when the first note of a line begins.
func (j *joiner) firstNote(lines [][]*etree.Element) musicxml.Fraction {
	var at musicxml.Fraction
	for _, e := range lines[0] {
		if e.Tag == "note" && musicxml.Child(e, "rest") == nil {
			return at
		}
		at = at.Add(j.length(e))
	}
	return musicxml.Fraction{}
}

// length is how long a note or forward takes; a grace note says no duration.
func (j *joiner) length(e *etree.Element) musicxml.Fraction {
	if musicxml.Child(e, "chord") != nil {
		return musicxml.Fraction{}
	}
	d, err := musicxml.ParseFraction(musicxml.ChildText(e, "duration"))
	if err != nil {
		return musicxml.Fraction{}
	}
	return d.Div(j.divisions)
}

// barWriter writes a bar in order.
type barWriter struct {
	j     *joiner
	bar   *etree.Element
	now   musicxml.Fraction
	fixed []timed // what is still to be written beside the notes
}

// to goes to a time.
func (w *barWriter) to(at musicxml.Fraction) {
	switch {
	case at.Less(w.now):
		w.bar.AddChild(draft.Turn("backup", draft.Decimal(w.now.Sub(at).Mul(w.j.divisions))))
	case w.now.Less(at):
		w.bar.AddChild(draft.Turn("forward", draft.Decimal(at.Sub(w.now).Mul(w.j.divisions))))
	}
	w.now = at
}

// line writes a line, and what stands at its times.
func (w *barWriter) line(notes []*etree.Element) {
	for _, e := range notes {
		if musicxml.Child(e, "chord") == nil {
			w.fixedHere()
		}
		w.bar.AddChild(e)
		w.now = w.now.Add(w.j.length(e))
	}
	w.fixedHere()
}

// fixedHere writes what stands at the time.
func (w *barWriter) fixedHere() {
	w.fixed = slices.DeleteFunc(w.fixed, func(f timed) bool {
		if f.at == w.now {
			w.bar.AddChild(f.e)
		}
		return f.at == w.now
	})
}

// rest writes what stands at no time at which a note begins.
func (w *barWriter) rest(length musicxml.Fraction) {
	for _, f := range w.fixed {
		w.to(f.at)
		w.bar.AddChild(f.e)
	}
	w.to(length)
}
