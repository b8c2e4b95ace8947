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

// Way is the order in which a part is played, in stretches: repeats with their
// endings, then da capo or dal segno, without repeats and with the last endings, up to Fine
// or over to the coda (MusicXML 4.0, barline and sound; without repeats after a jump, unless
// they say so: repeat, after-jump). Jumps lead from the end of their bar to the beginning of
// another; but a <sound> inside a bar that is the end ("follows the final note or rest") or
// leads to the coda counts where it stands, and so do the signs that are led to. Words alone
// stand where there was room, and count at the end of their bar. A sign at the end of a bar
// is the next bar's.
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
	// Inside the bar, 0 for its end or its beginning: where fine and toCoda lead on, where
	// segno and coda are led to.
	fineAt, toCodaAt, segnoAt, codaAt musicxml.Fraction
}

type way struct {
	bars   []wayBar
	ending []int // the numbers of the ending that is open
}

func (w *way) read(i int, m *musicxml.Measure) {
	bar := &w.bars[i]
	stops := false
	for k := range m.Events {
		e, at, to := m.Events[k].Element, within(m, musicxml.Position{Measure: i, Onset: m.Events[k].Onset}), bar
		if !at.Less(m.Length) {
			at = musicxml.Fraction{}
			to = &w.bars[min(i+1, len(w.bars)-1)] // a sign behind the last note is the next bar's
		}
		switch m.Events[k].Kind {
		case musicxml.Barline:
			stops = bar.barline(w, e, to) || stops
		case musicxml.Sound:
			bar.sound(e, at, to)
		case musicxml.Direction:
			bar.direction(e, at, to)
		}
	}
	bar.passes = w.ending
	if stops {
		w.ending = nil
	}
}

// barline reads repeats and endings, and signs for the bar to; it reports whether an ending
// stops.
func (b *wayBar) barline(w *way, e *etree.Element, to *wayBar) (stops bool) {
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
	to.segno = to.segno || musicxml.Child(e, "segno") != nil
	to.coda = to.coda || musicxml.Child(e, "coda") != nil
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

// sound reads what leads on from the bar, and what the bar to is led to by.
func (b *wayBar) sound(e *etree.Element, at musicxml.Fraction, to *wayBar) {
	b.daCapo = b.daCapo || musicxml.Attr(e, "dacapo") == "yes"
	b.dalSegno = b.dalSegno || musicxml.Attr(e, "dalsegno") != ""
	if musicxml.Attr(e, "fine") != "" {
		b.fine, b.fineAt = true, at
	}
	if musicxml.Attr(e, "tocoda") != "" {
		b.toCoda, b.toCodaAt = true, at
	}
	if musicxml.Attr(e, "segno") != "" {
		to.segno, to.segnoAt = true, at
	}
	if musicxml.Attr(e, "coda") != "" {
		to.coda, to.codaAt = true, at
	}
}

// direction reads what leads on from the bar, and what the bar to is led to by.
func (b *wayBar) direction(e *etree.Element, at musicxml.Fraction, to *wayBar) {
	sound := musicxml.Child(e, "sound")
	for t := range musicxml.Each(e, "direction-type") {
		if musicxml.Child(t, "segno") != nil {
			to.segno, to.segnoAt = true, at
		}
		// A coda sign at which playback goes over to the coda is not where that begins.
		if musicxml.Child(t, "coda") != nil && (sound == nil || musicxml.Attr(sound, "tocoda") == "") {
			to.coda, to.codaAt = true, at
		}
		for words := range musicxml.Each(t, "words") {
			b.words(musicxml.Text(words))
		}
	}
	if sound != nil {
		b.sound(sound, at, to)
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
	var in musicxml.Fraction // where in the bar it is entered
	for i := 0; i < len(w.bars); {
		b := &w.bars[i]
		if i != begins && (b.forward || b.passes == nil && i > 0 && w.bars[i-1].passes != nil) {
			begins, pass = i, 1
		}
		if b.passes != nil && (jumped && !b.lastEnding || !jumped && !slices.Contains(b.passes, pass)) {
			i++
			continue
		}
		until, to := w.onFrom(i, in, jumped)
		stretches = played(stretches, desks.Stretch{From: musicxml.Position{Measure: i, Onset: in}, To: until})
		in = musicxml.Fraction{}
		switch {
		case until.Measure > i && b.backward && (!jumped || b.afterJump) && pass < b.times:
			pass++
			i = begins
		case to.Measure == len(w.bars):
			return stretches
		case to.Measure != i+1 || to.Onset.Sign() > 0:
			jumped, begins, pass = true, to.Measure, 1
			i, in = to.Measure, to.Onset
		default:
			if b.backward && b.passes == nil {
				begins, pass = i+1, 1
			}
			i++
		}
	}
	return stretches
}

// played goes on with the last stretch or adds one.
func played(stretches []desks.Stretch, bar desks.Stretch) []desks.Stretch {
	if last := len(stretches) - 1; last >= 0 && stretches[last].To == bar.From {
		stretches[last].To = bar.To
		return stretches
	}
	return append(stretches, bar)
}

// onFrom is where a bar that was entered at a place of it is left, and where the music goes
// on, if it is not repeated.
func (w *way) onFrom(i int, in musicxml.Fraction, jumped bool) (until, to musicxml.Position) {
	b, next := &w.bars[i], musicxml.Position{Measure: i + 1}
	leave := func(at musicxml.Fraction) musicxml.Position {
		if in.Less(at) {
			return musicxml.Position{Measure: i, Onset: at}
		}
		return next
	}
	switch {
	case jumped && b.fine:
		return leave(b.fineAt), musicxml.Position{Measure: len(w.bars)}
	case jumped && b.toCoda:
		if k := slices.IndexFunc(w.bars[i+1:], func(b wayBar) bool { return b.coda }); k >= 0 {
			return leave(b.toCodaAt), musicxml.Position{Measure: i + 1 + k, Onset: w.bars[i+1+k].codaAt}
		}
	case !jumped && b.dalSegno:
		for k := i; k >= 0; k-- {
			if w.bars[k].segno {
				return next, musicxml.Position{Measure: k, Onset: w.bars[k].segnoAt}
			}
		}
	case !jumped && b.daCapo:
		return next, musicxml.Position{}
	}
	return next, next
}
