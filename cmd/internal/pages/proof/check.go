package proof

import (
	"fmt"
	"slices"

	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose/verify"
)

// Check is what became of a part when it was tried.
type Check struct {
	// Verdict of the way there and back: the score's part is moved to what its
	// player reads, and back again.
	Verdict verify.Verdict `json:"verdict"`
	// Found lists what differs after that way.
	Found []verify.Finding `json:"found"`
	// Read counts the notes read off the part's page as its player reads them.
	Read int `json:"notes_read"`
	// Misread lists what a player would play otherwise than the score has it.
	Misread []verify.Finding `json:"misread"`
	// Compared tells whether what is heard was held against the score: not where
	// a plan gives the part to another instrument.
	Compared bool `json:"compared_with_score"`
}

// Passed reports whether the sound is the score's, there, back and on the page.
func (c *Check) Passed() bool {
	return c.Verdict != verify.Different && len(c.Misread) == 0
}

// thereAndBack moves the score's part to what its player reads and back.
func (e *examination) thereAndBack() error {
	verdict, found, err := verify.Part(e.Job.Surveyed(), e.assignment.Part, e.Verification, &e.memory.check)
	e.part.Check.Verdict = verdict
	e.part.Check.Found = append(e.part.Check.Found, found...)
	return err
}

// readPage reads the part as its player does, by clef, signature and printed
// accidentals, and holds what is heard then against the score.
func (e *examination) readPage(r parts.Report) {
	c := &e.part.Check
	for i := range e.page.Notes {
		if n := &e.page.Notes[i]; n.From != reading.Unread {
			c.Read++
		}
	}
	for _, m := range e.page.Mismatches() {
		c.Misread = append(c.Misread, verify.Finding{Measure: m.Measure, Beat: m.Beat,
			Text: fmt.Sprintf("a player reads %s where %s is meant", m.Read, m.Written)})
	}
	if e.assignment.RecognisedBy == parts.ByPlan || len(r.Octaves) > 0 {
		return
	}
	c.Compared = true
	isCue := func(s reading.Sound) bool { return s.Cue } // which nobody plays
	for _, d := range reading.Compare(slices.DeleteFunc(slices.Clone(e.sounds), isCue), slices.DeleteFunc(e.page.Sounding(), isCue)) {
		// A part for one player of a shared staff, or of the percussion, has not the others'
		// notes; on a staff that is put together a unison stands once.
		if d.Kind == reading.Spelled || (e.assignment.Player > 0 || e.assignment.Some) && d.Kind == reading.Missing {
			continue
		}
		c.Misread = append(c.Misread, verify.Finding{Measure: d.Measure, Beat: d.Beat, Text: d.Text()})
	}
}
