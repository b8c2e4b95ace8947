package survey

import (
	"deskpart/instruments"
	"deskpart/musicxml"
)

// Score is what a first reading tells of a score. Once it is settled nothing in it
// changes, and several goroutines may ask it.
type Score struct {
	Music      *musicxml.Score
	Catalogue  *instruments.Catalogue
	ScoreParts []musicxml.ScorePart // beside Music.Parts
	Parts      []Part               // beside Music.Parts
	Reading    Reading              // of the whole score

	Input       Input // how a silent part is read, as asked
	SaysConcert bool  // the score says that it is displayed in concert pitch
}

// NewScore prepares the survey of a score: its parts are still to be read, and the
// reading to be settled.
func NewScore(music *musicxml.Score, catalogue *instruments.Catalogue, input Input) *Score {
	c := &Score{Music: music, Catalogue: catalogue, Input: input, Parts: make([]Part, len(music.Parts))}
	c.SaysConcert = musicxml.Descend(music.Header.Root(), "defaults", "concert-score") != nil
	known := map[string]musicxml.ScorePart{}
	for _, p := range music.ScoreParts() {
		known[p.ID] = p
	}
	for _, raw := range music.Parts {
		p, ok := known[raw.ID]
		if !ok {
			p = musicxml.ScorePart{ID: raw.ID}
		}
		c.ScoreParts = append(c.ScoreParts, p)
	}
	return c
}

// Locate adds file and part to an error.
func (c *Score) Locate(err error, part int) error {
	p := c.ScoreParts[part]
	return musicxml.Locate(err, musicxml.Error{File: c.Music.Name, PartName: p.Name, PartID: p.ID})
}

// Title is the score's title, of the work or of the movement, "" without.
func (c *Score) Title() string {
	if c.Music == nil {
		return ""
	}
	root := c.Music.Header.Root()
	work := musicxml.Text(musicxml.Descend(root, "work", "work-title"))
	movement := musicxml.ChildText(root, "movement-title")
	switch {
	case work == "":
		return movement
	case movement == "" || movement == work:
		return work
	}
	return work + ": " + movement
}

// PartNames are the names of the score's parts, or their ids where they have none.
func (c *Score) PartNames() []string {
	names := make([]string, len(c.ScoreParts))
	for i, p := range c.ScoreParts {
		if names[i] = p.Name; p.Name == "" {
			names[i] = p.ID
		}
	}
	return names
}

// AnyPlays reports whether any part of the score has notes: where nobody plays,
// as in a sheet of empty staves, nobody is tacet.
func (c *Score) AnyPlays() bool {
	for i := range c.Parts {
		if c.Parts[i].Notes+c.Parts[i].Unpitched > 0 {
			return true
		}
	}
	return false
}

// Lengths finds for each measure how long it is in the part that fills it most.
func (c *Score) Lengths() []musicxml.Fraction {
	var all []musicxml.Fraction
	for i := range c.Parts {
		for k, m := range c.Parts[i].Measures {
			if k == len(all) {
				all = append(all, m.Length)
			} else if all[k].Less(m.Length) {
				all[k] = m.Length
			}
		}
	}
	return all
}

// SourcePitch is the <miscellaneous-field> of a <score-part> by which a concert
// score says that the part stood at sounding pitch in the score it was made of.
const SourcePitch, SourcePitchSounding = "source pitch", "sounding"

// StoodAtSound reports whether the score says so of a part.
func (c *Score) StoodAtSound(i int) bool {
	entry := c.ScoreParts[i].Element
	if entry == nil {
		return false
	}
	field := musicxml.Descend(entry, "identification", "miscellaneous", "miscellaneous-field")
	return field != nil && musicxml.Attr(field, "name") == SourcePitch && musicxml.Text(field) == SourcePitchSounding
}
