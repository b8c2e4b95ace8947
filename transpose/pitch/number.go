package pitch

// Abs is the size of a signed count: of signs in a signature, of steps or semitones.
func Abs(n int) int { return max(n, -n) }

// FloorDiv divides and rounds down, below zero too, as counting octaves and turns
// of the line of fifths needs it. b is positive.
func FloorDiv(a, b int) int {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}
