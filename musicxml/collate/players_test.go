package collate_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/collate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// playerCases hold the parts of two flutes against their shared staff in
// examples/lanterns-on-the-quay.musicxml ("1." in bars 3 and 4, "a 2" in bars 9
// and 23, two voices in bars 16, 18, 20 to 22 and 33 to 36). first and second are
// the parts; want is what must be found. The upper voice of bar 20 has G5 (3
// eighths) F#5 (1) E5 (half); the lower one E5 and E5, halves.
var playerCases = []struct {
	name, why string
	plant     func(first, second planted)
	alone     bool // the second player's part is not there
	want      []string
}{
	{"both as the copyist parts them", "they agree", func(_, _ planted) {}, false, nil},
	{"one player alone", "nothing is known of the other", func(_, _ planted) {}, true, nil},
	{"voices changed over", "the score does not name the player of a voice", func(a, b planted) {
		swapBars(a, b, 20)
	}, false, nil},
	{"solo given to the other", "the players have all notes together", func(a, b planted) {
		swapBars(a, b, 3)
		swapBars(a, b, 4)
	}, false, nil},
	{"wrong note of one player", "a note that is nowhere in the staff", func(a, _ planted) {
		a.pitch(20, 1, "A", "", "5")
	}, false, []string{"Flute 1: bar 20 beat 1 pitch"}},
	{"note lost from an expected line", "a hole, although the other player has the note too", func(_, b planted) {
		silence(b.note(9, 1))
	}, false, []string{"Flute 2: bar 9 beat 1 missing"}},
	{"missing bar of one player", "one difference", func(_, b planted) {
		b.lose(b.bar(11))
	}, false, []string{"Flute 2: bar 11 beat  bars"}},
	{"a line that nobody has", "both have the lower voice", func(a, b planted) {
		m := a.bar(20)
		m.Parent().InsertChildAt(m.Index(), b.bar(20).Copy())
		a.lose(m)
	}, false, []string{"Flute 1: bar 20 beat 1 missing", "Flute 1: bar 20 beat 2.5 missing"}},
}

func swapBars(a, b planted, n int) {
	x, y := a.bar(n), b.bar(n)
	x.Parent().InsertChildAt(x.Index(), y.Copy())
	y.Parent().InsertChildAt(y.Index(), x.Copy())
	x.Parent().RemoveChild(x)
	y.Parent().RemoveChild(y)
}

// silence makes a rest of a note.
func silence(n *etree.Element) {
	p := n.SelectElement("pitch")
	n.InsertChildAt(p.Index(), etree.NewElement("rest"))
	n.RemoveChild(p)
}

func TestPlayersOfASharedStaff(t *testing.T) {
	score := readScore(t, filepath.Join(musicxmltest.ProjectRoot(t), "examples", "lanterns-on-the-quay.musicxml"))
	s := collator(t, score)
	o := parts.DefaultOptions()
	o.Players, o.RestBars = true, 0
	for _, c := range playerCases {
		t.Run(c.name, func(t *testing.T) {
			var flutes []partFile
			for _, f := range extract(t, score, o) {
				if strings.Contains(f.name, "Flute") {
					flutes = append(flutes, f)
				}
			}
			require.Len(t, flutes, 2)
			part := func(i int) planted { return planted{t, flutes[i].doc.FindElement("score-partwise/part")} }
			c.plant(part(0), part(1))
			if c.alone {
				flutes = flutes[:1]
			}
			results, err := s.Collate(readFiles(t, flutes...), collate.Options{}, nil)
			require.NoError(t, err)
			var found []string
			for _, line := range lines(results) {
				words := strings.SplitN(line, ": ", 3)
				found = append(found, words[0]+": "+words[1])
			}
			assert.Equal(t, c.want, found, "%s: %q", c.why, lines(results))
		})
	}
}

// TestPartsOfAnotherMovement: each is said once to belong elsewhere.
func TestPartsOfAnotherMovement(t *testing.T) {
	movements := musicxmltest.SharedSpread(t, "scores/concert/*.mxl", "scores/quartets/*.mxl")
	for i, path := range movements {
		other := movements[(i+1)%len(movements)]
		s := collator(t, readScore(t, path))
		files := extract(t, readScore(t, other), parts.DefaultOptions())
		results, err := s.Collate(readFiles(t, files...), collate.Options{}, nil)
		require.NoError(t, err)
		for _, r := range results {
			if assert.Len(t, r.Differences, 1, "%s in %s", r.File, path) {
				assert.Equal(t, collate.Extra, r.Differences[0].Kind)
				assert.Contains(t, r.Differences[0].Text, "does not belong to this score")
			}
		}
	}
}

// TestPartsOfAStaffThatIsNotParted: two violins share the double stops of
// testdata/tide-tables.musicxml, which the copyist leaves to one player. Each has
// some notes of the staff, and both together all.
func TestPartsOfAStaffThatIsNotParted(t *testing.T) {
	score := readScore(t, filepath.Join("testdata", "chorale-in-chords.musicxml"))
	s := collator(t, score)
	for _, c := range []struct {
		name, why string
		plant     func(upper, lower planted)
		want      []string
	}{
		{"upper and lower", "together they have the staff", func(_, _ planted) {}, nil},
		{"wrong note", "a note that is nowhere in the staff", func(u, _ planted) { u.pitch(2, 1, "A", "", "5") }, []string{"bar 2 beat 1 pitch"}},
		{"missing bar", "one difference", func(_, l planted) { l.lose(l.bar(3)) }, []string{"bar 3 beat  bars"}},
		{"note that nobody has", "the players together lack it", func(_, l planted) { silence(l.note(4, 2)) }, []string{"bar 4 beat 3 missing"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := append(extract(t, score, parts.DefaultOptions()), extract(t, score, parts.DefaultOptions())...)
			require.Len(t, files, 2)
			upper, lower := planted{t, files[0].doc.FindElement("score-partwise/part")}, planted{t, files[1].doc.FindElement("score-partwise/part")}
			files[0].name, files[1].name = "upper.musicxml", "lower.musicxml"
			keepOfChords(upper.part, true)
			keepOfChords(lower.part, false)
			c.plant(upper, lower)
			results, err := s.Collate(readFiles(t, files...), collate.Options{}, nil)
			require.NoError(t, err)
			var found []string
			for _, line := range lines(results) {
				found = append(found, strings.SplitN(line, ": ", 3)[1])
			}
			assert.Equal(t, c.want, found, "%s: %q", c.why, lines(results))
		})
	}
}

// keepOfChords leaves the upper or the lower note of each chord of two; the lower
// one is written first.
func keepOfChords(part *etree.Element, upper bool) {
	for _, n := range part.FindElements("measure/note") {
		chord := n.SelectElement("chord")
		switch {
		case chord == nil:
		case !upper:
			n.Parent().RemoveChild(n)
		default:
			siblings := n.Parent().ChildElements()
			for i, e := range siblings {
				if e == n {
					n.Parent().RemoveChild(siblings[i-1])
				}
			}
			n.RemoveChild(chord)
		}
	}
}
