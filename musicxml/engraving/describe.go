package engraving

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// Describe gives the staves of a line that was drawn their text alternative: a title,
// and their notes bar by bar.
func (l *Layout) Describe(line *display.System) {
	for i := range line.Staves {
		staff := &line.Staves[i]
		title := l.music.Staves[i].Name
		if title == "" {
			title = "Staff " + strconv.Itoa(i+1)
		}
		staff.Title = strings.ReplaceAll(title, "\n", " ") + ", " + strings.TrimPrefix(line.Label, "music, ")
		staff.Text = describe(l.music, l.states[i], i, line.First, line.Last)
	}
}

// Describe says in words what stands on a staff (counted from 0) in the bars from
// and to (counted from 1, both included): clef, key and time where they begin or
// change, and every note and rest with the standard's names of note values.
func Describe(m *Music, staff, from, to int) string {
	return describe(m, states(&m.Staves[staff]), staff, from, to)
}

// describe is Describe, given what is in force at the start of each bar.
func describe(m *Music, list []state, staff, from, to int) string {
	var out []string
	for bar := from - 1; bar < to && bar < len(m.Bars); bar++ {
		measure := &m.Staves[staff].Measures[bar]
		now := list[bar].opened(measure)
		signs := ""
		if bar == from-1 {
			signs = sayState(now)
		} else {
			signs = sayChanges(measure)
		}
		out = append(out, sayBar(m, bar, measure, signs))
	}
	return strings.Join(out, " ")
}

func sayBar(m *Music, bar int, measure *Measure, signs string) string {
	name := "Bar " + m.Bars[bar].Number
	if m.Bars[bar].Number == "" {
		name = "Upbeat"
	}
	if n := m.Bars[bar].RestBars; n > 0 {
		return fmt.Sprintf("%s: %srest for %d bars.", name, signs, n)
	}
	voices := []string{}
	for _, v := range seenVoices(measure) {
		words := []string{}
		for i := range v.Events {
			if !v.Events[i].Hidden {
				words = append(words, sayEvent(&v.Events[i]))
			}
		}
		voices = append(voices, strings.Join(words, ", "))
	}
	for i := range voices {
		if len(voices) > 1 {
			voices[i] = fmt.Sprintf("voice %d: %s", i+1, voices[i])
		}
	}
	if len(voices) == 0 {
		voices = []string{"empty"}
	}
	return name + ": " + signs + strings.Join(voices, "; ") + "."
}

func sayState(s state) string {
	words := ""
	if s.hasClef {
		words += s.clef.say() + ", "
	}
	if s.hasKey {
		words += s.key.say() + ", "
	}
	if s.hasTime {
		words += s.time.say()
	}
	return words
}

func sayChanges(m *Measure) string {
	words := ""
	for _, c := range m.Changes {
		if c.Clef != nil {
			words += c.Clef.say() + ", "
		}
		if c.Key != nil && !c.Hidden {
			words += c.Key.say() + ", "
		}
		if c.Time != nil && !c.Hidden {
			words += c.Time.say()
		}
	}
	return words
}

func (c Clef) say() string {
	name := map[ClefSign]string{ClefG: "G clef", ClefF: "F clef", ClefC: "C clef", ClefPercussion: "percussion clef",
		ClefTab: "tablature", ClefNone: "no clef"}[c.Sign]
	switch plain := (Clef{Sign: c.Sign, Line: c.line()}); plain {
	case Treble():
		name = "treble clef"
	case Bass():
		name = "bass clef"
	case Alto():
		name = "alto clef"
	case Tenor():
		name = "tenor clef"
	}
	switch {
	case c.Octave < 0:
		name += fmt.Sprintf(" %d below", 7*-c.Octave+1)
	case c.Octave > 0:
		name += fmt.Sprintf(" %d above", 7*c.Octave+1)
	}
	return name
}

func (k Key) say() string {
	switch {
	case k.Room > 0:
		return "room for a key signature"
	case len(k.Signs) > 0:
		words := []string{}
		for _, s := range k.Signs {
			words = append(words, stepNames[s.Step%7]+" "+spoken(s.Sign))
		}
		return "key signature " + strings.Join(words, " ")
	case k.Fifths == 0:
		return "no sharps or flats"
	case k.Fifths == 1:
		return "1 sharp"
	case k.Fifths == -1:
		return "1 flat"
	case k.Fifths > 0:
		return fmt.Sprintf("%d sharps", k.Fifths)
	}
	return fmt.Sprintf("%d flats", -k.Fifths)
}

func (t Time) say() string {
	switch {
	case t.Symbol == TimeFree:
		return "no metre, "
	case t.BeatType == "":
		return ""
	}
	return t.Beats + "/" + t.BeatType + " time, "
}

var stepNames = [7]string{"C", "D", "E", "F", "G", "A", "B"}

// spoken turns an accidental's name into words.
func spoken(sign string) string {
	if sign == "flat-flat" {
		return "double flat"
	}
	return strings.ReplaceAll(sign, "-", " ")
}

func sayEvent(e *Event) string {
	words := ""
	switch {
	case e.IsRest() && e.FullBar:
		return "whole bar rest"
	case e.IsRest():
		return strings.TrimSpace(sayValue(e) + " rest")
	case e.Grace:
		words = "grace "
	case e.Small:
		words = "cue "
	}
	if len(e.Notes) > 1 {
		words += "chord "
	}
	names := []string{}
	for i := range e.Notes {
		names = append(names, sayNote(&e.Notes[i]))
	}
	words += strings.Join(names, " and ")
	if value := sayValue(e); value != "" {
		words += " " + value
	}
	if tied(e) {
		words += " tied"
	}
	return words
}

func tied(e *Event) bool {
	for i := range e.Notes {
		if e.Notes[i].TieTo {
			return true
		}
	}
	return false
}

func sayValue(e *Event) string {
	dots := [5]string{"", "dotted ", "double dotted ", "triple dotted ", "quadruple dotted "}
	return dots[max(0, min(e.Dots, 4))] + e.Value.String()
}

// sayNote names the pitch, or the place of a note without pitch.
func sayNote(n *Note) string {
	if n.Unpitched {
		return "stroke"
	}
	if n.Fret != "" {
		return "string " + strconv.Itoa(n.String) + " fret " + n.Fret
	}
	name := stepNames[((n.Step%7)+7)%7]
	if sign := UsualAccidental(n.Alter); sign != "" && sign != "natural" {
		name += " " + spoken(sign)
	}
	return name + " " + strconv.Itoa(n.Octave+n.OctaveLine)
}
