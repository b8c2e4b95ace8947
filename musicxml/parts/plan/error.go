package plan

import (
	"fmt"
	"strings"
)

// Error is what is wrong with a plan, a line for each of its rows: what no catalogue knows,
// what fits no part of the score, what no one can play.
type Error struct{ Rows []string }

// Add says what is wrong with a row, which has a line of the plan's file or none.
func (e *Error) Add(line int, part, what string) {
	where := fmt.Sprintf("part %q", part)
	if line > 0 {
		where = fmt.Sprintf("line %d, part %q", line, part)
	}
	e.Rows = append(e.Rows, where+": "+what)
}

// Error is the rows in one line.
func (e *Error) Error() string { return strings.Join(e.Rows, "; ") }
