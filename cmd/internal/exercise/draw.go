package exercise

import (
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/pages"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/engraving/notate"
	"deskpart/transpose/pitch"
)

// drawQuestion draws what is given over empty staves.
func (e *Exercise) drawQuestion(s Sheet, o PageOptions) ([]pages.Figure, error) {
	staves, err := e.givenStaves(s.texts(), false)
	if err != nil {
		return nil, err
	}
	for i, solution := range e.Staves() {
		bars, err := notate.Part(solution.Given, notate.Options{})
		if err != nil {
			return nil, err
		}
		blank := e.emptyStaff(bars, s, solution)
		if e.named() {
			blank.Staves[0].Name = e.staffName(s.texts(), i, solution.From.Other()).Name
		}
		if i == 0 && e.Topic == Signature && !e.Band.Shown {
			e.nameKeys(s.texts(), blank)
		}
		staves = append(staves, blank)
	}
	return e.draw(staves, o, s.texts().Language)
}

// DrawAnswer draws what is given over its answer.
func (e *Exercise) DrawAnswer(s Sheet, o PageOptions) ([]pages.Figure, error) {
	t := s.texts()
	staves, err := e.givenStaves(t, true)
	if err != nil {
		return nil, err
	}
	for i, solution := range e.Staves() {
		name := t.Say("exercise.staff-answer", nil)
		if e.named() {
			name = e.staffName(t, i, solution.From.Other()).Name
		}
		answer, err := notate.Part(solution.Answer, notate.Options{Name: name})
		if err != nil {
			return nil, err
		}
		if i == 0 && e.Topic == Signature && !e.Band.Shown {
			e.nameKeys(t, answer)
		}
		staves = append(staves, answer)
	}
	return e.draw(staves, o, t.Language)
}

// named reports whether each staff has a player's name.
func (e *Exercise) named() bool { return e.Topic.forBand() || e.Topic == ScoreReading }

// givenStaves are the staves that the question shows: one for a band, none for named
// keys.
func (e *Exercise) givenStaves(t *texts.Texts, labelled bool) ([]*engraving.Music, error) {
	var list []*engraving.Music
	for i, solution := range e.Staves() {
		name := ""
		switch {
		case e.Topic == Signature && !e.Band.Shown, e.Topic.forBand() && i > 0:
			continue
		case e.Topic.forBand():
			name = t.Say("exercise.staff-sounding", nil)
		case e.Topic == ScoreReading:
			name = e.staffName(t, i, explain.Written).Name
		case labelled:
			name = t.Say("exercise.staff-given", nil)
		}
		m, err := notate.Part(solution.Given, notate.Options{Name: name})
		if err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	return list, nil
}

// nameKeys writes the names of the keys that are asked for over their bars.
func (e *Exercise) nameKeys(t *texts.Texts, m *engraving.Music) {
	for i, k := range e.Band.Keys {
		measure := &m.Staves[0].Measures[i]
		measure.Marks = append(measure.Marks, engraving.Mark{Kind: engraving.MarkWords, Text: t.Key(k), Side: engraving.Above})
	}
}

// The lines of a sheet: their length in staff spaces and the size of a space in
// millimetres, so that they fit both A4 and Letter paper; and how many notes stand on
// a line at most.
const (
	lineWidth, lineSpace, lineNotes    = 84, 2.1, 13
	largeWidth, largeSpace, largeNotes = 58, 3.0, 9
)

func (e *Exercise) draw(staves []*engraving.Music, o PageOptions, language pitch.Language) ([]pages.Figure, error) {
	all, err := engraving.Stack(staves...)
	if err != nil {
		return nil, err
	}
	options := engraving.Options{Width: lineWidth, Space: lineSpace, Unnumbered: len(all.Bars) <= 4, Justify: true, Language: language}
	most := lineNotes
	if o.Large {
		options.Width, options.Space, options.LargePrint, most = largeWidth, largeSpace, true, largeNotes
	}
	if len(staves) > 4 {
		options.Space *= 0.8
		options.Width /= 0.8
	}
	breakWide(all, most)
	f, err := pages.Draw(all, options)
	return []pages.Figure{f}, err
}

// breakWide begins new lines so that at most so many notes, and at most four bars,
// stand on one: room is left to write. The lines are about equally full.
func breakWide(m *engraving.Music, most int) {
	notes := make([]int, len(m.Bars))
	for i := range m.Bars {
		for _, v := range m.Staves[0].Measures[i].Voices {
			notes[i] += len(v.Events)
		}
	}
	// The fewest lines first; then the smallest number of notes that makes no more.
	lines := len(fillLines(notes, most))
	for fewer := most - 1; fewer > 0 && len(fillLines(notes, fewer)) == lines; fewer-- {
		most = fewer
	}
	for _, begins := range fillLines(notes, most)[1:] {
		m.Bars[begins].NewLine = true
	}
}

// fillLines returns the bars with which lines begin.
func fillLines(notes []int, most int) []int {
	begins := []int{0}
	on, bars := 0, 0
	for i, n := range notes {
		if bars > 0 && (on+n > most || bars == 4) {
			begins = append(begins, i)
			on, bars = 0, 0
		}
		on += n
		bars++
	}
	return begins
}

// signatureRoom is how many accidentals have room at the head of an empty staff,
// whatever the answer's signature, so that the sheet does not give it away.
const signatureRoom = 6

// emptyStaff has the bars of the music, and what is not for the learner to write: the
// clef, and a signature that stays.
func (e *Exercise) emptyStaff(given *engraving.Music, s Sheet, solution *explain.Solution) *engraving.Music {
	m := &engraving.Music{Bars: given.Bars, Staves: []engraving.Staff{{Measures: make([]engraving.Measure, len(given.Bars))}}}
	change := engraving.Change{}
	if !e.clefIsAsked(s) {
		c, _ := explain.ClefOf(solution.Answer)
		clef := engraving.Clef{Sign: clefSigns[c.Sign], Line: c.Line, Octave: c.OctaveChange}
		change.Clef = &clef
	}
	if key, known := explain.KeyOf(solution.Answer); known && !e.asksSignature(solution) {
		change.Key = &engraving.Key{Fifths: key.Fifths}
	} else if !solution.WithoutSignature {
		change.Key = &engraving.Key{Room: signatureRoom}
	}
	if len(m.Bars) > 0 {
		m.Staves[0].Measures[0].Changes = []engraving.Change{change}
	}
	if e.Topic == Signature {
		for i := 1; i < len(m.Bars); i++ {
			m.Staves[0].Measures[i].Changes = []engraving.Change{{Key: &engraving.Key{Room: signatureRoom}}}
		}
	}
	return m
}

var clefSigns = map[string]engraving.ClefSign{"G": engraving.ClefG, "F": engraving.ClefF, "C": engraving.ClefC}
