package joining

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/desks"
)

// Way is the order in which the bars of a part are played, in stretches: repeats with their
// endings, then da capo or dal segno, without repeats and with the last endings, up to Fine
// or over to the coda (MusicXML 4.0, barline and sound; without repeats after a jump, unless
// they say so: repeat, after-jump). Jumps lead from the end of their bar to the beginning of another.
func Way(t *musicxml.Timeline) []desks.Stretch {
	w := way{bars: make([]wayBar, len(t.Measures))}
	for i := range t.Measures {
		w.read(i, &t.Measures[i])
	}
	w.closeEndings()
	return w.walk()
}

// wayBar is what leads on from a bar, or to it.
type wayBar struct {
	forward, backward, afterJump   bool
	times                          int // how often a passage is played that ends here
	passes                         []int
	lastEnding                     bool
	daCapo, dalSegno, fine, toCoda bool
	segno, coda                    bool
}

type way struct {
	bars   []wayBar
	ending []int // the numbers of the ending that is open
}

func (w *way) read(i int, m *musicxml.Measure) {
	bar := &w.bars[i]
	stops := false
	for k := range m.Events {
		e := m.Events[k].Element
		switch m.Events[k].Kind {
		case musicxml.Barline:
			stops = bar.barline(w, e) || stops
		case musicxml.Sound:
			bar.sound(e)
		case musicxml.Direction:
			bar.direction(e)
		}
	}
	bar.passes = w.ending
	if stops {
		w.ending = nil
	}
}

// barline reads repeats and endings, and reports whether an ending stops.
func (b *wayBar) barline(w *way, e *etree.Element) (stops bool) {
	if repeat := musicxml.Child(e, "repeat"); repeat != nil {
		if musicxml.Attr(repeat, "direction") == "forward" {
			b.forward = true
		} else {
			b.backward, b.times, b.afterJump = true, 2, musicxml.Attr(repeat, "after-jump") == "yes"
			if n, err := strconv.Atoi(musicxml.Attr(repeat, "times")); err == nil {
				b.times = min(max(n, 2), mostTimes)
			}
		}
	}
	b.segno = b.segno || musicxml.Child(e, "segno") != nil
	b.coda = b.coda || musicxml.Child(e, "coda") != nil
	ending := musicxml.Child(e, "ending")
	if ending == nil {
		return false
	}
	if musicxml.Attr(ending, "type") != "start" {
		return true
	}
	w.ending = nil
	for _, text := range strings.FieldsFunc(musicxml.Attr(ending, "number"), func(r rune) bool { return r == ',' || r == ' ' }) {
		if n, err := strconv.Atoi(text); err == nil && n > 0 && n <= mostTimes {
			w.ending = append(w.ending, n)
		}
	}
	return false
}

// mostTimes bounds how often a passage is played that the score repeats.
const mostTimes = 8

func (b *wayBar) sound(e *etree.Element) {
	b.daCapo = b.daCapo || musicxml.Attr(e, "dacapo") == "yes"
	b.dalSegno = b.dalSegno || musicxml.Attr(e, "dalsegno") != ""
	b.fine = b.fine || musicxml.Attr(e, "fine") != ""
	b.toCoda = b.toCoda || musicxml.Attr(e, "tocoda") != ""
	b.segno = b.segno || musicxml.Attr(e, "segno") != ""
	b.coda = b.coda || musicxml.Attr(e, "coda") != ""
}

func (b *wayBar) direction(e *etree.Element) {
	sound := musicxml.Child(e, "sound")
	if sound != nil {
		b.sound(sound)
	}
	for t := range musicxml.Each(e, "direction-type") {
		b.segno = b.segno || musicxml.Child(t, "segno") != nil
		// A coda sign at which playback goes over to the coda is not where that begins.
		b.coda = b.coda || musicxml.Child(t, "coda") != nil && (sound == nil || musicxml.Attr(sound, "tocoda") == "")
		for words := range musicxml.Each(t, "words") {
			b.words(musicxml.Text(words))
		}
	}
}

// words take the place of signs, as the table of words has it.
func (b *wayBar) words(text string) {
	for _, says := range lexicon.Of(text).Says {
		b.daCapo = b.daCapo || strings.HasPrefix(says, "da capo")
		b.dalSegno = b.dalSegno || strings.HasPrefix(says, "dal segno")
		b.fine = b.fine || says == "fine"
		b.toCoda = b.toCoda || says == "to coda"
	}
	b.coda = b.coda || slices.Equal(lexicon.Tokens(text), []string{"coda"})
}

// closeEndings finds which endings are the last of theirs, and how often a passage is
// played that ends in another.
func (w *way) closeEndings() {
	for i := range w.bars {
		b := &w.bars[i]
		if b.passes == nil {
			continue
		}
		end := i
		for end < len(w.bars) && slices.Equal(w.bars[end].passes, b.passes) {
			end++
		}
		b.lastEnding = end == len(w.bars) || w.bars[end].passes == nil
		if b.backward {
			b.times = slices.Max(b.passes)
			if !b.lastEnding {
				b.times++
			}
		}
	}
}

// walk plays the bars.
func (w *way) walk() []desks.Stretch {
	var stretches []desks.Stretch
	begins, pass, jumped := 0, 1, false
	for i := 0; i < len(w.bars); {
		b := &w.bars[i]
		if i != begins && (b.forward || b.passes == nil && i > 0 && w.bars[i-1].passes != nil) {
			begins, pass = i, 1
		}
		if b.passes != nil && (jumped && !b.lastEnding || !jumped && !slices.Contains(b.passes, pass)) {
			i++
			continue
		}
		if last := len(stretches) - 1; last >= 0 && stretches[last].To == i {
			stretches[last].To++
		} else {
			stretches = append(stretches, desks.Stretch{From: i, To: i + 1})
		}
		switch to := w.onFrom(i, jumped); {
		case b.backward && (!jumped || b.afterJump) && pass < b.times:
			pass++
			i = begins
		case to == len(w.bars):
			return stretches
		case to != i+1:
			jumped, begins, pass = true, to, 1
			i = to
		default:
			if b.backward && b.passes == nil {
				begins, pass = i+1, 1
			}
			i++
		}
	}
	return stretches
}

// onFrom is the bar after one that is not repeated.
func (w *way) onFrom(i int, jumped bool) int {
	b := &w.bars[i]
	switch {
	case jumped && b.fine:
		return len(w.bars)
	case jumped && b.toCoda:
		if k := slices.IndexFunc(w.bars[i+1:], func(b wayBar) bool { return b.coda }); k >= 0 {
			return i + 1 + k
		}
	case !jumped && b.dalSegno:
		for k := i; k >= 0; k-- {
			if w.bars[k].segno {
				return k
			}
		}
	case !jumped && b.daCapo:
		return 0
	}
	return i + 1
}
