package verification

import (
	"fmt"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose"
)

// Verdict is what became of a part on its way there and back.
type Verdict string

// The verdicts, from best to worst.
const (
	// Identical: every pitch, key, accidental, clef and chord symbol is as it was.
	Identical Verdict = "identical"
	// Respelled: the same sound, some notes spelled another way.
	Respelled Verdict = "respelled"
	Different Verdict = "different"
)

// Options say what is tried.
type Options struct {
	// MaxSignature as for extraction. Default: 6.
	MaxSignature int
	// Spelling as for extraction. Default: transpose.Exact.
	Spelling transpose.Spelling
	// Also lists further transpositions to go to and back. Default: none.
	Also []transpose.Transposition
}

// Part verifies part i of a copyist's score, which must have been surveyed. The
// slabs are used up; reset them afterwards.
func Part(c *parts.Copyist, i int, o Options, slabs *musicxml.Slabs) (Verdict, []Finding, error) {
	v := verifier{copyist: c, part: i, options: o, slabs: slabs}
	if err := v.readSource(); err != nil {
		return Different, nil, err
	}
	forward, concert, err := c.Forward(i, v.source)
	if err != nil {
		return Different, nil, err
	}
	limit := o.MaxSignature
	if concert {
		limit = parts.Unlimited
	}
	if err := v.thereAndBack("", forward, limit, concert); err != nil {
		return Different, nil, err
	}
	for _, t := range o.Also {
		name := fmt.Sprintf("by way of diatonic %d, chromatic %d, octave %d: ", t.Diatonic, t.Chromatic, t.OctaveChange)
		if err := v.thereAndBack(name, []transpose.Stretch{{To: t}}, o.MaxSignature, false); err != nil {
			return Different, nil, err
		}
	}
	return verdictOf(v.found), v.found, nil
}

// verdictOf is the worst of the findings.
func verdictOf(found []Finding) Verdict {
	verdict := Identical
	for _, f := range found {
		if !f.Respelled {
			return Different
		}
		verdict = Respelled
	}
	return verdict
}

// verifier is the work on one part.
type verifier struct {
	copyist *parts.Copyist
	part    int
	options Options
	slabs   *musicxml.Slabs
	source  *musicxml.Timeline // with the signs that its page lacks
	own     []transpose.Stretch
	sounds  []reading.Sound
	// misread are the places where the source's own page says something else than
	// its pitches: no fault of any move.
	misread map[spot]bool
	found   []Finding
}

// spot is a place on a page.
type spot struct {
	measure     int
	beat, voice string
	staff       int
}

func spotOf(m reading.Mismatch) spot { return spot{m.MeasureIndex, m.Beat, m.Voice, m.Staff} }

// readSource reads the part and prints the signs that its own page lacks, so that
// these, which every move adds, are no difference.
func (v *verifier) readSource() error {
	part, source, err := v.copyist.Source(v.part, v.slabs)
	if err != nil {
		return err
	}
	page, err := reading.Read(part)
	if err != nil {
		return err
	}
	v.sounds = page.Sounding()
	v.misread = map[spot]bool{}
	for _, m := range page.Mismatches() {
		v.misread[spotOf(m)] = true
	}
	if v.own, err = transpose.Stretches(source); err != nil {
		return err
	}
	if _, err = transpose.Move(source, transpose.Options{Stretches: v.own, MaxSignature: parts.Unlimited}); err != nil {
		return err
	}
	v.source, err = musicxml.NewTimeline(part)
	return err
}

// thereAndBack moves the part, looks at it as its player does, moves it back and
// compares. Whichever of the two pages a player reads is read.
func (v *verifier) thereAndBack(name string, stretches []transpose.Stretch, limit int, concert bool) error {
	part, timeline, err := v.copyist.Source(v.part, v.slabs)
	if err != nil {
		return err
	}
	there := transpose.Options{Stretches: stretches, MaxSignature: limit, Spelling: v.options.Spelling}
	if _, err := transpose.Move(timeline, there); err != nil {
		// A pitch that the standard cannot write there is no difference: no file
		// would be written.
		if musicxml.ErrorCode(err) == "out-of-octaves" {
			return nil
		}
		return err
	}
	page, err := reading.Read(part)
	if err != nil {
		return err
	}
	v.compareSound(name, page)
	if !concert {
		v.readPage(name, page)
	}
	if timeline, err = musicxml.NewTimeline(part); err != nil {
		return err
	}
	if _, err := transpose.Move(timeline, transpose.Options{Stretches: v.own, MaxSignature: parts.Unlimited}); err != nil {
		return err
	}
	if concert {
		if page, err = reading.Read(part); err != nil {
			return err
		}
		v.readPage(name, page)
	}
	for _, f := range Compare(v.source, part) {
		f.Text = name + f.Text
		v.found = append(v.found, f)
	}
	return nil
}

// compareSound compares what sounds with the source, by separate code. How it is
// spelled on the way is the way's own affair: a note tied into a respelled stretch
// keeps the letter of the note it is tied to.
func (v *verifier) compareSound(name string, page *reading.Page) {
	for _, d := range reading.Compare(v.sounds, page.Sounding()) {
		if d.Kind != reading.Spelled {
			v.found = append(v.found, Finding{Measure: d.Measure, Beat: d.Beat, Text: name + d.Text()})
		}
	}
}

// readPage reads the page as a player does: clef, signature, printed accidentals.
func (v *verifier) readPage(name string, page *reading.Page) {
	for _, m := range page.Mismatches() {
		if v.misread[spotOf(m)] {
			continue
		}
		v.found = append(v.found, Finding{Measure: m.Measure, Beat: m.Beat,
			Text: fmt.Sprintf("%sa player reads %s where %s is meant (from %s)", name, m.Read, m.Written, m.From)})
	}
}
