package condense

import (
	"fmt"
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// kind is how players share a bar.
type kind uint8

const (
	silent kind = iota // nobody plays
	unison             // all play the same
	chords             // the rhythm is the same, each player below the one before
	voices             // a voice for each
	alone              // one plays; alone+1 is the second player
)

// kindsOf says how the players share each bar. Bars that a slur or tie joins are shared
// alike: where they cannot be, every player has a voice, as where one alone has a mark.
func kindsOf(all []*musicxml.Timeline, marks [][][]mark) []kind {
	kinds := make([]kind, len(all[0].Measures))
	for i := range kinds {
		bars := make([]*musicxml.Measure, len(all))
		for k, t := range all {
			bars[k] = &t.Measures[i]
		}
		kinds[i] = kindOf(bars)
		if k := kinds[i]; k != silent && slices.ContainsFunc(others(k, len(all)), func(player int) bool { return hasOwn(marks, player, i) }) {
			kinds[i] = voices
		}
	}
	joined := make([]bool, len(kinds)) // with the bar before
	for _, t := range all {
		for i, over := range barsJoined(t) {
			joined[i] = joined[i] || over
		}
	}
	for from := 0; from < len(kinds); {
		to := from + 1
		for to < len(kinds) && joined[to] {
			to++
		}
		if slices.ContainsFunc(kinds[from:to], func(k kind) bool { return k != kinds[from] }) {
			for i := from; i < to; i++ {
				kinds[i] = voices
			}
		}
		from = to
	}
	return kinds
}

// others are the players but for one who plays alone.
func others(k kind, players int) []int {
	var list []int
	for player := range players {
		if k != alone+kind(player) {
			list = append(list, player)
		}
	}
	return list
}

// barsJoined tells of each bar whether a slur, tie, tuplet or other line leads into it.
func barsJoined(t *musicxml.Timeline) []bool {
	joined := make([]bool, len(t.Measures))
	open := map[string]int{}
	for i := range t.Measures {
		for _, n := range open {
			joined[i] = joined[i] || n > 0
		}
		for ev := range t.Measures[i].Each(musicxml.Note) {
			ties := music.ReadTies(ev.Element)
			joined[i] = joined[i] || ties.Stop()
			for _, notations := range musicxml.Children(ev.Element, "notations") {
				countLines(notations, open)
			}
		}
	}
	return joined
}

func countLines(e *etree.Element, open map[string]int) {
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "slur", "glissando", "slide", "wavy-line", "tuplet":
			key := c.Tag + musicxml.Attr(c, "number")
			switch musicxml.Attr(c, "type") {
			case "start":
				open[key]++
			case "stop":
				open[key] = max(0, open[key]-1)
			}
		}
		countLines(c, open)
	}
}

func kindOf(bars []*musicxml.Measure) kind {
	var playing []int
	for k, m := range bars {
		if sounds(m) {
			playing = append(playing, k)
		}
	}
	switch {
	case len(playing) == 0:
		return silent
	case len(playing) == 1:
		return alone + kind(playing[0])
	case len(playing) < len(bars) || slices.ContainsFunc(bars, slursTwice):
		return voices
	case agree(bars, true):
		return unison
	case agree(bars, false) && inOrder(bars):
		return chords
	}
	return voices
}

func sounds(m *musicxml.Measure) bool {
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool { return ev.Kind == musicxml.Note && !ev.Rest && !ev.Cue })
}

// slursTwice reports whether two slurs begin at a note, or end: on a staff for several they
// would be two players'.
func slursTwice(m *musicxml.Measure) bool {
	return slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool {
		ends := map[string]int{}
		for _, slur := range musicxml.Along(ev.Element, "notations", "slur") {
			ends[musicxml.Attr(slur, "type")]++
		}
		return ends["start"] > 1 || ends["stop"] > 1
	})
}

// agree reports whether all players have the same rhythm and marks, and pitches where
// asked.
func agree(bars []*musicxml.Measure, pitches bool) bool {
	first := textOf(bars[0], pitches)
	return !slices.ContainsFunc(bars[1:], func(m *musicxml.Measure) bool { return textOf(m, pitches) != first })
}

// heard are the children of a note that say what sounds. They are compared, not read.
var heard = map[string]bool{"pitch": true, "unpitched": true, "tie": true}

func textOf(m *musicxml.Measure, pitches bool) string {
	var b strings.Builder
	for ev := range m.Each(musicxml.Note) {
		fmt.Fprintf(&b, "|%s %s %v %v", ev.Onset, ev.Duration, ev.Rest, ev.Grace)
		for _, c := range ev.Element.ChildElements() {
			switch c.Tag {
			case "type", "time-modification", "beam", "lyric", "cue": // dots follow from the length
				b.WriteString(musicxml.Content(c) + musicxml.Attr(c, "number"))
			case "notations":
				writeMarks(&b, c, pitches)
			default:
				if pitches && heard[c.Tag] {
					b.WriteString(musicxml.Content(c) + musicxml.Attr(c, "type"))
				}
			}
		}
	}
	return b.String()
}

// writeMarks names marks and the ends of lines, ties only where pitches count.
func writeMarks(b *strings.Builder, e *etree.Element, ties bool) {
	for _, c := range e.ChildElements() {
		if c.Tag == "tied" && !ties {
			continue
		}
		b.WriteString(c.Tag + musicxml.Attr(c, "type") + musicxml.Text(c))
		writeMarks(b, c, ties)
	}
}

// inOrder reports whether each player's notes lie above the next player's, none of them
// grace notes. All have the same rhythm.
func inOrder(bars []*musicxml.Measure) bool {
	lines := make([][]int, len(bars))
	for i, m := range bars {
		for ev := range m.Each(musicxml.Note) {
			if ev.Rest {
				continue
			}
			n, err := music.ReadNote(ev)
			if err != nil || !n.Pitched() || ev.Grace || ev.Chord {
				return false
			}
			lines[i] = append(lines[i], n.Pitch.Place())
		}
	}
	for i := 1; i < len(lines); i++ {
		for k := range lines[i] {
			if lines[i][k] >= lines[i-1][k] {
				return false
			}
		}
	}
	return true
}
