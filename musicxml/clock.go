package musicxml

import (
	"errors"
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml/notice"
)

// timing is what carries over from bar to bar but the time itself.
type timing struct {
	divisions       Fraction // in one quarter note
	beats, beatType string
}

// clock keeps what carries over from bar to bar.
type clock struct {
	timing
	start Fraction // of the current measure
	// lengths are durations read before, in quarter notes, by their number: a part
	// has few that differ, and working one out costs a greatest common divisor.
	lengths [512]Fraction
}

// unread marks a length that was not worked out yet.
var unread = invalidFraction

func (c *clock) reset() {
	c.start = Fraction{}
	c.take(timing{divisions: NewFraction(1, 1)})
}

// take goes on with another timing.
func (c *clock) take(t timing) {
	if t.divisions != c.divisions {
		for i := range c.lengths {
			c.lengths[i] = unread
		}
	}
	c.timing = t
}

// measure appends the events of one measure to all and returns it.
func (c *clock) measure(m *Measure, all []Event) ([]Event, error) {
	var now, reach, chordOnset Fraction
	m.Beats, m.BeatType = c.beats, c.beatType
	for _, token := range m.Element.Child {
		element, ok := token.(*etree.Element)
		if !ok || element.Space != "" {
			continue
		}
		ev := Event{Element: element, Kind: kindOf(element.Tag), Onset: now}
		switch ev.Kind {
		case Note:
			if err := c.note(&ev); err != nil {
				return all, place(m, now, err)
			}
			if ev.Chord {
				ev.Onset = chordOnset
			} else {
				chordOnset = now
				if !ev.Grace {
					now = now.Add(ev.Duration)
				}
			}
		case Backup, Forward:
			if err := c.move(&ev, &now); err != nil {
				return all, place(m, ev.Onset, err)
			}
		case Attributes:
			if err := c.attributes(element); err != nil {
				return all, place(m, now, err)
			}
			if now.Sign() == 0 {
				m.Beats, m.BeatType = c.beats, c.beatType
			}
		case Direction, Harmony, Sound, FiguredBass:
			if err := c.shift(&ev); err != nil {
				return all, place(m, now, err)
			}
		}
		if !now.Valid() || now.Sign() < 0 {
			return all, place(m, Fraction{}, errBeforeStart)
		}
		reach = reach.Max(now)
		all = append(all, ev)
	}
	m.Length = reach
	c.start = c.start.Add(reach)
	if !c.start.Valid() {
		return all, place(m, Fraction{}, errors.New("the durations add up to more than can be counted"))
	}
	return all, nil
}

// note fills what an event needs to know of a note.
func (c *clock) note(ev *Event) error {
	ev.Voice, ev.Staff = "1", 1
	var duration *etree.Element
	for _, token := range ev.Element.Child {
		e, ok := token.(*etree.Element)
		if !ok {
			continue
		}
		switch e.Tag {
		case "chord":
			ev.Chord = true
		case "grace":
			ev.Grace = true
		case "cue":
			ev.Cue = true
		case "rest":
			ev.Rest = true
		case "notations":
			ev.Marked = true
		case "duration":
			duration = e
		case "voice":
			ev.Voice = Text(e)
		case "staff":
			if ev.Staff = positive(Text(e)); ev.Staff == 0 {
				return errStaff
			}
		}
	}
	if ev.Grace {
		return nil
	}
	if duration == nil {
		return errDuration
	}
	length, err := c.duration(duration)
	ev.Duration = length
	return err
}

// move carries out a backup or forward.
func (c *clock) move(ev *Event, now *Fraction) error {
	ev.Voice, ev.Staff = ChildText(ev.Element, "voice"), max(positive(ChildText(ev.Element, "staff")), 1)
	duration := Child(ev.Element, "duration")
	if duration == nil {
		return fmt.Errorf("<%s> without <duration>", ev.Element.Tag)
	}
	length, err := c.duration(duration)
	if err != nil {
		return err
	}
	ev.Duration = length
	if ev.Kind == Backup {
		length = length.Neg()
	}
	*now = now.Add(length)
	return nil
}

// shift adds the element's own offset to its onset, and reads its staff.
func (c *clock) shift(ev *Event) error {
	ev.Voice, ev.Staff = ChildText(ev.Element, "voice"), max(positive(ChildText(ev.Element, "staff")), 1)
	offset := Child(ev.Element, "offset")
	if offset == nil {
		return nil
	}
	length, err := ParseFraction(Text(offset))
	if err != nil {
		return fmt.Errorf("offset %w", err)
	}
	ev.Onset = ev.Onset.Add(length.Div(c.divisions))
	return nil
}

func (c *clock) duration(e *etree.Element) (Fraction, error) {
	text := Text(e)
	n, small := Digits(text)
	if small = small && n < len(c.lengths); small && c.lengths[n] != unread {
		return c.lengths[n], nil
	}
	length, err := ParseFraction(text)
	if err != nil || length.Sign() < 0 {
		return Fraction{}, errDuration
	}
	length = length.Div(c.divisions)
	if small {
		c.lengths[n] = length
	}
	return length, nil
}

// positive reads a whole number above 0, which is 0 where the text is none.
func positive(text string) int {
	if text == "" {
		return 0
	}
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return max(n, 0)
}

// Digits reads a whole number of one to nine digits and nothing else; ok is false for any
// other text.
func Digits(text string) (n int, ok bool) {
	if len(text) == 0 || len(text) > 9 {
		return 0, false
	}
	for i := range len(text) {
		digit := text[i] - '0'
		if digit > 9 {
			return 0, false
		}
		n = 10*n + int(digit)
	}
	return n, true
}

// attributes takes over divisions and time signature.
func (c *clock) attributes(e *etree.Element) error {
	for _, token := range e.Child {
		child, ok := token.(*etree.Element)
		if !ok {
			continue
		}
		switch child.Tag {
		case "divisions":
			d, err := ParseFraction(Text(child))
			if err != nil || d.Sign() <= 0 {
				return errDivisions
			}
			c.take(timing{d, c.beats, c.beatType})
		case "time":
			c.beats, c.beatType = ChildText(child, "beats"), ChildText(child, "beat-type")
		}
	}
	return nil
}

func place(m *Measure, onset Fraction, err error) error {
	return &Error{Measure: m.Number, Beat: m.Beat(onset), Code: notice.NoMusic, Hint: "correct the bar and export it again", Err: err}
}
