package desks

// Layout is how the staves of one player stand in the part.
type Layout struct {
	// Rows are the staves of the part from the top, each with the places of the score's
	// staves that the player has there in turn.
	Rows  [][]int
	Turns []Turns // beside Rows; the places are those within the row
	// Clashes are where the player has two things at once, in order of time.
	Clashes []Clash
}

// Lay puts staves of the score on as few staves of a part as hold them: such as never
// sound at once share one. apart: these two need a staff each for another reason. So does
// a staff that is not alone in its part, such as those of a harp.
func Lay(staves []Sounds, clock *Clock, apart func(a, b int) bool) Layout {
	l := Layout{Clashes: Clashes(staves)}
	meet := map[[2]int]bool{}
	for _, c := range l.Clashes {
		meet[[2]int{c.A, c.B}] = true
	}
	for i := range staves {
		l.Rows = place(l.Rows, i, func(a, b int) bool { return meet[[2]int{a, b}] || apart(a, b) })
	}
	for _, row := range l.Rows {
		var in []Sounds
		for _, i := range row {
			in = append(in, staves[i])
		}
		l.Turns = append(l.Turns, TakeTurns(in, clock))
	}
	return l
}

// place puts a staff into the first row in which it gets on with all.
func place(rows [][]int, staff int, apart func(a, b int) bool) [][]int {
next:
	for r := range rows {
		for _, other := range rows[r] {
			if apart(other, staff) {
				continue next
			}
		}
		rows[r] = append(rows[r], staff)
		return rows
	}
	return append(rows, []int{staff})
}
