package fit

import (
	"fmt"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Reassignment is one part rewritten for another instrument, and what came of it.
type Reassignment struct {
	Part       string             `json:"part"`
	PartID     string             `json:"part_id"`
	Player     int                `json:"player,omitempty"` // of a shared staff
	From       string             `json:"from"`             // catalogue id, "" where not recognised
	To         string             `json:"to"`
	Octave     int                `json:"octave"` // at the start of the part
	File       string             `json:"file"`
	Changes    []OctaveChange     `json:"changes_of_octave"`
	Outside    []OutsideNote      `json:"out_of_range"`
	Unplayable []PlacedText       `json:"unplayable"`
	Key        int                `json:"key"` // fifths of the first signature
	Clef       string             `json:"clef"`
	Before     Tessitura          `json:"before"` // as the score sounds
	After      Tessitura          `json:"after"`  // as it sounds now
	Reads      Tessitura          `json:"reads"`  // as the player reads it
	Text       []string           `json:"text"`   // the same in words
	Warnings   []musicxml.Warning `json:"warnings"`

	Document *etree.Document `json:"-"`
}

// OctaveChange is a place from which on the part sounds in another octave.
type OctaveChange struct {
	Measure string `json:"measure"`
	Beat    string `json:"beat"`
	Octave  int    `json:"octave"`
}

// OutsideNote is a note that the instrument does not have, as it is written.
type OutsideNote struct {
	Measure string `json:"measure"`
	Beat    string `json:"beat"`
	Pitch   string `json:"pitch"`
}

// PlacedText is something said about a place.
type PlacedText struct {
	Measure string `json:"measure"`
	Beat    string `json:"beat"`
	Text    string `json:"text"`
}

// Reassign writes part file i of a job for another instrument. octave is a
// whole number of octaves to add to the sound, or "auto"; clef may be empty; level
// is that of the options. The document stands in
// the workspace.
func Reassign(job *parts.Job, i int, to *instruments.Instrument, octave, clef string, level instruments.Level, w *parts.Workspace) (*Reassignment, error) {
	a := job.Assignment(i)
	told := job.Surveyed().Part(a.Part)
	if to.Flags.Unpitched {
		return nil, fmt.Errorf("%s has no pitch, so that no part can be rewritten for it", to.Label("en", ""))
	}
	if told.Notes == 0 && told.Unpitched > 0 {
		return nil, fmt.Errorf("part %q (%s) is percussion without pitch, which %s cannot read", a.Name, a.ID, to.Label("en", ""))
	}
	if len(told.Measures) == 0 {
		return nil, fmt.Errorf("part %q (%s) has no bars", a.Name, a.ID)
	}
	from := a.Instrument
	given, err := job.Give(i, parts.PlanRow{Instrument: to.ID, Octave: octave, Clef: clef})
	if err != nil {
		return nil, err
	}
	sheet, err := given.MakeIn(w, i)
	if err != nil {
		return nil, err
	}
	r := &Reassignment{Part: a.Name, PartID: a.ID, Player: a.Player, To: to.ID, Document: sheet.Document, Warnings: []musicxml.Warning{},
		Changes: []OctaveChange{}, Outside: []OutsideNote{}, Unplayable: []PlacedText{}}
	if from != nil {
		r.From = from.ID
	}
	r.takeWarnings(sheet.Report.Warnings)
	if err := r.listenToAll(given, i, sheet.Report); err != nil {
		return nil, err
	}
	if err := r.look(sheet, to, level); err != nil {
		return nil, err
	}
	r.describe()
	return r, nil
}

// listenToAll makes the parts of the other players of a shared staff, and warns where
// all of them together are silent and the score sounds.
func (r *Reassignment) listenToAll(job *parts.Job, i int, own parts.Report) error {
	assignments := job.Assignments()
	reports := make([]parts.Report, len(assignments))
	reports[i] = own
	for k, other := range assignments {
		if k == i || r.Player == 0 || other.Part != assignments[i].Part {
			continue
		}
		sheet, err := job.Make(k)
		if err != nil {
			return err
		}
		reports[k] = sheet.Report
	}
	for _, warnings := range job.Silent(reports) {
		r.Warnings = append(r.Warnings, warnings...)
	}
	return nil
}

// takeWarnings sorts the copyist's warnings.
func (r *Reassignment) takeWarnings(warnings []musicxml.Warning) {
	for _, w := range warnings {
		switch w.Code {
		case notice.Unplayable, notice.ForeignTechnique, notice.LeftOut:
			r.Unplayable = append(r.Unplayable, PlacedText{w.Measure, w.Beat, w.Text})
		case notice.AboveRange, notice.BelowRange: // every such note is listed
		default:
			r.Warnings = append(r.Warnings, w)
		}
	}
}

// look reads the part that was written.
func (r *Reassignment) look(sheet *parts.Part, to *instruments.Instrument, level instruments.Level) error {
	part, err := readPart(sheet)
	if err != nil {
		return err
	}
	line := lineOf(part, pitch.Interval{})
	r.octaves(sheet.Report.Octaves)
	r.Key, r.Clef = firstKey(part), firstClef(part)
	r.After = line.Tessitura()
	r.Reads = tessituraOf(line, func(n *Note) pitch.Pitch { return n.Written })
	before := make(Line, len(line))
	for i, n := range line {
		n.Sounding = pitch.Octaves(-octaveAt(sheet.Report.Octaves, n)).Apply(n.Sounding)
		before[i] = n
	}
	r.Before = before.Tessitura()
	if compass, ok := to.Range(level); ok {
		for i := range line {
			if n := &line[i]; !compass.Sounding.Contains(n.midi()) {
				r.Outside = append(r.Outside, OutsideNote{n.Measure, n.Beat, n.Written.String()})
			}
		}
	}
	if len(line) == 0 {
		r.Text = append(r.Text, "the part is silent all through")
		return nil
	}
	now := "it now sounds " + r.After.Words()
	if r.Reads != r.After {
		now += ", read as " + r.Reads.Words()
	}
	r.Text = append(r.Text, "it sounded "+r.Before.Words(), now)
	if words := lies(line, to, level); words != "" {
		r.Text = append(r.Text, words)
	}
	return nil
}

// octaves takes the octave at the start apart from its later changes.
func (r *Reassignment) octaves(changes []parts.OctaveChange) {
	for _, c := range changes {
		if c.At == (musicxml.Position{}) {
			r.Octave = c.Octave
			continue
		}
		r.Changes = append(r.Changes, OctaveChange{c.Measure, c.Beat, c.Octave})
	}
}

// octaveAt is the octave in force for a note.
func octaveAt(changes []parts.OctaveChange, n Note) int {
	octave := 0
	for _, c := range changes {
		if c.At.Compare(musicxml.Position{Measure: n.Index, Onset: n.Onset}) <= 0 {
			octave = c.Octave
		}
	}
	return octave
}

// describe puts the octaves in words.
func (r *Reassignment) describe() {
	words := octaveWords(r.Octave)
	for _, c := range r.Changes {
		words += fmt.Sprintf(", from measure %s, beat %s %s", c.Measure, c.Beat, octaveWords(c.Octave))
	}
	r.Text = append([]string{words}, r.Text...)
}

// octaveWords says an octave: "an octave higher", "2 octaves lower".
func octaveWords(octave int) string {
	n, way := octave, "higher"
	if octave < 0 {
		n, way = -octave, "lower"
	}
	switch n {
	case 0:
		return "at the octave of the score"
	case 1:
		return "an octave " + way
	}
	return fmt.Sprintf("%d octaves %s", n, way)
}

// firstKey reads the part's first signature, 0 without any.
func firstKey(part *music.Part) int {
	if key := part.First("key"); key != nil {
		k, _ := music.ReadKey(key.Element)
		return k.Fifths
	}
	return 0
}

// firstClef names the part's first clef, "" without any.
func firstClef(part *music.Part) string {
	if clef := part.First("clef"); clef != nil {
		return instruments.Clef(music.ReadClef(clef.Element)).Name()
	}
	return ""
}
