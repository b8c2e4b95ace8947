package engraving

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"deskpart/musicxml/engraving/display"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// Describe gives the staves of a line that was drawn their text alternative: a title,
// and their notes bar by bar.
func (l *Layout) Describe(line *display.System) {
	t, i := l.tell, -1
	for n := range line.Staves {
		for i++; !shownIn(&l.music.Staves[i], line.First-1, line.Last); {
			i++ // a line has no place for a staff that is hidden all through
		}
		staff := &line.Staves[n]
		title := cmp.Or(l.music.Staves[i].Name, t.say("staff", words.Fill{"n": i + 1}))
		staff.Title = strings.ReplaceAll(title, "\n", " ") + ", " + t.bars(l.music, line.First-1, line.Last)
		staff.Text = t.describe(l.music, l.states[i], i, line.First, line.Last)
	}
}

// shownIn reports whether a staff is there in any of the bars from first to before end.
func shownIn(s *Staff, first, end int) bool {
	return slices.ContainsFunc(s.Measures[first:end], func(m Measure) bool { return !m.Hidden })
}

// teller says music in a language.
type teller struct{ n *words.Names }

func (t teller) say(key string, fill words.Fill) string { return t.n.Drawn(key, fill) }

func (t teller) english() bool { return t.n.Language == pitch.English }

// bars names the bars from first to before end; "" where they have no numbers.
func (t teller) bars(m *Music, first, end int) string {
	a, b := m.Bars[first].Number, m.Bars[end-1].Number
	switch {
	case a == "" && b == "":
		return t.say("music", nil)
	case a == b || b == "":
		return t.n.Bars([]string{a})
	case a == "":
		return t.say("up-to", words.Fill{"n": b})
	}
	return t.say("bars", words.Fill{"a": a, "b": b})
}

// label names a line for whoever does not see it.
func (t teller) label(m *Music, first, end int) string {
	music, bars := t.say("music", nil), t.bars(m, first, end)
	if bars == music {
		return music
	}
	return music + ", " + bars
}

// Describe says in words what stands on a staff (counted from 0) in the bars from
// and to (counted from 1, both included): clef, key and time where they begin or
// change, and every note and rest with the standard's names of note values.
func Describe(m *Music, staff, from, to int) string {
	english, err := words.In(pitch.English)
	if err != nil {
		return err.Error() // a table of the program's own is broken
	}
	return teller{english}.describe(m, states(&m.Staves[staff]), staff, from, to)
}

// describe is Describe, given what is in force at the start of each bar.
func (t teller) describe(m *Music, list []state, staff, from, to int) string {
	var out []string
	for bar := from - 1; bar < to && bar < len(m.Bars); bar++ {
		measure := &m.Staves[staff].Measures[bar]
		now := list[bar].opened(measure)
		signs := ""
		if bar == from-1 {
			signs = t.state(now)
		} else {
			signs = t.changes(measure)
		}
		out = append(out, t.bar(m, bar, measure, signs))
	}
	return strings.Join(out, " ")
}

func (t teller) bar(m *Music, bar int, measure *Measure, signs string) string {
	name := t.say("bar", words.Fill{"n": m.Bars[bar].Number})
	if m.Bars[bar].Number == "" {
		name = t.say("upbeat", nil)
	}
	if n := m.Bars[bar].RestBars; n > 0 {
		return name + ": " + signs + t.say("rest-bars", words.Fill{"n": n}) + "."
	}
	voices := []string{}
	for _, v := range seenVoices(measure) {
		list := []string{}
		for i := range v.Events {
			if !v.Events[i].Hidden {
				list = append(list, t.event(&v.Events[i]))
			}
		}
		voices = append(voices, strings.Join(list, ", "))
	}
	for i := range voices {
		if len(voices) > 1 {
			voices[i] = t.say("voice", words.Fill{"n": i + 1, "what": voices[i]})
		}
	}
	if len(voices) == 0 {
		voices = []string{t.say("empty", nil)}
	}
	return name + ": " + signs + strings.Join(voices, "; ") + "."
}

func (t teller) state(s state) string {
	said := ""
	if s.hasClef {
		said += t.clef(s.clef) + ", "
	}
	if s.hasKey {
		said += t.key(s.key) + ", "
	}
	if s.hasTime {
		said += t.time(s.time)
	}
	return said
}

func (t teller) changes(m *Measure) string {
	said := ""
	for _, c := range m.Changes {
		if c.Clef != nil {
			said += t.clef(*c.Clef) + ", "
		}
		if c.Key != nil && !c.Hidden {
			said += t.key(*c.Key) + ", "
		}
		if c.Time != nil && !c.Hidden {
			said += t.time(*c.Time)
		}
	}
	return said
}

// ofOctave is the 8 of a clef, as the tables of names have it.
var ofOctave = map[int]string{-1: "-8vb", 1: "-8va", 0: ""}

func (t teller) clef(c Clef) string {
	name := map[ClefSign]string{ClefG: "G clef", ClefF: "F clef", ClefC: "C clef", ClefPercussion: "percussion clef",
		ClefTab: "tablature", ClefNone: "no clef"}[c.Sign]
	key := ""
	switch plain := (Clef{Sign: c.Sign, Line: c.line()}); plain {
	case Treble():
		key = "treble"
	case Bass():
		key = "bass"
	case Alto():
		key = "alto"
	case Tenor():
		key = "tenor"
	case Clef{Sign: ClefC, Line: 1}:
		key = "soprano"
	case Clef{Sign: ClefC, Line: 2}:
		key = "mezzo"
	case Clef{Sign: ClefF, Line: 3}:
		key = "baritone"
	}
	if !t.english() {
		if c.Sign == ClefPercussion {
			key = "percussion"
		}
		if named, known := t.n.Clef(key + ofOctave[c.Octave]); known {
			return named
		}
	}
	if key != "" && key != "soprano" && key != "mezzo" && key != "baritone" {
		name = key + " clef"
	}
	switch {
	case c.Octave < 0:
		name += fmt.Sprintf(" %d below", 7*-c.Octave+1)
	case c.Octave > 0:
		name += fmt.Sprintf(" %d above", 7*c.Octave+1)
	}
	return name
}

func (t teller) key(k Key) string {
	switch {
	case k.Room > 0:
		return t.say("room", nil)
	case len(k.Signs) > 0:
		list := []string{}
		for _, s := range k.Signs {
			list = append(list, t.n.Letter(pitch.Step(s.Step%7))+" "+t.accidental(s.Sign))
		}
		return t.say("signature", words.Fill{"notes": strings.Join(list, " ")})
	}
	return t.n.Signature(k.Fifths)
}

func (t teller) time(at Time) string {
	switch {
	case at.Symbol == TimeFree:
		return t.say("free", nil) + ", "
	case at.BeatType == "":
		return ""
	}
	return t.say("time", words.Fill{"beats": at.Beats, "unit": at.BeatType}) + ", "
}

// accidental turns an accidental's name into words.
func (t teller) accidental(sign string) string {
	switch {
	case !t.english():
		return withoutArticle(t.n.Sign(sign))
	case sign == "flat-flat":
		return "double flat"
	}
	return strings.ReplaceAll(sign, "-", " ")
}

// withoutArticle is "halbe Note" of "eine halbe Note".
func withoutArticle(text string) string {
	_, name, _ := strings.Cut(text, " ")
	return name
}

func (t teller) event(e *Event) string {
	form := ""
	switch {
	case e.IsRest() && e.FullBar:
		return t.say("bar-rest", nil)
	case e.IsRest():
		return strings.TrimSpace(t.say("rest", words.Fill{"value": t.value(e)}))
	case e.Grace:
		form = "grace"
	case e.Small:
		form = "cue"
	}
	names := []string{}
	for i := range e.Notes {
		names = append(names, t.note(&e.Notes[i]))
	}
	said := names[0]
	for _, name := range names[1:] {
		said = t.n.And(said, name)
	}
	if len(names) > 1 {
		said = t.say("chord", words.Fill{"what": said})
	}
	if form != "" {
		said = t.say(form, words.Fill{"what": said})
	}
	if value := t.value(e); value != "" {
		said += " " + value
	}
	if slices.ContainsFunc(e.Notes, func(n Note) bool { return n.TieTo }) {
		said = t.say("tied", words.Fill{"what": said})
	}
	return said
}

func (t teller) value(e *Event) string {
	if !t.english() {
		if name, known := t.n.Value(e.Value.String(), e.Dots, false); known {
			return withoutArticle(name)
		}
	}
	dots := [5]string{"", "dotted ", "double dotted ", "triple dotted ", "quadruple dotted "}
	return dots[max(0, min(e.Dots, 4))] + e.Value.String()
}

// note names the pitch, or the place of a note without pitch.
func (t teller) note(n *Note) string {
	if n.Unpitched {
		return t.say("stroke", nil)
	}
	if n.Fret != "" {
		return t.say("fret", words.Fill{"string": n.String, "fret": n.Fret})
	}
	step, sign := pitch.Step(((n.Step%7)+7)%7), UsualAccidental(n.Alter)
	name := t.n.Letter(step)
	switch whole := n.Alter == math.Trunc(n.Alter); {
	case sign == "" || sign == "natural":
	case whole && !t.english():
		name = t.n.Spoken(pitch.Pitch{Step: step, Alter: pitch.Semitones(int(n.Alter))})
	default:
		name += " " + t.accidental(sign)
	}
	return name + " " + strconv.Itoa(n.Octave+n.OctaveLine)
}
