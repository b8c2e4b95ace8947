package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// Who is proposed to take up an instrument of the same family: the highest number of the
// chairs that never sound with it and have time to change (common practice, no source).
func TestPropose(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why   string
		parts [][2]string // name and bars: x sounds
		want  []string    // the player of each
	}{
		{"the second flute, who rests", [][2]string{{"Flute 1", "xxxxxxxxx"}, {"Flute 2", "xx......."}, {"Piccolo", "......xxx"}}, []string{"", "Flute 2", "Flute 2"}},
		{"of two who rest the higher number", [][2]string{{"Flute 1", "xx......."}, {"Flute 2", "xx......."}, {"Piccolo", "......xxx"}}, []string{"", "Flute 2", "Flute 2"}},
		{"also where it stands first", [][2]string{{"Flute 2", "xx......."}, {"Flute 1", "xx......."}, {"Piccolo", "......xxx"}}, []string{"Flute 2", "", "Flute 2"}},
		{"the first, where the second plays on", [][2]string{{"Flute 1", "xx......."}, {"Flute 2", "xxxxxxxxx"}, {"Piccolo", "......xxx"}}, []string{"Flute 1", "", "Flute 1"}},
		{"nobody has time to change", [][2]string{{"Flute 1", "xxxxxx..."}, {"Flute 2", "xxxxxx..."}, {"Piccolo", "......xxx"}}, []string{"", "", ""}},
		{"nobody rests", [][2]string{{"Flute 1", "xxxxxxxxx"}, {"Piccolo", "......xxx"}}, []string{"", ""}},
		{"another family", [][2]string{{"Oboe 1", "xx......."}, {"Piccolo", "......xxx"}}, []string{"", ""}},
		{"one more instrument is enough", [][2]string{{"Flute 1", "xx......."}, {"Piccolo", ".....x..."}, {"Alto Flute", "........x"}}, []string{"Flute 1", "Flute 1", ""}},
		{"a part that is silent", [][2]string{{"Flute 1", "xx......."}, {"Piccolo", "........."}}, []string{"", ""}},
		{"no chair has a number", [][2]string{{"Flute", "xx......."}, {"Piccolo", "......xxx"}}, []string{"", ""}},
		{"who has a second instrument already has enough", [][2]string{{"Flute 1", "xx......."}, {"Flute 2", "xx......."}, {"Piccolo", "......xxx"}, {"Oboe", "........."}}, []string{"Flute 1", "", "Flute 1"}},
		{"players of one staff have no part of their own to write it into", [][2]string{{"Flutes 1 &amp; 2", "xx......."}, {"Piccolo", "......xxx"}}, []string{"", "", ""}},
		{"a percussionist takes none", [][2]string{{"Triangle 1", "xx......."}, {"Cymbals", "......xxx"}, {"Quayphone 1", "xx......."}, {"Quayphone", "......xxx"}}, []string{"", "", "", ""}},
	} {
		var list []miniPart
		for _, p := range row.parts {
			list = append(list, miniPart{p[0], patterned(p[1], whole)})
		}
		o := parts.DefaultOptions()
		o.Players = true
		if last := row.parts[len(row.parts)-1][0]; last == "Oboe" {
			o.Plan, o.Force = []parts.PlanRow{{Part: last, Player: "Flute 2"}}, true
		}
		job := partstest.Job(t, miniScore(t, list...), o)
		got, err := job.Propose()
		require.NoError(t, err)
		assert.Equal(t, row.want, got, row.why)
	}
}
