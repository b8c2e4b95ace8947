package assign

import "deskpart/instruments"

// How singers' parts are written.
const (
	ChoirScore = "score" // one part for all, a staff for each voice
	ChoirParts = "parts" // a part for each
)

// choirDesk is the desk of all singers. No plan can name it.
const choirDesk = "\x00choir"

// gatherSingers brings the singers together where a vocal score is wanted: choirs prefer
// it, with the words below and the dynamics above (part-preparation, 2; spnm). Who has a
// player in the plan, or is an edition, is left out.
func (c *Assigner) gatherSingers(all []Assignment) {
	if c.options.Choir == "" {
		return
	}
	for i := range all {
		a := &all[i]
		if a.Instrument == nil || a.Instrument.Group != instruments.Voices || a.Edition != "" || a.StandsFor != "" {
			continue
		}
		a.Sings = true
		if c.options.Choir == ChoirScore && a.Desk == "" {
			a.Desk = choirDesk
		}
	}
}

// choirLabel heads the vocal score: "Choir".
func (c *Assigner) choirLabel(a *Assignment) string {
	if choir := c.Catalogue.ByID("choir"); choir != nil {
		return choir.Label(c.options.Language, "")
	}
	return a.Label
}
