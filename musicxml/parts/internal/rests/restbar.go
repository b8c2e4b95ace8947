package rests

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
)

// barOfRest writes an idle bar anew: what stands at its start, one rest for each
// staff, what stands at its end.
type barOfRest struct {
	*rester
	measure *musicxml.Measure
	length  musicxml.Fraction
	staves  int
}

func (b *barOfRest) write() {
	if b.isWritten() {
		return
	}
	duration := b.InDivisions(b.measure.Index, nil, b.length)
	rests := b.rests(duration)
	now := musicxml.Fraction{}
	var start, end []etree.Token
	for i := range b.measure.Events {
		ev := &b.measure.Events[i]
		if b.atEnd(ev, now) {
			end = append(end, ev.Element)
		} else if !takesTime(ev) {
			b.standAtStart(ev, now)
			start = append(start, ev.Element)
		}
		now = ev.After(now)
	}
	b.replace(start, rests, end)
}

func takesTime(ev *musicxml.Event) bool {
	return ev.Kind == musicxml.Note || ev.Kind == musicxml.Backup || ev.Kind == musicxml.Forward
}

// isWritten reports whether the bar already is as it should be.
func (b *barOfRest) isWritten() bool {
	rests := 0
	for ev := range b.measure.Each(musicxml.Note) {
		rest := musicxml.Child(ev.Element, "rest")
		if musicxml.Attr(rest, "measure") != "yes" || draft.Hidden(ev) || len(rest.ChildElements()) > 0 || ev.Duration != b.length {
			return false
		}
		rests++
	}
	return rests == b.staves
}

// atEnd reports whether an element stays behind the rests.
func (b *barOfRest) atEnd(ev *musicxml.Event, now musicxml.Fraction) bool {
	switch {
	case takesTime(ev):
		return false
	case ev.Kind == musicxml.Barline:
		return draft.LocationOf(ev.Element) == "right"
	}
	return now == b.length && b.measure.Length == b.length
}

// standAtStart gives an element that stood inside the bar the offset that leaves it
// where it was.
func (b *barOfRest) standAtStart(ev *musicxml.Event, now musicxml.Fraction) {
	if now.Sign() == 0 || ev.Kind != musicxml.Direction && ev.Kind != musicxml.Sound {
		return
	}
	offset := musicxml.SetChildText(ev.Element, "offset", b.InDivisions(b.measure.Index, nil, ev.Onset))
	if ev.Kind == musicxml.Direction {
		offset.CreateAttr("sound", "yes")
	}
}

// rests makes a rest for each staff, with the time turned back between them.
func (b *barOfRest) rests(duration string) []etree.Token {
	var made []etree.Token
	for staff := 1; staff <= b.staves; staff++ {
		if staff > 1 {
			made = append(made, draft.Turn("backup", duration))
		}
		made = append(made, b.rest(staff, duration))
	}
	return made
}

// rest makes the rest of one staff out of what the source says there of voice,
// instrument and pause.
func (b *barOfRest) rest(staff int, duration string) *etree.Element {
	note := etree.NewElement("note")
	note.CreateElement("rest").CreateAttr("measure", "yes")
	note.CreateElement("duration").SetText(duration)
	voice, fermata := "", (*etree.Element)(nil)
	for ev := range b.measure.Each(musicxml.Note) {
		if ev.Staff != staff {
			continue
		}
		if voice == "" {
			voice = ev.Voice
			if in := musicxml.Child(ev.Element, "instrument"); in != nil {
				note.AddChild(in.Copy())
			}
		}
		if f := musicxml.Descend(ev.Element, "notations", "fermata"); f != nil && fermata == nil {
			fermata = f
		}
	}
	if voice == "" {
		voice = strconv.Itoa(4*(staff-1) + 1) // the first voice of a staff, as is usual
	}
	musicxml.SetChildText(note, "voice", voice)
	if b.staves > 1 {
		musicxml.SetChildText(note, "staff", strconv.Itoa(staff))
	}
	if fermata != nil {
		music.AddNotation(note, draft.Upright(fermata))
	}
	return note
}

// replace gives the measure its new children; comments stay in front.
func (b *barOfRest) replace(start, rests, end []etree.Token) {
	measure := b.measure.Element
	var children []etree.Token
	for _, token := range measure.Child {
		if e, ok := token.(*etree.Element); !ok || e.Space != "" {
			children = append(children, token)
		}
	}
	children = append(append(append(children, start...), rests...), end...)
	for len(measure.Child) > 0 {
		measure.RemoveChildAt(len(measure.Child) - 1)
	}
	for _, token := range children {
		measure.AddChild(token)
	}
	b.Rearranged()
}
