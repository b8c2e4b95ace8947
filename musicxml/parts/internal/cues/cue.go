package cues

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/transpose/pitch"
)

// cueBars is how many bars before an entry are cued at most.
const cueBars = 2

// Add writes small notes of another part in the last bars of a long rest
// before an entry (notation-rules, 13; part-preparation, 5). They are written as
// the part's source has its pitch, and move with the part. Parts of several staves
// and without pitch get none.
func (c *Cues) Add(d *draft.Draft) ([]Cue, error) {
	s := &cuer{Draft: d, Cues: c}
	in := s.Assignment.Instrument
	if c.After == 0 || s.Survey.Staves > 1 || in != nil && in.Flags.Unpitched {
		return nil, nil
	}
	read := map[int]*musicxml.Timeline{}
	rest := 0
	for i := range s.Timeline.Measures {
		m := &s.Timeline.Measures[i]
		if draft.Idle(m) && m.Length.Sign() > 0 {
			rest++
			continue
		}
		if rest >= c.After && !draft.HasCue(m) {
			if err := s.cueEntry(i, min(rest, cueBars), read); err != nil {
				return nil, err
			}
		}
		rest = 0
	}
	return s.cues, nil
}

// Cues writes cue notes into the parts of a score.
type Cues struct {
	After    int          // so many bars of rest; 0 is never
	Activity [][]Activity // of each part of the score, bar by bar
	Labels   []string     // name who plays each part of the score; "" is nobody
}

// Cue is one cue.
type Cue struct {
	Notes []*etree.Element // one at least
	Label *etree.Element   // the <words> that name where it comes from
}

// cuer writes cues into one part.
type cuer struct {
	*draft.Draft
	*Cues
	cues []Cue
}

// cueEntry cues the entry in a measure with up to n bars before it. The cue ends
// before the bar of the entry (cueguides).
func (s *cuer) cueEntry(entry, n int, read map[int]*musicxml.Timeline) error {
	l := listening{cuer: s, entry: s.entersAt(entry)}
	for bar := entry - n; bar < entry; bar++ {
		l.bars = append(l.bars, bar)
	}
	part, from, ok := l.leader()
	if !ok {
		return nil
	}
	if read[part] == nil {
		tree, err := s.Score.Music.ReadPart(part, nil)
		if err != nil {
			return err
		}
		if read[part], err = musicxml.NewTimeline(tree); err != nil {
			return s.Score.Locate(err, part)
		}
	}
	w := cueWriter{cuer: s, part: part, source: read[part]}
	for _, bar := range l.bars[from:] {
		if err := w.bar(bar); err != nil {
			return s.Score.Locate(err, part)
		}
	}
	s.cues = append(s.cues, Cue{w.notes, w.words})
	return nil
}

// entersAt is the height at which the player enters in a measure, as a MIDI
// number; 0 where it has no pitch.
func (s *cuer) entersAt(measure int) int {
	line, err := leadingLine(&s.Timeline.Measures[measure])
	if err != nil || len(line) == 0 {
		return 0
	}
	at := musicxml.Position{Measure: measure, Onset: line[0].Onset}
	return s.Score.SoundingAt(s.Assignment.Part, at).Apply(line[0].Pitch).NoteNumber()
}

// cueWriter writes one cue.
type cueWriter struct {
	*cuer
	part   int // of the score
	source *musicxml.Timeline
	notes  []*etree.Element
	words  *etree.Element    // of the label
	held   musicxml.Fraction // where the note before is tied to, from the start of the piece
}

// bar adds the cue notes of one bar, in which the other part is heard, as a second voice after
// the rest.
func (w *cueWriter) bar(index int) error {
	m := &w.Timeline.Measures[index]
	line, err := leadingLine(&w.source.Measures[index])
	if err != nil {
		return err
	}
	voice := w.freeVoice(m)
	end := draft.LastBarline(m)
	add := func(e *etree.Element) { w.Insert(m, end, e) }
	add(draft.Turn("backup", w.InDivisions(index, end, m.Length)))
	var now musicxml.Fraction
	for i := range line {
		n := &line[i]
		if now.Less(n.Onset) {
			add(w.gap(index, n.Onset.Sub(now), voice))
		}
		if len(w.notes) == 0 {
			label := draft.WordsAbove(w.Labels[w.part], "font-style", "italic")
			w.words = musicxml.Descend(label, "direction-type", "words")
			w.MarkWords(label)
			add(label)
		}
		note, err := w.note(n, musicxml.Position{Measure: index, Onset: n.Onset}, voice)
		if err != nil {
			return err
		}
		musicxml.SetChildText(note, "duration", w.InDivisions(index, end, n.Duration))
		add(note)
		w.join(note, n, w.Timeline.Measures[index].Start)
		w.notes = append(w.notes, note)
		now = n.Onset.Add(n.Duration)
	}
	if now.Less(m.Length) {
		add(w.gap(index, m.Length.Sub(now), voice))
	}
	w.tuplets(&w.source.Measures[index], line, w.notes[len(w.notes)-len(line):])
	w.Rewritten() // a tie may have come to a note of the bar before
	return w.Settle()
}

// join draws the tie from the cue's last note to a note that goes on with it. A
// cue note has no sound, so it has no <tie>, only the curve.
func (w *cueWriter) join(note *etree.Element, n *music.Note, start musicxml.Fraction) {
	start = start.Add(n.Onset)
	if len(w.notes) > 0 && n.Ties.Stop() && w.held == start {
		draft.Tied(w.notes[len(w.notes)-1], "start")
		draft.Tied(note, "stop")
	}
	w.held = start.Add(n.Duration)
}

// freeVoice is a voice that the measure does not have.
func (w *cueWriter) freeVoice(m *musicxml.Measure) string {
	for n := 2; ; n++ {
		voice := strconv.Itoa(n)
		if !slices.ContainsFunc(m.Events, func(ev musicxml.Event) bool { return ev.Kind == musicxml.Note && ev.Voice == voice }) {
			return voice
		}
	}
}

func (w *cueWriter) gap(index int, length musicxml.Fraction, voice string) *etree.Element {
	e := draft.Turn("forward", w.InDivisions(index, nil, length))
	musicxml.SetChildText(e, "voice", voice)
	return e
}

// note makes a cue note: silent (MusicXML 4.0, cue), small, with its stem up, in
// the pitch that the source of the reader's part is written in.
func (w *cueWriter) note(n *music.Note, at musicxml.Position, voice string) (*etree.Element, error) {
	sound := w.Score.SoundingAt(w.part, at).Apply(n.Pitch)
	e := etree.NewElement("note")
	e.CreateElement("cue")
	pitch := e.CreateElement("pitch")
	if err := music.WritePitch(pitch, w.Score.SoundingAt(w.Assignment.Part, at).Negate().Apply(sound)); err != nil {
		return nil, err
	}
	musicxml.SetChildText(e, "voice", voice)
	stem := true
	for _, tag := range []string{"type", "dot", "time-modification", "beam"} {
		for _, c := range musicxml.Children(n.Element, tag) {
			c = draft.Stripped(c)
			if tag == "type" {
				c.CreateAttr("size", "cue")
				stem = musicxml.Text(c) != "whole" && musicxml.Text(c) != "breve"
			}
			musicxml.AddInOrder(e, c)
		}
	}
	if stem {
		musicxml.SetChildText(e, "stem", "up")
	}
	keepOrnaments(e, n.Element)
	return e, nil
}

// cuedOrnaments are what a player recognises a line by. Signs at them belong to another
// key, and lines have ends that the cue may not have.
var cuedOrnaments = map[string]bool{
	"trill-mark": true, "turn": true, "delayed-turn": true, "inverted-turn": true, "delayed-inverted-turn": true, "vertical-turn": true,
	"inverted-vertical-turn": true, "shake": true, "mordent": true, "inverted-mordent": true, "haydn": true, "tremolo": true,
}

// keepOrnaments copies the ornaments of a note to its cue note.
func keepOrnaments(cue, from *etree.Element) {
	for _, ornaments := range musicxml.Along(from, "notations", "ornaments") {
		kept := etree.NewElement("ornaments")
		for e := range ornaments.ChildElementsSeq() {
			if cuedOrnaments[e.Tag] && (e.Tag != "tremolo" || musicxml.Attr(e, "type") == "" || musicxml.Attr(e, "type") == "single") {
				kept.AddChild(draft.Stripped(e))
			}
		}
		if len(kept.Child) > 0 {
			music.AddNotation(cue, kept)
		}
	}
}

// tuplets gives the cue notes of a bar the brackets that the source has over them,
// also where a rest or the lower note of a chord carried an end.
func (w *cueWriter) tuplets(m *musicxml.Measure, line []music.Note, notes []*etree.Element) {
	type start struct {
		tuplet *etree.Element
		at     musicxml.Fraction
	}
	open := map[string]start{} // by their numbers: a tuplet may stand in another
	for ev := range m.Each(musicxml.Note) {
		if ev.Staff != 1 || ev.Voice != line[0].Voice {
			continue
		}
		for _, tuplet := range musicxml.Along(ev.Element, "notations", "tuplet") {
			number := musicxml.Attr(tuplet, "number")
			if musicxml.Attr(tuplet, "type") == "start" {
				open[number] = start{tuplet, ev.Onset}
			} else if from, is := open[number]; is {
				bracket(from.tuplet, tuplet, from.at, ev.Onset, line, notes)
				delete(open, number)
			}
		}
	}
}

// bracket puts the ends of a tuplet at the first and the last of its notes.
func bracket(start, stop *etree.Element, from, to musicxml.Fraction, line []music.Note, notes []*etree.Element) {
	first, last := -1, -1
	for i := range line {
		if !line[i].Onset.Less(from) && !to.Less(line[i].Onset) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first >= 0 {
		music.AddNotation(notes[first], draft.Stripped(start))
		music.AddNotation(notes[last], draft.Stripped(stop))
	}
}

// Set moves every cue by whole octaves to where the player's clef shows it
// with the fewest ledger lines: a cue is silent, so its octave is free.
func Set(d *draft.Draft, cues []Cue) error {
	s := &cuer{Draft: d}
	d.Elsewhere = d.Elsewhere || len(cues) > 0
	for _, c := range cues {
		if err := s.setCue(c); err != nil {
			return err
		}
	}
	return nil
}

// octaveSigns say where a cue sounds that is written so many octaves lower.
var octaveSigns = map[int]string{1: "8va", 2: "15ma", 3: "22ma", -1: "8va bassa", -2: "15ma bassa", -3: "22ma bassa"}

func (s *cuer) setCue(c Cue) error {
	notes := c.Notes
	at := s.placeOf(notes[0])
	clef := s.clefBefore(at.Measure)
	if in := s.InstrumentAt(at); in != nil && len(in.Clefs) > 0 {
		clef = in.Clefs[0]
	}
	pitches := make([]pitch.Pitch, len(notes))
	for i, note := range notes {
		p, err := music.ReadPitch(musicxml.Child(note, "pitch"))
		if err != nil {
			return err
		}
		pitches[i] = p
	}
	octaves := bestOctaves(pitches, staff.BottomLine(clef))
	if sign := octaveSigns[-octaves]; sign != "" && c.Label != nil {
		c.Label.SetText(c.Label.Text() + " (" + sign + ")") // the player listens for it there
	}
	for i, note := range notes {
		if err := music.WritePitch(musicxml.Child(note, "pitch"), pitch.Octaves(octaves).Apply(pitches[i])); err != nil {
			return err
		}
	}
	return nil
}

// clefBefore is the score's clef of the first staff at the start of a measure.
func (s *cuer) clefBefore(measure int) instruments.Clef {
	clef := staff.TrebleClef
	for i := range s.Timeline.Measures[:measure+1] {
		for _, ev := range s.Timeline.Measures[i].Events {
			if ev.Kind != musicxml.Attributes || i == measure && ev.Onset.Sign() > 0 {
				continue
			}
			for e := range musicxml.Each(ev.Element, "clef") {
				if music.StaffNumber(e) <= 1 && !music.IsAdditional(e) {
					clef = staff.ReadClef(e)
				}
			}
		}
	}
	return clef
}

// bestOctaves finds the octaves by which notes lie best on a staff. Where no note has
// more than one ledger line they stay in their own octave; else the one with the
// fewest is taken, and of equals the one nearest to the middle line.
func bestOctaves(pitches []pitch.Pitch, bottom int) int {
	best, least := 0, staff.Never
	for _, octaves := range []int{0, -1, 1, -2, 2, -3, 3, -4, 4, -5, 5} {
		var cost, most int
		for _, p := range pitches {
			position := 7*(p.Octave+octaves) + int(p.Step) - bottom
			if p.Octave+octaves < 0 || p.Octave+octaves > 9 {
				cost += 1000
			}
			most = max(most, staff.LedgerLines(position))
			cost += 20*staff.LedgerLines(position) + pitch.Abs(position-staff.Middle)
		}
		if octaves == 0 && most <= 1 {
			return 0
		}
		if cost < least {
			best, least = octaves, cost
		}
	}
	return best
}

// placeOf finds the measure of a note.
func (s *cuer) placeOf(note *etree.Element) musicxml.Position {
	for i := range s.Timeline.Measures {
		if s.Timeline.Measures[i].Element == note.Parent() {
			return musicxml.Position{Measure: i}
		}
	}
	return musicxml.Position{}
}
