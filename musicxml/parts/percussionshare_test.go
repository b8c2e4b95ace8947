package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// Small percussion sections dealt out: what each player's list says, in which bars each
// plays, and how much nobody is free for. Bars last two seconds; five seconds are needed to
// hand an instrument on (parts/percussion.go).
func TestPercussionShared(t *testing.T) {
	t.Parallel()
	const stroke = `<note><unpitched><display-step>B</display-step><display-octave>4</display-octave></unpitched><duration>4</duration><voice>1</voice><type>whole</type></note>`
	const wanted = ": more percussionists are wanted"
	nobody := map[string]string{
		"one of two players cannot have all": "5:1 nobody is free to play Snare Drum from here" + wanted, "nor two bars of it": "5:1 nobody is free to play Snare Drum from here until measure 6" + wanted,
		"back at the beginning at once": "10:1 nobody is free to play Snare Drum from here" + wanted,
	}
	for _, row := range []struct {
		why     string
		players int
		staves  [][2]string // name and bars
		want    []string    // label: list
		lost    int         // strokes that nobody is free for
	}{
		{"one player has what never sounds at once", 1, [][2]string{{"Triangle", "x........."}, {"Snare Drum", ".........x"}}, []string{"Percussion 1: Triangle, Snare Drum"}, 0},
		{"two have one each", 2, [][2]string{{"Triangle", "xxxxxxxxxx"}, {"Snare Drum", "xxxxxxxxxx"}}, []string{"Percussion 1: Triangle", "Percussion 2: Snare Drum"}, 0},
		{"one of two players cannot have all", 1, [][2]string{{"Triangle", "xxxxxxxxxx"}, {"Snare Drum", "....x....."}}, []string{"Percussion 1: Triangle"}, 1},
		{"nor two bars of it", 1, [][2]string{{"Triangle", "xxxxxxxxxx"}, {"Snare Drum", "....xx...."}}, []string{"Percussion 1: Triangle"}, 1},
		{"nobody plays at all", 2, [][2]string{{"Triangle", ".........."}, {"Snare Drum", ".........."}}, []string{"Triangle: "}, 0},
		{"timpani have a player of their own", 1, [][2]string{{"Timpani", "x........."}, {"Triangle", ".........x"}}, []string{"Timpani: ", "Percussion 1: Triangle"}, 0},
		{"back at the beginning at once", 1, [][2]string{{"Triangle", "x........;"}, {"Snare Drum", ".........:"}}, []string{"Percussion 1: Triangle"}, 1},
		{"two players, back at the beginning at once", 2, [][2]string{{"Triangle", "x........;"}, {"Snare Drum", ".........:"}}, []string{"Percussion 1: Triangle", "Percussion 2: Snare Drum"}, 0},
		{"back with time to change", 1, [][2]string{{"Triangle", ".x.......;"}, {"Snare Drum", ".........:"}}, []string{"Percussion 1: Triangle, Snare Drum"}, 0},
		{"back with little time, but with another player's help", 2, [][2]string{{"Bass Drum", ".....x...;"}, {"Snare Drum", ".........:"}, {"Triangle", ".x...x...;"}},
			[]string{"Percussion 1: Triangle", "Percussion 2: Bass Drum, Snare Drum"}, 0},
		{"back to the same instrument", 1, [][2]string{{"Triangle", "x........:"}, {"Snare Drum", "....x....;"}}, []string{"Percussion 1: Triangle, Snare Drum"}, 0},
		{"the section stands where its first staff does", 1, [][2]string{{"Triangle", "x........."}, {"Flute", ".........."}, {"Snare Drum", ".........x"}}, []string{"Percussion 1: Triangle, Snare Drum", "Flute: "}, 0},
		{"and behind another", 1, [][2]string{{"Flute", ".........."}, {"Triangle", "x........."}, {"Oboe", ".........."}, {"Snare Drum", ".........x"}}, []string{"Flute: ", "Percussion 1: Triangle, Snare Drum", "Oboe: "}, 0},
		{"no percussion", 2, [][2]string{{"Flute", ".........."}}, []string{"Flute: "}, 0},
	} {
		var list []miniPart
		for _, s := range row.staves {
			list = append(list, miniPart{s[0], patterned(s[1], stroke)})
		}
		list = append(list, miniPart{"Violin", patterned("xxxxxxxxxx", whole)})
		o := parts.DefaultOptions()
		o.Percussionists = row.players
		job := partstest.Job(t, miniScore(t, list...), o)
		var got []string
		lost := 0
		for i, a := range job.Assignments() {
			if a.Label == "Violin" {
				continue
			}
			made, err := job.Make(i)
			require.NoError(t, err, row.why)
			got = append(got, a.Label+": "+firstListOf(made))
			for _, w := range made.Report.Warnings {
				if w.Code == notice.MusicLost {
					assert.Equal(t, nobody[row.why], w.Measure+":"+w.Beat+" "+w.Text, row.why)
					lost++
				}
			}
		}
		assert.Equal(t, row.want, got, row.why)
		assert.Equal(t, row.lost, lost, row.why)
	}
}
