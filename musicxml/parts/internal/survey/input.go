package survey

// Input says how a score is read that has no <transpose> for a transposing
// instrument.
type Input string

// The ways to read such a score: by comparing the key signatures of transposing and
// other parts, as it sounds, and as the player reads it.
const (
	Auto    Input = "auto"
	Concert Input = "concert"
	Written Input = "written"
)
