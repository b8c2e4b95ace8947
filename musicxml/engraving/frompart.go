package engraving

import (
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// PartOptions say how a part is taken over.
type PartOptions struct {
	// Name and Short label the first staff; default none.
	Name, Short string
	// RestBars gathers that many or more empty bars in a row into one multi-bar
	// rest; 0 (default) gathers only where the part says so.
	RestBars int
}

// FromPart fills the drawing's model from a <part> of a partwise document, whose
// tree it leaves as it is. The error is that of musicxml.NewTimeline: an *Error
// that names measure and beat.
func FromPart(part *etree.Element, o PartOptions) (*Music, error) {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, err
	}
	r := &partReader{timeline: timeline, music: &Music{}, hasBeams: false}
	r.countStaves()
	for i := range timeline.Measures {
		r.readMeasure(i)
	}
	r.finish(o)
	return r.music, nil
}

// partReader carries what is open from bar to bar.
type partReader struct {
	timeline *musicxml.Timeline
	music    *Music
	hasBeams bool
	// rests has the length of multi-bar rests that the part announces, by bar.
	rests map[int]int
	// spans are hairpins and lines that wait for their end.
	spans []openSpan
	// shifts are the stretches under octave lines, for each staff.
	shifts []octaveShift
	// middles are the middle lines in force, for notes without a place.
	lines []int
	// verses numbers the lyrics' own numbers and names.
	verses map[string]int
}

// countStaves makes the staves of the part.
func (r *partReader) countStaves() {
	staves := 1
	for _, m := range r.timeline.Measures {
		for _, e := range m.Events {
			staves = max(staves, min(e.Staff, maxStaves))
			if e.Kind == musicxml.Attributes {
				n, _ := strconv.Atoi(musicxml.ChildText(e.Element, "staves"))
				staves = max(staves, min(n, maxStaves))
			}
		}
	}
	r.music.Staves = make([]Staff, staves)
	r.lines = make([]int, staves)
	r.verses = map[string]int{}
	r.rests = map[int]int{}
	if staves > 1 {
		r.music.Groups = []Group{{From: 0, To: staves - 1, Symbol: Brace, Barlines: true}}
	}
}

// maxStaves bounds the staves of one part; no instrument has more, and a wrong
// number in a file must not fill the memory.
const maxStaves = 16

// voiceKey tells the voices of a bar apart.
type voiceKey struct {
	staff int
	name  string
}

// measureReader is one bar being read.
type measureReader struct {
	*partReader
	bar      int
	source   *musicxml.Measure
	measures []Measure // for each staff
	voices   map[voiceKey]*Voice
	order    []voiceKey
}

func (r *partReader) readMeasure(bar int) {
	source := &r.timeline.Measures[bar]
	m := &measureReader{partReader: r, bar: bar, source: source,
		measures: make([]Measure, len(r.music.Staves)), voices: map[voiceKey]*Voice{}}
	r.music.Bars = append(r.music.Bars, Bar{Number: barNumber(source), Source: bar + 1, Length: source.Length})
	for i := range source.Events {
		e := &source.Events[i]
		switch e.Kind {
		case musicxml.Attributes:
			m.attributes(e)
		case musicxml.Note:
			m.note(e)
		case musicxml.Direction:
			m.direction(e)
		case musicxml.Harmony:
			m.harmony(e)
		case musicxml.FiguredBass:
			m.figures(e)
		case musicxml.Barline:
			m.barline(e)
		}
	}
	m.sortVoices()
	for s := range m.measures {
		r.music.Staves[s].Measures = append(r.music.Staves[s].Measures, m.measures[s])
	}
}

func barNumber(m *musicxml.Measure) string {
	if musicxml.Attr(m.Element, "implicit") == "yes" {
		return ""
	}
	return m.Number
}

// staff clips a staff number to the index of a staff there is.
func (r *partReader) staff(number int) int {
	return max(0, min(number-1, len(r.music.Staves)-1))
}

// voice returns the voice of a note, new where it is the first.
func (m *measureReader) voice(staff int, name string) *Voice {
	key := voiceKey{staff, name}
	v := m.voices[key]
	if v == nil {
		v = &Voice{}
		m.voices[key] = v
		m.order = append(m.order, key)
	}
	return v
}

// sortVoices puts the voices of each staff in the order of their numbers.
func (m *measureReader) sortVoices() {
	sort.SliceStable(m.order, func(i, j int) bool {
		a, errA := strconv.Atoi(m.order[i].name)
		b, errB := strconv.Atoi(m.order[j].name)
		if errA == nil && errB == nil {
			return a < b
		}
		return m.order[i].name < m.order[j].name
	})
	sung := map[int]bool{}
	for _, key := range m.order {
		v := m.voices[key]
		if sing := v.sings(); sing && sung[key.staff] {
			v.lowerVerses()
		} else if sing {
			sung[key.staff] = true
		}
		sort.SliceStable(v.Events, func(i, j int) bool { return v.Events[i].Onset.Less(v.Events[j].Onset) })
		m.measures[key.staff].Voices = append(m.measures[key.staff].Voices, *v)
	}
}

// sings reports whether a voice has lyrics.
func (v *Voice) sings() bool {
	for i := range v.Events {
		if len(v.Events[i].Lyrics) > 0 {
			return true
		}
	}
	return false
}

// lowerVerses puts the lyrics of a second voice under those of the first.
func (v *Voice) lowerVerses() {
	const under = 100
	for i := range v.Events {
		for k := range v.Events[i].Lyrics {
			v.Events[i].Lyrics[k].Verse += under
		}
	}
}

// finish settles what needs the whole part.
func (r *partReader) finish(o PartOptions) {
	r.music.Staves[0].Name, r.music.Staves[0].Short = o.Name, o.Short
	r.beginClefs()
	r.closeSpans()
	r.applyShifts()
	r.settleStems()
	if !r.hasBeams {
		r.music.Beam()
	}
	spanEndings(r.music)
	r.gatherRests(o.RestBars)
}

// beginClefs gives a staff that begins without a clef the treble clef, as a
// reader would assume.
func (r *partReader) beginClefs() {
	for s := range r.music.Staves {
		if len(r.music.Staves[s].Measures) == 0 {
			continue
		}
		first := &r.music.Staves[s].Measures[0]
		if !(state{}).opened(first).hasClef {
			clef := Treble()
			first.Changes = append([]Change{{Clef: &clef}}, first.Changes...)
		}
	}
}

// settleStems drops the stem directions of bars with one voice on a staff: they
// follow from the places of the notes.
func (r *partReader) settleStems() {
	for s := range r.music.Staves {
		for b := range r.music.Staves[s].Measures {
			measure := &r.music.Staves[s].Measures[b]
			if len(seenVoices(measure)) > 1 {
				continue
			}
			for v := range measure.Voices {
				for i := range measure.Voices[v].Events {
					if e := &measure.Voices[v].Events[i]; e.Stem != StemNone && !e.Grace {
						e.Stem = StemAuto
					}
				}
			}
		}
	}
}
