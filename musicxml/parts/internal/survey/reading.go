package survey

import "deskpart/musicxml/hearing"

// Reading is how the score as a whole is taken, and why.
type Reading struct {
	// Pitch is "concert", "written" or "mixed", as the manifest says it.
	Pitch string
	Why   string
	// ToldBy is what told: one of the constants below.
	ToldBy string
	// Silent is how a transposing part without <transpose> is read: as it sounds
	// or as the player reads it.
	Silent Input
	// Unsaid: nothing in the score told surely, so that a person is asked.
	Unsaid bool
}

// What tells which pitch a score is in.
const (
	ByScore      = "score"      // it says so itself
	ByRequest    = "request"    // as the user said
	BySignatures = "signatures" // those of the transposing parts, beside the others' and among themselves
	ByEar        = "ear"        // how the parts sound together
	ByBoth       = "signatures and ear"
	ByNothing    = "nothing"
)

// Settle decides how the score is read, once every part has been, and listens for
// parts that sound as if another transposition were meant.
func (c *Score) Settle() error {
	ear, err := hearing.New()
	if err != nil {
		return err
	}
	declared, silent := 0, 0
	for i := range c.Parts {
		switch s := &c.Parts[i]; {
		case s.Notes == 0:
		case s.Declared():
			declared++
		case s.silent():
			silent++
		}
	}
	c.Reading = c.judge(ear, declared, silent)
	c.listen(ear)
	return nil
}

// silent reports whether the part is for a transposing instrument and does not say
// how it is transposed, so that it is read one way or the other.
func (s *Part) silent() bool {
	return s.Notes > 0 && len(s.Source) == 0 && s.ForPart == nil && Transposes(s.Match.Instrument)
}

// judge weighs what the score says. declared parts have a <transpose> of their
// own, silent ones are for transposing instruments and have none.
func (c *Score) judge(ear *hearing.Ear, declared, silent int) Reading {
	switch {
	case c.SaysConcert && declared == 0:
		return Reading{Pitch: "concert", Why: "the score says that it is in concert pitch", ToldBy: ByScore, Silent: Concert}
	case declared > 0 && silent == 0:
		return Reading{Pitch: "written", Why: "the transposing parts say their transposition", ToldBy: ByScore, Silent: Concert}
	case c.Input == Concert:
		return c.mixed(Reading{Pitch: "concert", Why: "taken for concert pitch as asked", ToldBy: ByRequest, Silent: Concert}, declared)
	case c.Input == Written:
		return c.mixed(Reading{Pitch: "written", Why: "taken for written pitch as asked", ToldBy: ByRequest, Silent: Written}, declared)
	case silent == 0:
		return Reading{Pitch: "concert", Why: "no part is for a transposing instrument", ToldBy: ByScore, Silent: Concert}
	}
	return c.mixed(weigh(c.bySignatures(), c.byEar(ear)), declared)
}

// mixed says so where some parts declare their transposition and the silent ones
// are read another way.
func (c *Score) mixed(r Reading, declared int) Reading {
	if declared > 0 && r.Silent == Concert {
		r.Pitch = "mixed"
		r.Why = "some parts say their transposition; the others: " + r.Why
	}
	return r
}

// verdict is what one kind of evidence says of the silent parts.
type verdict struct {
	reading Input // "" where it says nothing
	clear   bool  // it may decide alone
	certain bool  // it may decide against the other kind
	why     string
}

// weigh puts signatures and sound together. The ear decides where it is clear, for an
// edition may print the sounding signature everywhere; it must be certain to decide
// against the signatures. Signatures alone decide for concert pitch, as most scores in
// it have them all alike; for written pitch they decide, and a person is asked.
func weigh(signatures, ear verdict) Reading {
	against := signatures.reading != "" && ear.reading != "" && signatures.reading != ear.reading
	switch {
	case ear.clear && signatures.reading == ear.reading:
		return readingOf(ear.reading, ByBoth, signatures.why+", and "+ear.why, false)
	case ear.clear && !against:
		return readingOf(ear.reading, ByEar, ear.why, false)
	case ear.clear:
		return readingOf(ear.reading, ByEar, ear.why+", although "+signatures.why, !ear.certain)
	case signatures.reading != "":
		return readingOf(signatures.reading, BySignatures, signatures.why, against || signatures.reading == Written)
	case ear.reading != "":
		return readingOf(ear.reading, ByEar, ear.why, true)
	}
	return readingOf(Concert, ByNothing, "nothing in the score tells its pitch surely, so it is read as it sounds", true)
}

func readingOf(silent Input, by, why string, unsaid bool) Reading {
	return Reading{Pitch: string(silent), Why: why, ToldBy: by, Silent: silent, Unsaid: unsaid}
}
