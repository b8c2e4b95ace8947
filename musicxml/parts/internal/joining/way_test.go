package joining_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/joining"
)

// barsWith writes a bar for each word: "|:" and ":|" are repeats, "1[" "1,2[" begin an
// ending, "]" ends it, "S" and "O" are the signs, "DC", "DS", "fine" and "to" are said by
// <sound>, "words:D.C._al_Fine" by words; "/" before one puts it into the middle of its bar,
// after two quarters, "~" behind its last note.
func barsWith(t *testing.T, text string) *musicxml.Timeline {
	t.Helper()
	var b strings.Builder
	for _, bar := range strings.Fields(text) {
		left, beginning, middle, end, right := "", "", "", "", ""
		for _, sign := range strings.Split(bar, "+") {
			inside := &beginning
			if rest, ok := strings.CutPrefix(sign, "/"); ok {
				sign, inside = rest, &middle
			}
			if rest, ok := strings.CutPrefix(sign, "~"); ok {
				sign, inside = rest, &end
			}
			switch {
			case sign == "|:":
				left += `<repeat direction="forward"/>`
			case sign == ":|":
				right += `<repeat direction="backward"/>`
			case sign == ":|j":
				right += `<repeat direction="backward" after-jump="yes"/>`
			case sign == ":|3":
				right += `<repeat direction="backward" times="3"/>`
			case strings.HasSuffix(sign, "["):
				left = `<ending number="` + strings.TrimSuffix(sign, "[") + `" type="start"/>` + left
			case sign == "]":
				right = `<ending number="1" type="stop"/>` + right
			case strings.HasPrefix(sign, ":|"):
				right += `<repeat direction="backward" times="` + sign[2:] + `"/>`
			case sign == "Sr":
				right += `<segno/>`
			case sign == "Or":
				right += `<coda/>`
			case sign == "Sb":
				left += `<segno/>`
			case sign == "Ob":
				left += `<coda/>`
			case sign == "Oto":
				*inside += `<direction><direction-type><coda/></direction-type><sound tocoda="x"/></direction>`
			case sign == "S":
				*inside += `<direction><direction-type><segno/></direction-type></direction>`
			case sign == "O":
				*inside += `<direction><direction-type><coda/></direction-type></direction>`
			case strings.HasPrefix(sign, "words:"):
				*inside += `<direction><direction-type><words>` + strings.ReplaceAll(sign[6:], "_", " ") + `</words></direction-type></direction>`
			case sign == "DCd":
				*inside += `<direction><direction-type><words>x</words></direction-type><sound dacapo="yes"/></direction>`
			case sign != "-":
				*inside += `<sound ` + map[string]string{"DC": `dacapo="yes"`, "DS": `dalsegno="x"`, "fine": `fine="yes"`, "to": `tocoda="x"`, "SS": `segno="x"`, "OO": `coda="x"`}[sign] + `/>`
			}
		}
		fmt.Fprintf(&b, `<measure><barline location="left">%s</barline>%s<note><rest/><duration>2</duration></note>%s<note><rest/><duration>2</duration></note>%s<barline location="right">%s</barline></measure>`,
			left, beginning, middle, end, right)
	}
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part>`+b.String()+`</part>`))
	timeline, err := musicxml.NewTimeline(doc.Root())
	require.NoError(t, err)
	return timeline
}

// TestWay: bars from 1 in the order in which a player plays them, by hand.
func TestWay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ why, bars, want string }{
		{"no repeats", "- - -", "1-3"}, {"from the beginning", "- :| -", "1-2 1-3"}, {"from where it begins", "- |: :| -", "1-3 2-4"},
		{"three times", "- |:+:|3 -", "1-2 2-2 2-3"}, {"two, one after the other", "- :| - :|", "1-2 1-4 3-4"},
		{"first and second ending", "- 1[+:|+] 2[+] -", "1-2 1-1 3-4"}, {"endings of two bars", "- 1[ :|+] 2[ ] -", "1-3 1-1 4-6"},
		{"the first ending twice", "- 1,2[+:|+] 3[+]", "1-2 1-2 1-1 3-3"}, {"a repeat after endings", "- 1[+:|+] 2[+] - :|", "1-2 1-1 3-5 4-5"},
		{"an ending of the ninth time is none", "- 9[+:|+] -", "1-2 1-3"},
		{"one of the eighth is not played before", "- 8[+:|+] -", "1-1 3-3"}, {"nor is one of no time", "- 0[+:|+] -", "1-2 1-3"},
		{"an ending of two times, one of them none", "- 1,9[+:|+] 2[+] -", "1-2 1-1 3-4"}, {"da capo", "- - DC", "1-3 1-3"},
		{"da capo al fine", "- fine DC", "1-3 1-2"}, {"in words alone", "- words:Fine words:D.C._al_Fine", "1-3 1-2"}, {"dal segno", "- S - DS", "1-4 2-4"},
		{"dal segno al coda", "- S to DS O -", "1-4 2-3 5-6"}, {"in words of another language", "- words:Schluß words:vom_Anfang", "1-3 1-2"},
		{"to the end, how it is played", "- words:sempre_p_al_fine DC", "1-3 1-3"},
		{"in words alone, the coda too", "- S words:To_Coda words:D.S._al_Coda words:Coda -", "1-4 2-3 5-6"},
		{"music after da capo and its fine", "fine DC -", "1-2 1-1"}, {"repeats are left out after da capo", "- :| DC", "1-2 1-3 1-3"},
		{"unless they say that they are not", "- :|j DC", "1-2 1-3 1-2 1-3"}, {"the last ending after da capo", "- 1[+:|+] 2[+] DC", "1-2 1-1 3-4 1-1 3-4"},
		{"da capo after a repeat in the same bar", "- DC+:|", "1-2 1-2 1-2"}, {"a segno that is not there", "- DS -", "1-3"},
		{"an end inside a bar", "- /fine DC", "1-3 1-1½"},
		{"an end behind the last note of a bar", "- ~fine DC", "1-3 1-2"}, {"over to the coda from there, behind a sign there", "~S - ~to DS O -", "1-4 2-3 5-6"}, {"what a direction says for playing", "- - DCd -", "1-3 1-4"},
		{"which ends the bar only after the jump, whatever is repeated there", "- |:+/fine+:| DC", "1-2 2-3 1-1½"},
		{"over to the coda from inside a bar, into the middle of one", "- S /to DS /O -", "1-4 2-2½ 5½-6"}, {"a sign inside a bar", "/S - DS -", "1-3 1½-4"},
		{"a sign at a bar line", "- Sb - DS", "1-4 2-4"}, {"signs at the end of a bar", "Sr - to DS+Or - -", "1-4 2-3 5-6"}, {"and of the last", "- DS - Sr", "1-4"}, {"a coda at one", "- S to DS Ob -", "1-4 2-3 5-6"}, {"what is played says it", "- SS to DS OO -", "1-4 2-3 5-6"}, {"inside bars", "/SS /to DS /OO -", "1-3 1½-1½ 4½-5"},
		{"a coda sign that leads to the coda is not the coda", "- S to Oto DS O -", "1-5 2-3 6-7"}, {"over to the middle of the next bar", "- S to /O DS -", "1-5 2-3 4½-6"}, {"to the next bar", "- S to O DS -", "1-5 2-6"},
		{"once is twice", "- |:+:|1 -", "1-2 2-3"}, {"more often than eight times", "|:+:|9", strings.TrimSpace(strings.Repeat("1-1 ", 8))}, {"eight times", "|:+:|8", strings.TrimSpace(strings.Repeat("1-1 ", 8))}, {"a number that is none", "- |:+:|x -", "1-2 2-3"},
		{"words inside a bar: at its end", "- /words:Fine DC", "1-3 1-2"},
	} {
		var got []string
		for _, s := range joining.Way(barsWith(t, c.bars)) {
			got = append(got, fmt.Sprintf("%d%s-%d%s", s.From.Measure+1, halves(s.From), s.To.Measure, halves(s.To)))
		}
		assert.Equal(t, c.want, strings.Join(got, " "), c.why)
	}
}

// TestWayEnds: whatever signs stand in a score, the way through it comes to an end, each
// bar of it is one of the score's, and no stretch goes on where the one before stopped.
func TestWayEnds(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(5, 7))
	signs := []string{"|:", ":|", ":|3", ":|j", "1[", "1,2[", "2[", "]", "S", "O", "DC", "DS", "fine", "to", "/fine", "/to", "/S", "/O"}
	for range 500 {
		var bars []string
		for range 1 + r.IntN(9) {
			bar := "-"
			for range r.IntN(4) {
				bar += "+" + signs[r.IntN(len(signs))]
			}
			bars = append(bars, bar)
		}
		text := strings.Join(bars, " ")
		end := musicxml.Position{Measure: -1}
		for _, s := range joining.Way(barsWith(t, text)) {
			last := musicxml.Position{Measure: len(bars)}
			assert.True(t, s.From.Measure >= 0 && s.From.Compare(s.To) < 0 && s.To.Compare(last) <= 0 && s.From != end, text)
			end = s.To
		}
	}
}

// halves marks a place in the middle of a bar of four quarters.
func halves(p musicxml.Position) string {
	if p.Onset == musicxml.NewFraction(2, 1) {
		return "½"
	}
	return ""
}
