package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
)

// TestSharedStaffMarks: what all have stands once, what one has with the voice of its
// player, above for the first and below for the second (common practice, no source); taken
// apart again each player has what the score had.
func TestSharedStaffMarks(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why           string
		first, second string
		want          string
		above, below  int // marks that say a voice, and where they stand
	}{
		{"both alike: once", `!p !< E5:h !. E5:h`, `!p !< C5:h !. C5:h`, `!p !< C5+E5:h !. C5+E5:h`, 0, 0},
		{"a hairpin of the first alone", `!< E5:h !. E5:h`, `C5:h C5:h`, `"1." !< E5:h !. E5:h / C5:h C5:h`, 2, 0},
		{"of the second alone, in unison", `E5:h E5:h`, `!> E5:h !. E5:h`, `"2." !> E5:h !. E5:h / E5:h E5:h`, 0, 2},
		{"hairpins that end apart", `!< E5:h !. E5:h`, `!< C5:w !.`, `!< !< E5:h !. E5:h !. / C5:w`, 2, 2},
		{"two dynamics", `!p E5:w`, `!f C5:w`, `!p !f E5:w / C5:w`, 1, 1},
		{"the number stands once", `!p "dolce" E5:h !< E5:h !.`, `C5:w`, `"1." !p "dolce" E5:h !< E5:h !. / C5:w`, 4, 0},
		{"until the other has one", `"dolce" E5:h E5:h`, `C5:h !> C5:h !.`, `"1." "dolce" E5:h "2." !> E5:h !. / C5:h C5:h`, 1, 2},
		{"also in the next bar", `"dolce" E5:w | !p E5:w`, `C5:w | C5:w`, `"1." "dolce" E5:w / C5:w | !p E5:w / C5:w`, 2, 0},
		{"anew behind what both play", `"dolce" E5:w | C5:w | !p E5:w`, `C5:w | C5:w | C5:w`, `"1." "dolce" E5:w / C5:w | "a 2" C5:w | "1." !p E5:w / C5:w`, 2, 0},
		{"words of one", `"dolce" E5:w`, `C5:w`, `"1." "dolce" E5:w / C5:w`, 1, 0},
		{"one plays alone", `!p E5:w`, `R`, `!p "1." E5:w`, 0, 0},
		{"the second alone", `R`, `!p C5:w`, `"2." !p C5:w`, 0, 0},
	} {
		score := scoreIn(t, shorthand.Score(t, shorthand.Entry{Name: "Flute 1", Music: c.first + " | E5:w"}, shorthand.Entry{Name: "Flute 2", Music: c.second + " | E5:w"}))
		o := parts.DefaultOptions()
		single, err := allSheets(t, score, o)
		require.NoError(t, err)
		o.Share = [][]string{{"Flute 1", "Flute 2"}}
		shared, err := allSheets(t, score, o)
		require.NoError(t, err)
		staff := partOf(shared[0])
		assert.Equal(t, c.want+` | "a 2" E5:w`, shorthand.Read(staff), c.why)
		var above, below int
		for _, direction := range staff.FindElements("measure/direction") {
			switch {
			case musicxml.Child(direction, "voice") == nil || musicxml.Attr(direction, "placement") == "":
			case musicxml.ChildText(direction, "voice") == "1":
				assert.Equal(t, "above", musicxml.Attr(direction, "placement"), c.why)
				above++
			default:
				assert.Equal(t, "below", musicxml.Attr(direction, "placement"), c.why)
				below++
			}
		}
		assert.Equal(t, [2]int{c.above, c.below}, [2]int{above, below}, c.why)
		o = parts.DefaultOptions()
		o.Players = true
		back, err := allSheets(t, scoreIn(t, shared[0].Bytes(musicxml.WriteOptions{})), o)
		require.NoError(t, err)
		for k := range single {
			assert.Equal(t, shorthand.Read(partOf(single[k])), shorthand.Read(partOf(back[k])), "%s, player %d", c.why, k+1)
		}
	}
}

// TestSharedStaffClefs: where the clefs of those who share a staff differ it has those that
// serve them all with the fewest ledger lines, changed at barlines or after rests; the stems
// of two voices part them (notation-rules, 9).
func TestSharedStaffClefs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ why, first, second, want string }{
		{"both have tenor clef: as they have it", `bass A3:w | tenor A4:w | bass A3:w`, `bass F3:w | tenor F4:w | bass F3:w`, `bass F3 +A3 | tenor F4 +A4 | bass F3 +A3`},
		{"the first high, the second low: bass clef", `bass E2:w | tenor E4:w | bass E2:w`, `bass C2:w | C2:w | C2:w`, `bass C2 +E2 | C2 +E4 | C2 +E2`},
		{"the first alone and high: tenor clef", `bass E2:w | tenor C5:w | C5:w | bass E2:w`, `bass C2:w | R | R | C2:w`, `bass C2 +E2 | tenor C5 | C5 | bass C2 +E2`},
		{"both high: tenor clef", `bass E2:w | tenor C5:w | C5:w | bass E2:w`, `bass C2:w | A4:w | A4:w | C2:w`, `bass C2 +E2 | tenor A4 +C5 | A4 +C5 | bass C2 +E2`},
		{"the second alone has tenor clef", `bass E2:w | R | R | E2:w`, `bass C2:w | tenor C5:w | C5:w | bass C2:w`, `bass C2 +E2 | tenor C5 | C5 | bass C2 +E2`},
		{"what all have stays, though another would do", `bass E3:w | tenor C5:w | C5:w`, `bass C3:w | R | R`, `bass C3 +E3 | tenor C5 | C5`},
		{"no change from note to note", `bass E2:h tenor C5:h | bass E2:w`, `bass C2:h A4:h | C2:w`, `bass C2 +E2 A4 +C5 | C2 +E2`},
		{"in two voices", `bass E3:h↓ E3:h↓`, `bass E2:w`, `bass E3↑ E3↑ << E2`},
		{"in two voices, the second below", `bass E3:h↓ E3:h↓`, `bass E2:q↑ E2:q↑ E2:h↑`, `bass E3↑ E3↑ << E2↓ E2↓ E2↓`},
		{"on one stem: as the note farthest from the middle line", `bass E3:h↓ D3:h↓`, `bass E2:h↑ C2:h↑`, `bass E2↑ +E3↑ C2↑ +D3↑`},
	} {
		score := scoreIn(t, shorthand.Score(t, shorthand.Entry{Name: "Bassoon 1", Music: c.first}, shorthand.Entry{Name: "Bassoon 2", Music: c.second}))
		o := parts.DefaultOptions()
		o.Share = [][]string{{"Bassoon 1", "Bassoon 2"}}
		shared, err := allSheets(t, score, o)
		require.NoError(t, err)
		assert.Equal(t, c.want, shorthand.ReadStaff(partOf(shared[0])), c.why)
	}
}

// The staff that players share is called by all of them and is what each of them has: notes and
// warnings are added up, of a player other than the first with the name; a sign holds to the bar
// line for all (Gould, from memory); who is silent together has one word, on one staff.
func TestSharedStaffReport(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why, first, second string
		notes              int
		warns              []string
		signs, words       string
	}{
		{"a natural against the other's sharp", "F#5:h G5:h | G5:w", "D5:h F5:h | F5:w", 6, nil, "sharp natural", ""},
		{"both silent", "R | R", "R | R", 0, nil, "", "Tacet"},
		{"too low for the second", "F#5:w | R", "C5:h A3:h | C5:w", 4, []string{"Flute 2 P2: written A3 lies below the range of Flute, which ends at written B3"}, "sharp", "2."},
		{"too low for the first", "C5:h A3:h | C5:w", "A4:w | A4:w", 5, []string{" : written A3 lies below the range of Flute, which ends at written B3"}, "", ""},
		{"a clef that the first does not read", "treble C5:w | alto C5:w", "A4:w | A4:w", 4, []string{" : the score's alto clef is none that Flute 1 reads; treble clef was taken"}, "", ""},
		{"a slur that never ends", "C5:w«<slur·type=\"start\"·number=\"1\"/>» | C5:w", "A4:w«<slur·type=\"start\"·number=\"1\"/>» | A4:w", 4, []string{" : the slur begins and does not end"}, "", ""},
	} {
		score := scoreIn(t, shorthand.Score(t, shorthand.Entry{Name: "Flute 1", Music: c.first}, shorthand.Entry{Name: "Flute 2", Music: c.second}, shorthand.Entry{Name: "Oboe", Music: "C5:w | C5:w"}))
		o := parts.DefaultOptions()
		o.Share = [][]string{{"Flute 1", "Flute 2"}}
		shared, err := allSheets(t, score, o)
		require.NoError(t, err)
		made := shared[0]
		var warns, signs, said []string
		for _, w := range made.Report.Warnings {
			warns = append(warns, w.SourceName+" "+w.SourcePart+": "+w.Text)
		}
		for _, e := range made.Document.FindElements("//accidental") {
			signs = append(signs, e.Text())
		}
		for _, e := range partOf(made).FindElements("measure/direction") {
			said = append(said, e.FindElement("direction-type/words").Text())
			assert.Nil(t, e.SelectElement("staff"), c.why)
		}
		assert.Equal(t, c.warns, warns, c.why)
		assert.Equal(t, []string{c.signs, c.words}, []string{strings.Join(signs, " "), strings.Join(said, " ")}, c.why)
		assert.Equal(t, c.notes, made.Report.Notes, c.why)
		entry := made.Document.FindElement("//score-part")
		assert.Equal(t, []string{"Flutes 1, 2", "Fl. 1, 2"}, []string{musicxml.ChildText(entry, "part-name"), musicxml.ChildText(entry, "part-abbreviation")}, c.why)
	}
}
