package sharing

import (
	"fmt"
	"slices"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
)

// KeepOneLine leaves of a part that goes to another instrument what that
// instrument can play: one staff where it reads one, one note at a time where it
// sounds one at a time. The line that stays is the upper voice and the upper note
// of each chord, where the melody is, and where that rests the next voice; what goes
// is said bar by bar. A staff that several players share keeps all that is theirs.
// It reports whether anything was taken out.
func KeepOneLine(d *draft.Draft) (reduced bool, err error) {
	s := &divider{d}
	to := s.Assignment.Instrument
	if !s.OtherInstrument() || to.Staves > 1 || s.Assignment.Player == 0 && s.Assignment.Shared {
		return false, nil
	}
	staves, many := s.texture()
	if staves < 2 && (!many || !to.OneLine) {
		return false, nil
	}
	before := s.noteList()
	taken, err := divisi.Reduce(s.Timeline, to.OneLine)
	if err != nil {
		return false, err
	}
	s.StandOn(taken.Staff)
	s.Rewritten()
	if err := s.Settle(); err != nil {
		return false, err
	}
	s.reportLeftOut(before)
	return true, nil
}

// texture tells how many staves a part is on, and whether more than one note ever
// sounds at once on one of them.
func (s *divider) texture() (staves int, many bool) {
	for i := range s.Timeline.Measures {
		voices := map[int]string{}
		for ev := range s.Timeline.Measures[i].Each(musicxml.Note) {
			staves = max(staves, ev.Staff)
			if ev.Rest {
				continue
			}
			voice, seen := voices[ev.Staff]
			many = many || ev.Chord || seen && voice != ev.Voice
			voices[ev.Staff] = ev.Voice
		}
	}
	return staves, many
}

// listedNote is a note of the part by its place and what is written.
type listedNote struct {
	musicxml.Position
	pitch string
	end   musicxml.Fraction // in the bar
}

// noteList lists what the part plays in the order of time, cue notes left out. A tied
// note goes on and is not played anew.
func (s *divider) noteList() []listedNote {
	var list []listedNote
	for i, ev := range s.Timeline.Each(musicxml.Note) {
		if ev.Rest || ev.Cue {
			continue
		}
		n, err := music.ReadNote(ev)
		if err != nil || n.Ties.Stop() {
			continue // a faulty part is refused when it is moved
		}
		pitch := "a stroke"
		if n.Pitched() {
			pitch = n.Pitch.String()
		}
		list = append(list, listedNote{musicxml.Position{Measure: i, Onset: ev.Onset}, pitch, ev.Onset.Add(ev.Duration)})
	}
	slices.SortStableFunc(list, func(a, b listedNote) int { return a.Compare(b.Position) })
	return list
}

// mostNamed is how many notes of a bar are named when they are left out.
const mostNamed = 6

// reportLeftOut says bar by bar which notes went.
func (s *divider) reportLeftOut(before []listedNote) {
	after := s.noteList()
	var bar []listedNote
	for i, n := range before {
		if !stays(n, after) {
			bar = append(bar, n)
		}
		if len(bar) > 0 && (i+1 == len(before) || before[i+1].Measure != n.Measure) {
			s.warnLeftOut(bar)
			bar = bar[:0]
		}
	}
}

// stays reports whether the line has a note, or has it from its middle on: it began under
// another that it now follows.
func stays(n listedNote, after []listedNote) bool {
	from, _ := slices.BinarySearchFunc(after, n.Position, func(m listedNote, at musicxml.Position) int { return m.Compare(at) })
	for _, m := range after[from:] {
		if m.Position != n.Position && (m.Measure != n.Measure || !m.Onset.Less(n.end)) {
			return false
		}
		if m.pitch == n.pitch {
			return true
		}
	}
	return false
}

func (s *divider) warnLeftOut(bar []listedNote) {
	what := fmt.Sprintf("%d notes", len(bar))
	if len(bar) <= mostNamed {
		var names []string
		for _, n := range bar {
			names = append(names, n.pitch)
		}
		what = strings.Join(names, ", ")
	}
	s.WarnAt(bar[0].Position, notice.LeftOut, "left out %s, as written in the score: %s plays the upper line", what, s.Assignment.Instrument.Label("en", ""))
}
