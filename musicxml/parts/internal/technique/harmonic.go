package technique

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// SoundHarmonics writes the harmonics of strings as they sound, in a part that goes to an
// instrument without strings: the note that is heard, with an ordinary head, in place of
// those that are stopped and touched. What cannot be told is said.
func SoundHarmonics(d *draft.Draft) error {
	to := d.Assignment.Instrument
	if !d.OtherInstrument() || to.Flags.Bowed || to.Flags.Plucked {
		return nil
	}
	for i := range d.Timeline.Measures {
		m := &d.Timeline.Measures[i]
		for from := 0; from < len(m.Events); {
			upTo := chordEnd(m.Events, from)
			if m.Events[from].Kind == musicxml.Note {
				if err := soundHarmonic(d, m, m.Events[from:upTo]); err != nil {
					return err
				}
			}
			from = upTo
		}
	}
	return nil
}

// chordEnd is where the chord that begins at an event ends.
func chordEnd(events []musicxml.Event, from int) int {
	upTo := from + 1
	for events[from].Kind == musicxml.Note && upTo < len(events) && events[upTo].Kind == musicxml.Note && events[upTo].Chord {
		upTo++
	}
	return upTo
}

// soundHarmonic writes the harmonic of one chord.
func soundHarmonic(d *draft.Draft, m *musicxml.Measure, events []musicxml.Event) error {
	chord := make([]music.HarmonicNote, len(events))
	for i := range events {
		if chord[i].Role = music.RoleOf(events[i].Element); chord[i].Role == music.NoHarmonic {
			continue
		}
		p, pitched, err := music.PitchOf(events[i].Element)
		switch {
		case err != nil:
			return err
		case !pitched:
			chord[i].Role = music.NoHarmonic
		}
		chord[i].Pitch = p
	}
	h, ok := music.HarmonicOf(chord)
	switch {
	case !ok:
		undecided(d, m, events, chord)
		return nil
	case !h.Known:
		warnHarmonic(d, m, events[0].Onset)
		return nil
	}
	d.Rewritten()
	for _, i := range h.Notes {
		if i != h.Keep {
			m.Element.RemoveChild(events[i].Element)
		}
	}
	note := events[h.Keep].Element
	if err := music.WritePitch(musicxml.Child(note, "pitch"), h.Heard); err != nil {
		return err
	}
	musicxml.RemoveChildren(note, "notehead", "accidental")
	return nil
}

// undecided tells of a harmonic that says neither where the string is touched nor what
// sounds, under a diamond, which is where it is touched.
func undecided(d *draft.Draft, m *musicxml.Measure, events []musicxml.Event, chord []music.HarmonicNote) {
	for i := range chord {
		if chord[i].Role == music.RoleUnsaid && isDiamond(events[i].Element) {
			warnHarmonic(d, m, events[i].Onset)
			return
		}
	}
}

func isDiamond(note *etree.Element) bool { return musicxml.ChildText(note, "notehead") == "diamond" }

func warnHarmonic(d *draft.Draft, m *musicxml.Measure, at musicxml.Fraction) {
	d.Warn(musicxml.Warning{Code: notice.Unplayable, Measure: m.Number, Beat: m.Beat(at),
		Text: "a harmonic of which the score does not say what it sounds; the notes were left as they are written"})
}
