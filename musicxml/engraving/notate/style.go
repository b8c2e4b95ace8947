package notate

import (
	"fmt"
	"slices"
	"strconv"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// styleSpan is a stretch of measures in which a sign stands for the notes.
type styleSpan struct {
	kind     string // "slash", "beat-repeat", "measure-repeat"
	staff    int    // index; −1 for all
	from, to engraving.Moment
	bars     int  // that a sign of repetition stands for
	stems    bool // slashes have the stems of the notes
	open     bool
}

// measureStyle reads a <measure-style>: a rest of several bars, slashes, signs of
// repetition.
func (m *measureReader) measureStyle(c *music.Change) {
	for _, e := range c.Element.ChildElements() {
		switch e.Tag {
		case "multiple-rest":
			if n := elementNumber(c.Element, "multiple-rest"); n > 1 {
				m.rests[m.bar] = n
			}
		case "slash", "beat-repeat", "measure-repeat":
			at := engraving.Moment{Bar: m.bar, Onset: c.Onset}
			if musicxml.Attr(e, "type") == "stop" {
				m.endStyle(e.Tag, c.Staff-1, at)
				continue
			}
			bars, err := strconv.Atoi(musicxml.Text(e))
			if err != nil || bars < 1 {
				bars = 1
			}
			m.styles = append(m.styles, styleSpan{kind: e.Tag, staff: c.Staff - 1, from: at, bars: bars,
				stems: musicxml.Attr(e, "use-stems") == "yes", open: true})
		}
	}
}

func (r *partReader) endStyle(kind string, staff int, at engraving.Moment) {
	for i := len(r.styles) - 1; i >= 0; i-- {
		if s := &r.styles[i]; s.open && s.kind == kind && s.staff == staff {
			s.to, s.open = at, false
			return
		}
	}
}

// applyStyles puts slashes and signs of repetition in the place of the notes.
func (r *partReader) applyStyles() {
	for _, style := range r.styles {
		if style.open {
			style.to = engraving.Moment{Bar: len(r.music.Bars)}
		}
		for s := range r.music.Staves {
			if style.staff >= 0 && s != r.staff(style.staff+1) {
				continue
			}
			for bar := style.from.Bar; bar <= style.to.Bar && bar < len(r.music.Bars); bar++ {
				r.applyStyle(style, s, bar)
			}
		}
	}
}

func (r *partReader) applyStyle(style styleSpan, staff, bar int) {
	measure := &r.music.Staves[staff].Measures[bar]
	switch style.kind {
	case "slash":
		if style.stems {
			slashHeads(measure, style, bar)
			return
		}
		r.slashes(style, staff, bar)
	case "beat-repeat":
		if r.repeatsBeats(style, staff, bar) {
			r.slashes(style, staff, bar)
		}
	case "measure-repeat":
		if (bar-style.from.Bar)%style.bars == 0 && r.repeatsBars(style, staff, bar) {
			for i := range style.bars {
				again := &r.music.Staves[staff].Measures[bar+i]
				hide(again, style, bar+i)
				silence(again)
			}
			r.music.Staves[staff].Measures[bar+style.bars-1].Repeat = style.bars
		}
	}
}

// repeatsBars reports whether the bars from one on are all in the stretch and say nothing
// that the bars before them have not said. Other notes are drawn: no sign stands for them.
func (r *partReader) repeatsBars(style styleSpan, staff, bar int) bool {
	end := style.to.Bar
	if style.to.Onset.Sign() > 0 {
		end++
	}
	if bar+style.bars > min(end, len(r.music.Bars)) {
		return false
	}
	for i := bar; i < bar+style.bars; i++ {
		if !r.saysAgain(staff, i, i-style.bars, musicxml.Fraction{}, musicxml.Fraction{}, r.music.Bars[i].Length) {
			return false
		}
	}
	return true
}

// repeatsBeats is repeatsBars for the beats of a bar.
func (r *partReader) repeatsBeats(style styleSpan, staff, bar int) bool {
	beat := r.beat(bar)
	for at := (musicxml.Fraction{}); at.Less(r.music.Bars[bar].Length); at = at.Add(beat) {
		before, from := bar, at.Sub(beat)
		if at.Sign() == 0 {
			before--
			from = r.music.Bars[max(before, 0)].Length.Sub(beat)
		}
		if style.within(bar, &engraving.Event{Onset: at}) && !r.saysAgain(staff, bar, before, at, from, beat) {
			return false
		}
	}
	return true
}

// saysAgain reports whether a stretch of a bar, from at on, has the notes of one of another
// bar, from from on, or shows none.
func (r *partReader) saysAgain(staff, bar, other int, at, from, length musicxml.Fraction) bool {
	notes, seen := r.notesIn(staff, bar, at, length)
	if !seen {
		return true
	}
	before, _ := r.notesIn(staff, other, from, length)
	return slices.Equal(notes, before)
}

// notesIn are the notes of a stretch of a bar, each as a text that says its time from there,
// its pitch and what is sung, and whether any is to be seen.
func (r *partReader) notesIn(staff, bar int, from, length musicxml.Fraction) (notes []string, seen bool) {
	if bar < 0 {
		return nil, false
	}
	for e := range r.music.Staves[staff].Measures[bar].Events() {
		if e.Onset.Less(from) || !e.Onset.Less(from.Add(length)) {
			continue
		}
		for _, n := range e.Notes {
			seen = seen || !e.Hidden
			notes = append(notes, fmt.Sprint(e.Onset.Sub(from), e.Duration, n.Step, n.Octave+n.OctaveLine, n.Alter, e.Lyrics))
		}
	}
	slices.Sort(notes)
	return notes, seen
}

// within reports whether an event is in the stretch.
func (s styleSpan) within(bar int, e *engraving.Event) bool {
	at := engraving.Moment{Bar: bar, Onset: e.Onset}
	return !before(at, s.from) && before(at, s.to)
}

// hide hides the events of the stretch, which still take their time.
func hide(measure *engraving.Measure, style styleSpan, bar int) {
	for e := range measure.Events() {
		e.Hidden = e.Hidden || style.within(bar, e)
	}
}

// silence takes away what stands at hidden events: it is in the bar that is played
// again.
func silence(measure *engraving.Measure) {
	for e := range measure.Events() {
		if e.Hidden {
			e.Articulations, e.Lyrics, e.Slurs, e.Slides, e.Tuplets = nil, nil, nil, nil, nil
		}
	}
}

// slashHeads gives the notes of the stretch slashes for heads, on the middle line.
func slashHeads(measure *engraving.Measure, style styleSpan, bar int) {
	for e := range measure.Events() {
		if e.IsRest() || !style.within(bar, e) {
			continue
		}
		e.Notes = e.Notes[:1]
		e.Notes[0].Head, e.Notes[0].Accidental, e.Notes[0].Middle = engraving.HeadSlash, nil, true
	}
}

// slashes hides the notes of the stretch and adds a voice of slashes, one a beat, or
// of signs for a repeated beat.
func (r *partReader) slashes(style styleSpan, staff, bar int) {
	measure := &r.music.Staves[staff].Measures[bar]
	hide(measure, style, bar)
	if style.kind == "beat-repeat" {
		silence(measure)
	}
	beat := r.beat(bar)
	var slashes engraving.Voice
	for at := (musicxml.Fraction{}); at.Less(r.music.Bars[bar].Length) && len(slashes.Events) < 64; at = at.Add(beat) {
		value, dots := valueOf(beat, engraving.Ratio{})
		e := engraving.Event{Onset: at, Duration: beat, Value: value, Dots: dots, Stem: engraving.StemNone, Notes: []engraving.Note{{Head: engraving.HeadSlash, Middle: true}}}
		if style.kind == "beat-repeat" {
			e.Notes[0].Head = engraving.HeadBeatRepeat
		}
		if style.within(bar, &e) {
			slashes.Events = append(slashes.Events, e)
		}
	}
	if len(slashes.Events) > 0 {
		measure.Voices = append(measure.Voices, slashes)
	}
}

// beat is the length of a beat of a bar in quarter notes.
func (r *partReader) beat(bar int) musicxml.Fraction {
	m := &r.part.Measures[bar]
	beat, _ := engraving.Time{Beats: m.Beats, BeatType: m.BeatType}.Beat()
	return beat
}
