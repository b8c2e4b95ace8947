package assign

// PlanRow is one line of a plan: a part of the score given to an instrument.
// Empty fields mean "as usual".
type PlanRow struct {
	Part       string // name, id or pattern
	Instrument string // catalogue id or name
	Octave     string // whole octaves added to the sound, or "auto"
	Clef       string // name of a clef
	Label      string
	// Player is who plays it: rows with the same player become one part. The name of
	// another row's part, or of a part without a row, is whoever plays that.
	Player string `json:",omitempty"`
	// Copies is how many are printed, a whole number; default one.
	Copies string `json:",omitempty"`
	Line   int    `json:"-"` // in the plan's file; 0 where it comes from elsewhere
}
