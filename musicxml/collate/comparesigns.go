package collate

import "slices"

// loose is a mark that has no counterpart at its place.
type loose struct {
	bar  *barComparison
	at   place // in the score's bar
	mark *mark
	lost bool // the score has it, the part has not
	said bool
}

func (b *barComparison) loosen(m *mark, at place, lost bool) {
	b.loose = append(b.loose, &loose{bar: b, at: at, mark: m, lost: lost})
}

// signsAt are the signs at one moment of the score's bar.
type signsAt struct {
	moment    moment
	want, got []*mark
}

// signsOfBar are the signs of a bar, by moment, in the order in which they come.
type signsOfBar []*signsAt

func (list *signsOfBar) at(m moment) *signsAt {
	for _, s := range *list {
		if s.moment == m {
			return s
		}
	}
	*list = append(*list, &signsAt{moment: m})
	return (*list)[len(*list)-1]
}

// compareSigns compares what is printed at the notes, moment by moment. Where a
// note has no counterpart, its signs have none and are not missed beside it.
func (b *barComparison) compareSigns() {
	var list signsOfBar
	for i := range b.want.notes {
		s := list.at(b.want.notes[i].moment())
		s.want = addSigns(s.want, b.want.notes, i, b.compares)
	}
	answers := b.answers()
	for k := range b.got.notes {
		m := b.got.notes[k].moment()
		if i, ok := answers[k]; ok {
			m = b.want.notes[i].moment()
		}
		s := list.at(m)
		s.got = addSigns(s.got, b.got.notes, k, b.compares)
	}
	for _, s := range list {
		if !b.odd[s.moment] {
			b.matchSigns(s)
		}
	}
}

// answers tells which note of the score each note of the part answers.
func (b *barComparison) answers() map[int]int {
	answers := map[int]int{}
	for _, p := range b.pairs {
		if p.got >= 0 && p.want >= 0 {
			answers[p.got] = p.want
		}
	}
	return answers
}

// compares reports whether marks of a kind are compared at all: lyrics, chord symbols and
// figures only where both have some.
func (c *comparison) compares(m *mark) bool {
	switch {
	case m.kind == Lyrics:
		return c.want.lyrics && c.got.lyrics
	case m.facet == "figures":
		return c.want.figures && c.got.figures
	case m.kind == Chord:
		return c.want.chords && c.got.chords
	}
	return true
}

// addSigns adds the signs of note i: of a chord each sign once, for some programs
// write it at every note of the chord.
func addSigns(list []*mark, notes []note, i int, wanted func(*mark) bool) []*mark {
	n := &notes[i]
	for s := range n.signs {
		m := &n.signs[s]
		if wanted(m) && !inChordBefore(notes, i, m) {
			list = append(list, m)
		}
	}
	return list
}

func inChordBefore(notes []note, i int, m *mark) bool {
	n := &notes[i]
	for k := i - 1; k >= 0 && notes[k].onset == n.onset; k-- {
		o := &notes[k]
		if o.moment() != n.moment() || o.voice != n.voice || o.staff != n.staff {
			continue
		}
		if slices.ContainsFunc(o.signs, func(s mark) bool { return s.facet == m.facet && s.says(m) }) {
			return true
		}
	}
	return false
}

// matchSigns leaves loose what stands on one side alone.
func (b *barComparison) matchSigns(s *signsAt) {
	got := slices.Clone(s.got)
	if b.misread[s.moment.onset] {
		// What is missing or wrong over such a note is why it is misread.
		noMark := func(m *mark) bool { return m.facet == "accidental-mark" }
		s.want, got = slices.DeleteFunc(s.want, noMark), slices.DeleteFunc(got, noMark)
	}
	at := place{b.step, s.moment.onset}
	for _, w := range s.want {
		k := slices.IndexFunc(got, func(g *mark) bool { return g.facet == w.facet && g.says(w) })
		if k < 0 {
			b.loosen(w, at, true)
			continue
		}
		got = slices.Delete(got, k, k+1)
	}
	for _, g := range got {
		b.loosen(g, at, false)
	}
}
