package sharing

import (
	"fmt"
	"slices"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
)

// KeepOneLine leaves of a part that goes to another instrument what that
// instrument can play: one staff where it reads one, one note at a time where it
// sounds one at a time. The line that stays is the upper voice and the upper note
// of each chord, where the melody is; what goes is said bar by bar. A staff that
// several players share keeps all that is theirs.
// It reports whether anything was taken out.
func KeepOneLine(d *draft.Draft, lexicon *divisi.Lexicon) (reduced bool, err error) {
	s := &divider{d, lexicon}
	to := s.Assignment.Instrument
	if !s.OtherInstrument() || to.Staves > 1 || s.Assignment.Player == 0 && s.Assignment.Shared {
		return false, nil
	}
	staves, many := s.texture()
	if staves < 2 && (!many || !to.OneLine) {
		return false, nil
	}
	before := s.noteList()
	players := staves
	if to.OneLine {
		s.promoteLoneVoices()
		if err := s.Settle(); err != nil {
			return false, err
		}
		players = divisi.MaxPlayers
	}
	o := divisi.Options{Lexicon: lexicon}
	for n := 1; n <= players; n++ {
		o.Players = append(o.Players, divisi.Player{Number: n})
	}
	taken, err := divisi.Divide(s.Timeline, o)
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
		for k := range s.Timeline.Measures[i].Events {
			ev := &s.Timeline.Measures[i].Events[k]
			if ev.Kind != musicxml.Note {
				continue
			}
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

// promoteLoneVoices gives the music of a bar to the upper voice of its staff where
// a lower one plays alone there: it is the melody then.
func (s *divider) promoteLoneVoices() {
	upper := map[int]string{}
	for i := range s.Timeline.Measures {
		for voice, staff := range s.soundingVoices(i) {
			if first, ok := upper[staff]; !ok || voiceBefore(voice, first) {
				upper[staff] = voice
			}
		}
	}
	for i := range s.Timeline.Measures {
		alone := map[int][]string{}
		for voice, staff := range s.soundingVoices(i) {
			alone[staff] = append(alone[staff], voice)
		}
		for staff, voices := range alone {
			if len(voices) == 1 && voices[0] != upper[staff] {
				s.swapVoices(i, staff, voices[0], upper[staff])
			}
		}
	}
}

// soundingVoices lists the voices that play in a measure, with their staff.
func (s *divider) soundingVoices(measure int) map[string]int {
	voices := map[string]int{}
	for k := range s.Timeline.Measures[measure].Events {
		if ev := &s.Timeline.Measures[measure].Events[k]; ev.Kind == musicxml.Note && !ev.Rest {
			voices[ev.Voice] = ev.Staff
		}
	}
	return voices
}

// voiceBefore orders voices as musicians number them.
func voiceBefore(a, b string) bool {
	return len(a) < len(b) || len(a) == len(b) && a < b
}

func (s *divider) swapVoices(measure, staff int, a, b string) {
	s.Rewritten()
	for k := range s.Timeline.Measures[measure].Events {
		ev := &s.Timeline.Measures[measure].Events[k]
		if ev.Kind != musicxml.Note || ev.Staff != staff {
			continue
		}
		switch ev.Voice {
		case a:
			musicxml.SetChildText(ev.Element, "voice", b)
		case b:
			musicxml.SetChildText(ev.Element, "voice", a)
		}
	}
}

// listedNote is a note of the part by its place and what is written.
type listedNote struct {
	musicxml.Position
	pitch string
}

// noteList lists what the part plays, cue notes left out. A tied note goes on and
// is not played anew.
func (s *divider) noteList() []listedNote {
	var list []listedNote
	for i := range s.Timeline.Measures {
		for k := range s.Timeline.Measures[i].Events {
			ev := &s.Timeline.Measures[i].Events[k]
			if ev.Kind != musicxml.Note || ev.Rest || ev.Cue {
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
			list = append(list, listedNote{musicxml.Position{Measure: i, Onset: ev.Onset}, pitch})
		}
	}
	return list
}

// mostNamed is how many notes of a bar are named when they are left out.
const mostNamed = 6

// reportLeftOut says bar by bar which notes went.
func (s *divider) reportLeftOut(before []listedNote) {
	kept := map[listedNote]int{}
	for _, n := range s.noteList() {
		kept[n]++
	}
	var bar []listedNote
	for i, n := range before {
		if kept[n] > 0 {
			kept[n]--
		} else {
			bar = append(bar, n)
		}
		if len(bar) > 0 && (i+1 == len(before) || before[i+1].Measure != n.Measure) {
			s.warnLeftOut(bar)
			bar = bar[:0]
		}
	}
}

func (s *divider) warnLeftOut(bar []listedNote) {
	slices.SortStableFunc(bar, func(a, b listedNote) int { return a.Compare(b.Position) })
	m := &s.Timeline.Measures[bar[0].Measure]
	what := fmt.Sprintf("%d notes", len(bar))
	if len(bar) <= mostNamed {
		var names []string
		for _, n := range bar {
			names = append(names, n.pitch)
		}
		what = strings.Join(names, ", ")
	}
	s.Warn(musicxml.Warning{Code: "left-out", Measure: m.Number, Beat: m.Beat(bar[0].Onset),
		Text: fmt.Sprintf("left out %s, as written in the score: %s plays the upper line", what, s.Assignment.Instrument.Label("en", ""))})
}
