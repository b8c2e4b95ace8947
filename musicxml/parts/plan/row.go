package plan

// Row is one line of a plan: a part of the score given to an instrument. Empty fields mean "as usual".
type Row struct {
	// Part is what the part is called, as package naming finds it; "Flute 1 + Flute 2" puts
	// two or three on one staff.
	Part       string `json:"part"`
	Instrument string `json:"instrument"` // catalogue id or name
	Octave     string `json:"octave"`     // whole octaves added to the sound, or "auto"
	Clef       string `json:"clef"`       // name of a clef
	Label      string `json:"label"`
	// Player is who plays it: rows with the same player become one part. The name of
	// another row's part, or of a part without a row, is whoever plays that.
	Player string `json:"player,omitempty"`
	// Copies is how many are printed, a whole number; default one.
	Copies string `json:"copies,omitempty"`
	Line   int    `json:"-"` // in the plan's file; 0 where it comes from elsewhere
}
