package making

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/musicxml/sounding"
)

// Bars of a shared staff in which no player sounds are said at the first player's part, where
// every player has a part file of the same edition that is made; who stands in for a player
// does not count.
func TestSilentTogether(t *testing.T) {
	t.Parallel()
	times := func(music string) sounding.Times {
		heard, err := sounding.Read(shorthand.Part(t, music))
		require.NoError(t, err)
		return heard
	}
	const score, first, second, lost = "C5:w | C5:w | C5:w", "C5:w | R | R", "R | C5:w | C5:w", "R | R | C5:w"
	player := func(number int) assign.Assignment {
		return assign.Assignment{Assignment: plan.Assignment{Player: number, PlayerCount: 2}}
	}
	other := func(a assign.Assignment, change func(*assign.Assignment)) assign.Assignment {
		change(&a)
		return a
	}
	for _, row := range []struct {
		why   string
		files []assign.Assignment
		music []string // "" for a part that was not heard
		want  map[int]string
	}{
		{"all is there", []assign.Assignment{player(1), player(2)}, []string{first, second}, nil}, {"a bar is lost", []assign.Assignment{player(1), player(2)}, []string{first, lost}, map[int]string{0: "2"}},
		{"in the other order", []assign.Assignment{player(2), player(1)}, []string{lost, first}, map[int]string{1: "2"}}, {"one player alone", []assign.Assignment{player(1)}, []string{first}, nil},
		{"the other was not heard", []assign.Assignment{player(1), player(2)}, []string{first, ""}, nil}, {"nor the first", []assign.Assignment{player(1), player(2)}, []string{"", lost}, nil},
		{"nor was anybody asked", []assign.Assignment{player(1), player(2)}, []string{first}, nil}, {"nobody was heard", []assign.Assignment{player(1), player(2)}, nil, nil},
		{"of another part", []assign.Assignment{player(1), other(player(2), func(a *assign.Assignment) { a.Part = 1 })}, []string{first, lost}, nil},
		{"of another edition", []assign.Assignment{player(1), other(player(2), func(a *assign.Assignment) { a.Edition = "B" })}, []string{first, lost}, nil},
		{"who stands in", []assign.Assignment{player(1), other(player(2), func(a *assign.Assignment) { a.StandsFor = "x" })}, []string{first, lost}, nil},
		{"a third, who stands in, has the bar", []assign.Assignment{player(1), player(2), other(player(2), func(a *assign.Assignment) { a.StandsFor = "x" })}, []string{first, lost, second}, map[int]string{0: "2"}},
		{"the first stands in himself", []assign.Assignment{other(player(1), func(a *assign.Assignment) { a.StandsFor = "x" }), player(2)}, []string{first, lost}, nil},
		{"the whole staff", []assign.Assignment{player(0), player(1), player(2)}, []string{score, first, lost}, map[int]string{1: "2"}},
	} {
		var heard []*draft.Heard
		for _, music := range row.music {
			var h *draft.Heard
			if music != "" {
				h = &draft.Heard{Score: times(score), Part: times(music)}
			}
			heard = append(heard, h)
		}
		var got map[int]string
		for i, warnings := range Silent(row.files, heard) {
			if got == nil {
				got = map[int]string{}
			}
			for _, w := range warnings {
				got[i] += w.Measure
			}
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// The bars of a movement in which a player has nothing are those of the first part on one staff
// that has a signature.
func TestLender(t *testing.T) {
	t.Parallel()
	keys := []survey.Key{{}}
	for _, row := range []struct {
		parts []survey.Part
		want  int
	}{
		{[]survey.Part{{Staves: 1, Keys: keys}, {Staves: 1, Keys: keys}}, 0}, {[]survey.Part{{Staves: 2, Keys: keys}, {Staves: 1}, {Staves: 1, Keys: keys}}, 2},
		{[]survey.Part{{Staves: 2, Keys: keys}, {Staves: 1}}, 0},
	} {
		m := Maker{Score: stages.Score{Surveyed: &survey.Score{Parts: row.parts}}}
		assert.Equal(t, row.want, m.lender())
	}
}
