package class_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
)

// TestPupilsInOrder: the rows of the table are in the order of names, and of numbers.
func TestPupilsInOrder(t *testing.T) {
	t.Parallel()
	var answers []marking.Result
	for _, name := range []string{"S10", "anna", "S2", "Ben"} {
		answers = append(answers, marking.Result{Pupil: name})
	}
	var names []string
	for _, p := range class.New(answers).Summary.Pupils {
		names = append(names, p.Name)
	}
	assert.Equal(t, []string{"anna", "Ben", "S2", "S10"}, names)
}

// TestNamesakes: pupils of one name in two classes are two; folders that are no classes part
// nobody.
func TestNamesakes(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ first, second, want string }{
		{"7a/Eva 1.xml", "7b/Eva 1.xml", "Eva (7a), Eva (7b)"},
		{"in/class 7a/Eva 1.xml", "in/class 7b/week 2/Eva.xml", "Eva (class 7a), Eva (class 7b)"},
		{"7a/Eva 1.xml", "7a/Eva 2.xml", "Eva"},
		{"exercise 1/Eva.xml", "exercise 2/Eva.xml", "Eva"},
	} {
		var names []string
		for _, p := range class.New([]marking.Result{{Pupil: "Eva", File: row.first}, {Pupil: "Eva", File: row.second}}).Summary.Pupils {
			names = append(names, p.Name)
		}
		assert.Equal(t, row.want, strings.Join(names, ", "))
	}
}

// TestCellHidesNoAnswer: of two answers to one exercise both stand in the pupil's cell.
func TestCellHidesNoAnswer(t *testing.T) {
	t.Parallel()
	c := class.New([]marking.Result{
		{Pupil: "Eva", Exercise: 1, Notes: 8, Lenient: 8},
		{Pupil: "Eva", Exercise: 1, Notes: 8, Lenient: 7, Mistakes: []marking.Mistake{{}}},
	})
	assert.Equal(t, "8/8, 7/8 (1)", class.Report{Class: c}.Cell(c.Summary.Pupils[0], c.Summary.Exercises[0]))
}
