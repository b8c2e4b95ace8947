package collate

import (
	"regexp"
	"slices"

	"deskpart/musicxml"
)

// compareMarks compares what is printed beside the notes of a bar. What stands at
// the same place is matched; the rest is left loose.
func (b *barComparison) compareMarks() {
	b.comparePauses()
	taken := make([]bool, len(b.got.marks))
	for i := range b.want.marks {
		w := &b.want.marks[i]
		if w.facet == "fermata" || !b.compares(w) {
			continue
		}
		k := b.nearest(w, taken)
		if k < 0 && b.tellsApart(w) {
			continue
		}
		if k < 0 {
			b.loosen(w, place{b.step, w.onset}, true)
			continue
		}
		taken[k] = true
	}
	for k := range b.got.marks {
		if g := &b.got.marks[k]; !taken[k] && g.facet != "fermata" && b.compares(g) && !b.tellsApart(g) {
			b.loosen(g, place{b.step, b.inScore(g.onset)}, false)
		}
	}
}

// tellsPlayers finds at the head of words what tells the players of a shared staff apart,
// which a copyist leaves out of one player's part (part-preparation (a)): "1.", "I.", "a 2".
var tellsPlayers = regexp.MustCompile(`^(\d+o?|i|ii|iii|iv|a ?\d+|zu ?\d+)( |$)`)

// plain is a mark without that, in the part of one wind player.
func (b *barComparison) plain(m *mark) *mark {
	at := ""
	if b.alone && m.facet == "words" {
		at = tellsPlayers.FindString(m.key)
	}
	if at == "" {
		return m
	}
	rest := *m
	rest.key = m.key[len(at):]
	return &rest
}

// tellsApart reports whether a mark says nothing else there.
func (b *barComparison) tellsApart(m *mark) bool { return m.key != "" && b.plain(m).key == "" }

// anchor is a moment of the part's bar and when it comes in the score's.
type anchor struct{ got, want musicxml.Fraction }

// inScore is when in the score's bar something comes that stands at a time of the
// part's: where the note comes that it stands at, or as long after the last one.
func (b *barComparison) inScore(onset musicxml.Fraction) musicxml.Fraction {
	switch {
	case onset == b.got.length:
		return b.want.length
	case !b.disturbed:
		return onset
	}
	best, found := anchor{}, false
	for _, a := range b.anchors {
		if !onset.Less(a.got) && (!found || best.got.Less(a.got)) {
			best, found = a, true
		}
	}
	return best.want.Add(onset.Sub(best.got))
}

// closeBy is how far apart two marks may stand and still be at one place, in
// quarter notes: programs set words and dynamics a little before or after a note.
var closeBy = musicxml.NewFraction(1, 2)

// nearest finds the mark of the part that answers one of the score at the same
// place, the nearest of several; -1 for none.
func (b *barComparison) nearest(w *mark, taken []bool) int {
	best := -1
	var least musicxml.Fraction
	for k := range b.got.marks {
		g := &b.got.marks[k]
		if taken[k] || !sameMark(b.plain(w), b.plain(g)) {
			continue
		}
		away := b.inScore(g.onset).Sub(w.onset).Abs()
		if w.kind == Rehearsal {
			away = musicxml.Fraction{} // it stands at its bar
		}
		if (away.Sign() == 0 || isLoose(w) && away.Less(closeBy)) && (best < 0 || away.Less(least)) {
			best, least = k, away
		}
	}
	return best
}

// isLoose reports whether a mark stands near a moment rather than at it.
func isLoose(m *mark) bool {
	switch m.kind {
	case Dynamics, Text, Tempo, Chord:
		return true
	}
	return m.facet == "words"
}

func sameMark(a, b *mark) bool {
	if a.facet != b.facet {
		return false
	}
	if a.facet == "words" {
		return sameWords(a.key, b.key)
	}
	return a.says(b)
}

// comparePauses compares fermatas: two that overlap are one, for where one voice
// holds a note another may rest.
func (b *barComparison) comparePauses() {
	for i := range b.want.marks {
		if w := &b.want.marks[i]; w.facet == "fermata" && !pausesAt(b.got.marks, w, b.inScore) {
			b.loosen(w, place{b.step, w.onset}, true)
		}
	}
	for k := range b.got.marks {
		g := b.got.marks[k]
		if g.facet != "fermata" {
			continue
		}
		g.onset, g.end = b.inScore(g.onset), b.inScore(g.end)
		if !pausesAt(b.want.marks, &g, func(f musicxml.Fraction) musicxml.Fraction { return f }) {
			b.loosen(&b.got.marks[k], place{b.step, g.onset}, false)
		}
	}
}

func pausesAt(marks []mark, m *mark, when func(musicxml.Fraction) musicxml.Fraction) bool {
	return slices.ContainsFunc(marks, func(o mark) bool {
		if o.facet != "fermata" || o.key != m.key {
			return false
		}
		onset, end := when(o.onset), when(o.end)
		// A pause on the bar line has no length and touches what ends there.
		return onset == m.onset || !end.Less(m.end) && onset.Less(m.end) || !m.end.Less(end) && m.onset.Less(end)
	})
}
