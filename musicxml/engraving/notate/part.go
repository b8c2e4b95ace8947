package notate

import (
	"slices"
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// Options say how a part is taken over.
type Options struct {
	// Name labels the first staff; default none.
	Name string
	// RestBars gathers that many or more empty bars in a row into one multi-bar
	// rest; 0 (default) gathers only where the part says so.
	RestBars int
}

// Part reads a <part> of a partwise document, whose tree it leaves as it is. What cannot be
// drawn is listed in the music's NotDrawn. The error is that of music.ReadPart: a
// *musicxml.Error that names measure and beat.
func Part(part *etree.Element, o Options) (*engraving.Music, error) {
	read, err := music.ReadPart(part)
	if err != nil {
		return nil, err
	}
	r := &partReader{part: read, music: &engraving.Music{}}
	r.begin()
	for i := range read.Measures {
		r.readMeasure(i)
	}
	r.finish(o)
	return r.music, nil
}

// partReader carries what is open from bar to bar.
type partReader struct {
	part     *music.Part
	music    *engraving.Music
	census   census
	hasBeams bool
	// rests has the length of multi-bar rests that the part announces, by bar.
	rests map[int]int
	// ids number the spans of slurs and the like.
	ids map[*music.Span]int
	// shifts are the stretches under octave lines.
	shifts []octaveShift
	// lines are the staff lines in force, for notes without a place.
	lines []int
	// hidden are the staves that are not printed, from the bar that is read on.
	hidden []bool
	// verses numbers the lyrics' own numbers and names.
	verses map[string]int
	// styles are the stretches in which signs stand for the notes.
	styles []styleSpan
}

// begin makes the staves of the part.
func (r *partReader) begin() {
	staves := max(1, min(r.part.Staves, maxStaves))
	r.music.Staves = make([]engraving.Staff, staves)
	r.lines, r.hidden = make([]int, staves), make([]bool, staves)
	r.verses = map[string]int{}
	r.rests = map[int]int{}
	r.ids = map[*music.Span]int{}
	r.census = census{part: r.part, rows: map[string]*engraving.NotDrawn{}}
	for i := range r.part.Spans {
		r.ids[&r.part.Spans[i]] = i + 1
	}
	if staves > 1 {
		r.music.Groups = []engraving.Group{{From: 0, To: staves - 1, Symbol: engraving.Brace, Barlines: true}}
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

// beamKey is a voice, or its grace notes.
type beamKey struct {
	voice string
	grace bool
}

// measureReader is one bar being read.
type measureReader struct {
	*partReader
	bar      int
	source   *music.Measure
	measures []engraving.Measure // for each staff
	voices   map[voiceKey]*engraving.Voice
	order    []voiceKey
	// figured is where figures stand in the document, and figuresFrom where the next
	// that stand there belong: several in a row before a note follow one another while
	// it sounds.
	figured, figuresFrom musicxml.Fraction
	beamed               map[beamKey]bool // who has begun a beam in the bar
}

func (r *partReader) readMeasure(bar int) {
	source := &r.part.Measures[bar]
	m := &measureReader{partReader: r, bar: bar, source: source,
		measures: make([]engraving.Measure, len(r.music.Staves)), voices: map[voiceKey]*engraving.Voice{}, beamed: map[beamKey]bool{}}
	number := source.Number
	if musicxml.Attr(source.Element, "implicit") == "yes" {
		number = ""
	}
	r.music.Bars = append(r.music.Bars, engraving.Bar{Number: number, Source: bar + 1, Length: source.Length})
	for i := range source.Changes {
		m.change(&source.Changes[i])
	}
	for i := range source.Events {
		if source.Events[i].Kind == musicxml.Barline {
			m.barline(&source.Events[i])
		}
	}
	for chord := range source.Chords() {
		m.chord(chord)
	}
	m.marksBeside()
	m.sortVoices()
	shown := max(slices.Index(r.hidden, false), 0)
	for s := range m.measures {
		m.measures[s].Hidden = r.hidden[s] && s != shown
		if m.measures[s].Hidden { // what is said over it is said to the player
			m.measures[shown].Marks = append(m.measures[shown].Marks, m.measures[s].Marks...)
			m.measures[s].Marks = nil
		}
	}
	for s := range m.measures {
		if list := r.music.Staves[s].Measures; len(list) > 0 && list[bar-1].Hidden && !r.hidden[s] {
			r.music.Bars[bar].NewLine = true // with a clef at its head
		}
		r.music.Staves[s].Measures = append(r.music.Staves[s].Measures, m.measures[s])
	}
}

// staff clips a staff number to the index of a staff there is.
func (r *partReader) staff(number int) int {
	return max(0, min(number-1, len(r.music.Staves)-1))
}

// voice returns the voice of a note, new where it is the first.
func (m *measureReader) voice(staff int, name string) *engraving.Voice {
	key := voiceKey{staff, name}
	v := m.voices[key]
	if v == nil {
		v = &engraving.Voice{ID: name}
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
	staves := map[string]int{}
	sung := map[int]bool{}
	for _, key := range m.order {
		staves[key.name]++
	}
	for _, key := range m.order {
		v := m.voices[key]
		if staves[key.name] < 2 {
			v.ID = ""
		}
		if sing := sings(*v); sing && sung[key.staff] {
			lowerVerses(v)
		} else if sing {
			sung[key.staff] = true
		}
		sort.SliceStable(v.Events, func(i, j int) bool { return v.Events[i].Onset.Less(v.Events[j].Onset) })
		m.measures[key.staff].Voices = append(m.measures[key.staff].Voices, *v)
	}
}

// sings reports whether a voice has lyrics.
func sings(v engraving.Voice) bool {
	return slices.ContainsFunc(v.Events, func(e engraving.Event) bool { return len(e.Lyrics) > 0 })
}

// lowerVerses puts the lyrics of a second voice under those of the first.
func lowerVerses(v *engraving.Voice) {
	const under = 100
	for i := range v.Events {
		for k := range v.Events[i].Lyrics {
			v.Events[i].Lyrics[k].Verse += under
		}
	}
}

// finish settles what needs the whole part.
func (r *partReader) finish(o Options) {
	r.music.Staves[0].Name = o.Name
	r.beginClefs()
	r.sizeStaves()
	r.readSpans()
	r.applyShifts()
	r.applyStyles()
	r.dropAnalysis()
	r.clearVerses()
	r.breakBarlines()
	r.settleStems()
	r.leaveFretsAlone()
	r.missFrets()
	if !r.hasBeams {
		r.music.Beam()
	}
	spanEndings(r.music)
	r.nameStaves()
	r.unset()
	r.gatherRests(o.RestBars)
	r.music.NotDrawn = r.census.list()
}

// beginClefs gives a staff that begins without a clef the treble clef, as a
// reader would assume.
func (r *partReader) beginClefs() {
	for s := range r.music.Staves {
		if len(r.music.Staves[s].Measures) == 0 {
			continue
		}
		first := &r.music.Staves[s].Measures[0]
		if !beginsWithClef(first) {
			clef := engraving.Treble()
			first.Changes = append([]engraving.Change{{Clef: &clef}}, first.Changes...)
		}
	}
}

// settleStems drops the stem directions of bars with one voice on a staff: they
// follow from the places of the notes. A voice that crosses to another staff keeps
// them.
func (r *partReader) settleStems() {
	for s := range r.music.Staves {
		for b := range r.music.Staves[s].Measures {
			measure := &r.music.Staves[s].Measures[b]
			if countSeen(measure) > 1 {
				continue
			}
			for v := range measure.Voices {
				if measure.Voices[v].ID == "" {
					dropStems(&measure.Voices[v])
				}
			}
		}
	}
}

// breakBarlines keeps barlines out of the words between the staves of a choir (common
// practice, no source).
func (r *partReader) breakBarlines() {
	staves := r.music.Staves
	for i := range r.music.Groups {
		g := &r.music.Groups[i]
		if g.Symbol != engraving.Bracket && len(staves) < 3 {
			continue
		}
		for s := g.From; s < g.To && g.Barlines; s++ {
			g.Barlines = !staffSings(&staves[s])
		}
	}
}

// leaveFretsAlone takes the rhythm off tablature in the bars in which another staff of
// the part has notes: there it says where the fingers go, no more (common practice, no
// source).
func (r *partReader) leaveFretsAlone() {
	if len(r.music.Staves) < 2 {
		return
	}
	frets := make([][]bool, len(r.music.Staves)) // by staff and bar
	for s := range r.music.Staves {
		frets[s] = beginInTablature(&r.music.Staves[s])
	}
	for b := range r.music.Bars {
		noted := false
		for s := range r.music.Staves {
			noted = noted || !frets[s][b] && hasNotes(&r.music.Staves[s].Measures[b])
		}
		for s := range r.music.Staves {
			r.music.Staves[s].Measures[b].FretsOnly = noted && frets[s][b]
		}
	}
}

// missFrets lists the notes in tablature that say no string and fret, so that they have no
// place there.
func (r *partReader) missFrets() {
	for s := range r.music.Staves {
		for b, tablature := range beginInTablature(&r.music.Staves[s]) {
			if !tablature {
				continue
			}
			for e := range r.music.Staves[s].Measures[b].Events() {
				for _, n := range e.Notes {
					if !n.Hidden && (n.Fret == "" || n.String == 0) {
						r.census.miss("note in tablature without string and fret", b)
					}
				}
			}
		}
	}
}

// beginInTablature tells of each bar of a staff whether it begins in a clef of tablature.
func beginInTablature(staff *engraving.Staff) []bool {
	var bars []bool
	var clef, later engraving.ClefSign // at the bar's beginning, at its end
	for b := range staff.Measures {
		clef = later
		for _, c := range staff.Measures[b].Changes {
			if c.Clef == nil {
				continue
			}
			later = c.Clef.Sign
			if c.Onset.Sign() <= 0 {
				clef = later
			}
		}
		bars = append(bars, clef == engraving.ClefTab)
	}
	return bars
}

// countSeen is the number of voices with something to draw.
func countSeen(m *engraving.Measure) int {
	n := 0
	for _, v := range m.Voices {
		if slices.ContainsFunc(v.Events, func(e engraving.Event) bool { return !e.Hidden }) {
			n++
		}
	}
	return n
}

// hasNotes reports whether a note is seen in the bar.
func hasNotes(m *engraving.Measure) bool {
	for e := range m.Events() {
		if !e.IsRest() && !e.Hidden {
			return true
		}
	}
	return false
}

func dropStems(v *engraving.Voice) {
	for i := range v.Events {
		if e := &v.Events[i]; e.Stem != engraving.StemNone && !e.Grace {
			e.Stem = engraving.StemAuto
		}
	}
}
