package divided

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// voice is what one voice has in a bar.
type voice struct {
	name   string
	notes  []sounding
	filled musicxml.Fraction // how far its notes and rests reach without a gap
	gap    bool
}

// sounding is a note or chord of a voice, with its outermost pitches in semitones.
type sounding struct {
	from, to  musicxml.Fraction
	low, high int
}

// isDivided reports whether a part may be for players who divide: bowed strings of an
// ensemble with winds, or of which the score says so. Who plays alone plays double stops.
func isDivided(d *draft.Draft) bool {
	a := &d.Assignment
	in := a.Instrument
	if in == nil || in.Group != instruments.Strings || !in.Flags.Bowed || a.Player > 0 || a.Desk != "" || a.OneStaff != "" ||
		d.OtherInstrument() || d.Survey.Staves > 1 {
		return false
	}
	if strings.Contains(strings.ToLower(a.Name), "solo") {
		return false
	}
	for i := range d.Score.Parts {
		if other := d.Score.Parts[i].Match.Instrument; other != nil && other.IsWind() {
			return true
		}
	}
	for i := range d.Timeline.Measures {
		if says(&d.Timeline.Measures[i], dividing) {
			return true
		}
	}
	return false
}

// passages finds what cannot be read on one staff, as bars: first and last, included.
func passages(t *musicxml.Timeline) []draft.Bars {
	var found []draft.Bars
	repeats := draft.RepeatedBars(t)
	for i := 0; i < len(t.Measures); {
		k, unreadable := i, false
		for ; k < len(t.Measures) && !repeats[k]; k++ {
			voices := complete(&t.Measures[k])
			if len(voices) < 2 {
				break
			}
			unreadable = unreadable || cannotBeRead(&t.Measures[k], voices)
		}
		if unreadable {
			found = append(found, draft.Bars{First: i, Last: k - 1})
		}
		i = max(k, i+1)
	}
	return found
}

// complete are the voices of a bar, from the uppermost, nil where one of them has gaps or
// fewer than two have notes.
func complete(m *musicxml.Measure) []*voice {
	var voices []*voice
	sounds := 0
	for ev := range m.Each(musicxml.Note) {
		if ev.Grace {
			continue
		}
		if ev.Cue || ev.Staff > 1 {
			return nil
		}
		at := slices.IndexFunc(voices, func(v *voice) bool { return v.name == ev.Voice })
		if at < 0 {
			at = len(voices)
			voices = append(voices, &voice{name: ev.Voice})
		}
		voices[at].take(ev)
	}
	for _, v := range voices {
		if v.gap || v.filled != m.Length {
			return nil
		}
		if len(v.notes) > 0 {
			sounds++
		}
	}
	if sounds < 2 {
		return nil
	}
	return voices
}

func (v *voice) take(ev *musicxml.Event) {
	height, pitched := heightOf(ev.Element)
	if ev.Chord {
		if n := len(v.notes); n > 0 && pitched {
			v.notes[n-1].low, v.notes[n-1].high = min(v.notes[n-1].low, height), max(v.notes[n-1].high, height)
		}
		return
	}
	v.gap = v.gap || ev.Onset != v.filled
	v.filled = ev.Onset.Add(ev.Duration)
	if pitched && !ev.Rest {
		v.notes = append(v.notes, sounding{ev.Onset, v.filled, height, height})
	}
}

// heightOf is a note's pitch in semitones as it is written.
func heightOf(note *etree.Element) (semitones int, pitched bool) {
	p, pitched, err := music.PitchOf(note)
	if err != nil || !pitched {
		return 0, false
	}
	n, _ := p.MIDI().Whole()
	return n, true
}

// cannotBeRead reports whether a bar is not to be read on one staff.
func cannotBeRead(m *musicxml.Measure, voices []*voice) bool {
	for i, upper := range voices {
		for _, lower := range voices[i+1:] {
			if cross(upper, lower) {
				return true
			}
		}
	}
	return len(voices) > 2 && unlike(voices) || severalSay(m)
}

// cross reports whether the upper voice goes below the lower.
func cross(upper, lower *voice) bool {
	for _, a := range upper.notes {
		for _, b := range lower.notes {
			if a.from.Less(b.to) && b.from.Less(a.to) && a.low < b.high {
				return true
			}
		}
	}
	return false
}

// unlike reports whether voices differ in rhythm.
func unlike(voices []*voice) bool {
	for _, v := range voices[1:] {
		if len(v.notes) != len(voices[0].notes) {
			return true
		}
		for i := range v.notes {
			if v.notes[i].from != voices[0].notes[i].from || v.notes[i].to != voices[0].notes[i].to {
				return true
			}
		}
	}
	return false
}

// severalSay reports whether dynamics stand at more than one voice.
func severalSay(m *musicxml.Measure) bool {
	named := ""
	for ev := range m.Each(musicxml.Direction) {
		if musicxml.Descend(ev.Element, "direction-type", "dynamics") == nil {
			continue
		}
		switch name := musicxml.ChildText(ev.Element, "voice"); {
		case name == "":
		case named == "":
			named = name
		case name != named:
			return true
		}
	}
	return false
}

// What words say, as the table of words has it.
var (
	dividing = []string{"divided"}
	uniting  = []string{"unison", "together", "several players"}
)

// says reports whether a bar has words that mean that players divide or come together.
func says(m *musicxml.Measure, meanings []string) bool {
	for ev := range m.Each(musicxml.Direction) {
		for _, words := range draft.WordsIn(ev.Element) {
			if slices.ContainsFunc(lexicon.Of(musicxml.Text(words)).Says, func(said string) bool { return slices.Contains(meanings, said) }) {
				return true
			}
		}
	}
	return false
}
