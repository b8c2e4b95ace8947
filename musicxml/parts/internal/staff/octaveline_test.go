package staff

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/plan"
)

// shift is one end of an octave line.
func shift(kind, more string) string {
	return `<direction><direction-type><octave-shift type="` + kind + `"` + more + `/></direction-type></direction> `
}

// Octave lines go from a part for another player where no note under them needs more than two
// ledger lines (trade/part-preparation.md, section 4): D6 has two above the treble clef, E6
// three. Others are told of; keyboards, bars and who has several staves keep them.
func TestOctaveLines(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const kept, few = "an octave line; players of Flute read the ledger lines", "an octave line; players of Flute read the ledger lines, here two at most"
	for _, row := range []struct{ why, from, to, music, want, said string }{
		{"two ledger lines", "violin", "flute", "treble E5 " + shift("down", "") + "D6 " + shift("stop", "") + "E5:h", "", ""}, {"three", "violin", "flute", "treble E5 " + shift("down", "") + "E6 " + shift("stop", "") + "E5:h", "down stop", "1:2 " + kept},
		{"the same player", "flute", "flute", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", "1:1 " + few}, {"a high note behind it", "violin", "flute", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E7:hd", "", ""},
		{"a high note before it", "violin", "flute", "treble E7 " + shift("down", "") + "D6 " + shift("stop", "") + "E5:h", "", ""}, {"in bars before and behind", "violin", "flute", "treble E7:w | " + shift("down", "") + "D6:w | D6:h " + shift("stop", "") + "E5:h | E7:w", "", ""},
		{"a high note at its end", "violin", "flute", "treble " + shift("down", "") + "D6:w | D6:h E6:h " + shift("stop", "") + "| E5:w", "down stop", "1:1 " + kept}, {"on another staff", "violin", "flute", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "D6:hd // E7:w", "", ""},
		{"a hidden note", "violin", "flute", "treble " + shift("down", "") + "D6 E7*:q " + shift("stop", "") + "E5:h", "", ""}, {"a rest", "violin", "flute", "treble " + shift("down", "") + `<note><rest><display-step>E</display-step><display-octave>7</display-octave></rest><duration>48</duration><voice>1</voice></note> ` + shift("stop", "") + "E5:h", "", ""},
		{"it never ends", "violin", "flute", "treble E5 " + shift("down", "") + "D6 E5:h", "down", "1:2 " + few}, {"it goes on", "violin", "flute", "treble " + shift("down", "") + "D6 " + shift("continue", "") + "D6 " + shift("stop", "") + "E5:h", "", ""},
		{"one after the other", "violin", "flute", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "D6 " + shift("down", "") + "D6 " + shift("stop", "") + "D6", "", ""}, {"the second of two stays", "violin", "flute", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "D6 " + shift("down", "") + "E6 " + shift("stop", "") + "D6", "down stop", "1:3 " + kept},
		{"the first of two stays", "violin", "flute", "treble " + shift("down", "") + "E6 " + shift("stop", "") + "D6 " + shift("down", "") + "D6 " + shift("stop", "") + "D6", "down stop", "1:1 " + kept}, {"beside words", "violin", "flute", "treble " + strings.Replace(shift("down", ""), "</direction-type>", "</direction-type><direction-type><words>x</words></direction-type>", 1) + "D6 " + shift("stop", "") + "E5:hd", "words", ""},
		{"in one with words", "violin", "flute", "treble " + strings.Replace(shift("down", ""), "<octave-shift", "<words>x</words><octave-shift", 1) + "D6 " + shift("stop", "") + "E5:hd", "words", ""}, {"an 8vb", "violin", "flute", "treble " + shift("up", "") + "A3 " + shift("stop", "") + "E5:hd", "", ""}, {"a low one", "violin", "flute", "treble " + shift("up", "") + "F3 " + shift("stop", "") + "E5:hd", "up stop", "1:1 " + kept},
		{"an end alone", "violin", "flute", "treble " + shift("stop", "") + "E5:w", "stop", ""}, {"a middle alone", "violin", "flute", "treble " + shift("continue", "") + "E5:w", "continue", ""}, {"a keyboard", "violin", "piano", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", ""},
		{"a celesta", "violin", "celesta", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", ""}, {"bars", "violin", "vibraphone", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", ""}, {"a harp", "violin", "harp", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", ""},
		{"nobody knows", "violin", "", "treble " + shift("down", "") + "D6 " + shift("stop", "") + "E5:hd", "down stop", ""}, {"15ma", "violin", "flute", "treble " + shift("down", ` size="15"`) + "D6 " + shift("stop", "") + "E5:hd", "", ""},
	} {
		p, d := pageOf(t, row.music)
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: assign.ByPlan, Instrument: catalogue.ByID(row.to), Written: catalogue.ByID(row.from)}
		changed := (&layout{d, p}).settleOctaveLines()
		var left, said []string
		for _, e := range d.Part.FindElements("//direction-type/*") {
			left = append(left, e.Tag[:min(len(e.Tag), 5)]+musicxml.Attr(e, "type"))
		}
		assert.Equal(t, row.want, strings.ReplaceAll(strings.Join(left, " "), "octav", ""), row.why)
		assert.Equal(t, strings.Count(row.music, "<octave-shift") != strings.Count(row.want, "down")+strings.Count(row.want, "up")+strings.Count(row.want, "stop")+strings.Count(row.want, "continue"), changed, row.why)
		for _, e := range append(d.Part.FindElements("//direction-type"), d.Part.FindElements("//direction")...) {
			assert.NotEmpty(t, e.ChildElements(), row.why)
		}
		for _, w := range d.Report.Warnings {
			require.Equal(t, "octave-line", string(w.Code))
			said = append(said, w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.said, strings.Join(said, "; "), row.why)
	}
}

// The size of an octave line counts notes: 8 is an octave, 15 are two, 22 three (MusicXML 4.0,
// octave-shift); what no line has is one.
func TestOctavesOf(t *testing.T) {
	t.Parallel()
	for size, want := range map[string]int{"": 1, "8": 1, "15": 2, "22": 3, "1": 0, "0": 1, "-8": 1, "99": 14, "100": 1, "x": 1} {
		e := etree.NewElement("octave-shift")
		e.CreateAttr("size", size)
		assert.Equal(t, want, octavesOf(e), size)
		e.CreateAttr("type", "up")
		assert.Equal(t, -want, octavesOf(e), size)
	}
}

// Marks at a note whose stem was turned: at the head, at the stem, off a shared staff above
// (common practice, no source; MusicXML 4.0 for the names). u: the stem goes up, d: down, n:
// there is none; "ud" was turned down.
func TestTurnedMarks(t *testing.T) {
	t.Parallel()
	stems := map[byte]direction{'u': stemUp, 'd': stemDown, 'n': noStem}
	signs := func(tag, more string) string {
		return `<notations><articulations><` + tag + more + `/></articulations></notations>`
	}
	const above, below = ` placement="above"`, ` placement="below"`
	for _, row := range []struct {
		turn        string
		split       bool
		marks, want string
	}{
		{"ud", false, `<dot placement="below"/>`, `<dot/>`}, {"ud", false, `<lyric placement="above"/>`, `<lyric placement="above"/>`}, {"ud", true, `<lyric placement="above"/>`, `<lyric/>`}, {"ud", false, `<stem placement="above"/>`, `<stem placement="above"/>`},
		{"du", false, `<notehead>fa</notehead>`, `<notehead>fa up</notehead>`}, {"ud", false, `<notehead>fa</notehead>`, `<notehead>fa</notehead>`}, {"nu", false, `<notehead>fa</notehead>`, `<notehead>fa</notehead>`}, {"dn", false, `<notehead>fa</notehead>`, `<notehead>fa</notehead>`}, {"du", false, `<notehead>so</notehead>`, `<notehead>so</notehead>`},
		{"ud", false, `<notehead>fa up</notehead>`, `<notehead>fa</notehead>`}, {"du", false, `<notehead>fa up</notehead>`, `<notehead>fa up</notehead>`}, {"ud", false, `<notehead>x</notehead>`, `<notehead>x</notehead>`},
		{"ud", false, `<notations><tied orientation="over" placement="above"/></notations>`, `<notations><tied/></notations>`}, {"ud", false, `<notations><slur orientation="over"/></notations>`, `<notations><slur orientation="over"/></notations>`},
		{"ud", false, `<notations><tuplet` + above + `/></notations>`, `<notations><tuplet` + below + `/></notations>`}, {"du", false, `<notations><tuplet` + below + `/></notations>`, `<notations><tuplet` + above + `/></notations>`}, {"ud", false, `<notations><tuplet` + below + `/></notations>`, `<notations><tuplet` + below + `/></notations>`},
		{"un", false, `<notations><tuplet` + above + `/></notations>`, `<notations><tuplet` + above + `/></notations>`}, {"nd", false, `<notations><tuplet/></notations>`, `<notations><tuplet/></notations>`}, {"ud", false, `<notations><tuplet/></notations>`, `<notations><tuplet/></notations>`},
		{"uu", true, `<notations><fermata type="inverted"/></notations>`, `<notations><fermata type="upright"/></notations>`}, {"ud", false, `<notations><fermata type="inverted"/></notations>`, `<notations><fermata type="inverted"/></notations>`}, {"uu", true, `<notations><fermata type="upright"/></notations>`, `<notations><fermata type="upright"/></notations>`}, {"uu", true, `<notations><fermata/></notations>`, `<notations><fermata/></notations>`},
		{"uu", true, `<notations><ornaments><turn` + below + `/></ornaments><technical><stopped` + below + `/></technical></notations>`, `<notations><ornaments><turn/></ornaments><technical><stopped/></technical></notations>`}, {"ud", false, `<notations><ornaments><turn` + below + `/></ornaments></notations>`, `<notations><ornaments><turn` + below + `/></ornaments></notations>`},
		{"ud", false, signs("accent", below), signs("accent", above)}, {"ud", false, signs("staccato", below), signs("staccato", above)}, {"ud", false, signs("tenuto", below), signs("tenuto", above)}, {"ud", false, signs("detached-legato", below), signs("detached-legato", above)}, {"ud", false, signs("staccatissimo", below), signs("staccatissimo", above)},
		{"ud", false, signs("spiccato", below), signs("spiccato", above)}, {"ud", false, signs("stress", below), signs("stress", above)}, {"ud", false, signs("unstress", below), signs("unstress", above)}, {"ud", false, signs("soft-accent", below), signs("soft-accent", above)},
		{"du", false, signs("accent", above), signs("accent", below)}, {"du", false, signs("accent", below), signs("accent", below)}, {"ud", false, signs("accent", ""), signs("accent", "")}, {"un", false, signs("accent", below), signs("accent", below)}, {"ud", false, signs("breath-mark", below), signs("breath-mark", below)},
		{"ud", false, signs("strong-accent", ` type="down"`+below), signs("strong-accent", ` type="up"`+above)}, {"du", false, signs("strong-accent", ` type="up"`+above), signs("strong-accent", ` type="down"`+below)}, {"ud", false, signs("strong-accent", ` type="down"`), signs("strong-accent", ` type="down"`)}, {"ud", false, signs("strong-accent", ` type="up"`+above), signs("strong-accent", ` type="up"`+above)},
		{"ud", true, signs("strong-accent", ` type="down"`), signs("strong-accent", ``)}, {"ud", true, signs("accent", ` type="down"`), signs("accent", ` type="down"`)}, {"ud", true, signs("breath-mark", below), signs("breath-mark", "")}, {"ud", true, signs("breath-mark", above), signs("breath-mark", above)}, {"un", true, signs("breath-mark", below), signs("breath-mark", below)},
		{"uu", true, signs("accent", above), signs("accent", below)}, {"uu", true, signs("strong-accent", ` type="up"`+above), signs("strong-accent", ` type="down"`+below)}, {"dd", true, signs("strong-accent", ` type="x"`+above), signs("strong-accent", ` type="x"`+above)}, {"uu", false, signs("accent", above), signs("accent", above)},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString("<note><!-- x -->"+row.marks+"</note>"))
		turned{from: stems[row.turn[0]], to: stems[row.turn[1]], split: row.split}.note(doc.Root())
		text, err := doc.WriteToString()
		require.NoError(t, err)
		assert.Equal(t, "<note><!-- x -->"+row.want+"</note>", text, "%s %v %s", row.turn, row.split, row.marks)
	}
}

// A slur lies below where all stems under it go up, else above, once one of them was turned.
// Stems as in TestTurnedMarks, in capitals where they were turned.
func TestSlursFollow(t *testing.T) {
	t.Parallel()
	slur := func(kind, number, more string) string {
		return `«<slur·type="` + kind + `"·number="` + number + `"` + more + `/>»`
	}
	const side, lies = `·placement="x"`, `·orientation="x"`
	many := "C5" + slur("start", "first", side)
	for i := range 63 {
		many += " C5" + slur("start", strconv.Itoa(i), side)
	}
	for _, row := range []struct{ why, music, stems, want string }{
		{"stems that turned up", "C5" + slur("start", "1", side) + " D5 E5" + slur("stop", "1", side), "UUU", "below below"}, {"one stays down", "C5" + slur("start", "1", side) + " D5 E5" + slur("stop", "1", side), "UdU", "above above"}, {"none was turned", "C5" + slur("start", "1", side) + " D5" + slur("stop", "1", side), "uu", "x x"}, {"the last was turned", "C5" + slur("start", "1", side) + " D5" + slur("stop", "1", ""), "uD", "above -"},
		{"it says how it is bent", "C5" + slur("start", "1", lies) + " D5" + slur("continue", "1", lies) + " E5" + slur("stop", "1", lies), "UUU", "under under under"}, {"bent down", "C5" + slur("start", "1", lies) + " D5" + slur("stop", "1", ""), "DD", "over -"}, {"it says nothing", "C5" + slur("start", "1", "") + " D5" + slur("stop", "1", ""), "UU", "- -"},
		{"the one before is over", "C5" + slur("start", "1", side) + " D5" + slur("stop", "1", "") + " E5" + slur("start", "1", "") + " F5" + slur("stop", "1", ""), "UUDD", "below - - -"}, {"one that never ended", "C5" + slur("start", "1", side) + " D5 E5" + slur("start", "1", side) + " F5" + slur("stop", "1", side), "DDUU", "x below below"},
		{"each its own", "C5" + slur("start", "1", side) + " D5" + slur("start", "2", side) + " E5" + slur("stop", "2", side) + " F5" + slur("stop", "1", side), "DUUU", "above below below above"}, {"the end of another", "C5" + slur("start", "1", side) + " D5" + slur("stop", "2", side), "UU", "x x"},
		{"a stem of another voice", "C5:h" + slur("start", "1", side) + " D5:h" + slur("stop", "1", side) + " << C4:w", "UUD", "below below"}, {"over a rest", "C5" + slur("start", "1", side) + " r D5" + slur("stop", "1", side), "UdU", "below below"},
		{"sixty-four are followed", many + " C5" + slur("stop", "first", side), strings.Repeat("U", 65), "below" + strings.Repeat(" x", 63) + " below"}, {"the first of more is let go", many + " C5" + slur("start", "more", side) + " C5" + slur("stop", "first", side), strings.Repeat("U", 66), strings.TrimSpace(strings.Repeat("x ", 66))},
	} {
		p, d := pageOf(t, row.music)
		var follower slurFollower
		for i := range p.Notes {
			p.Notes[i].stemNow = map[string]direction{"U": stemUp, "D": stemDown}[strings.ToUpper(row.stems[i:i+1])]
			follower.follow(&p.Notes[i], strings.Contains("UD", row.stems[i:i+1]))
		}
		var got []string
		for _, e := range d.Part.FindElements("//slur") {
			got = append(got, e.SelectAttrValue("placement", e.SelectAttrValue("orientation", "-")))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// Stems of notes that stand elsewhere than in the score, by the rules of trade/notation-rules.md,
// section 9: below the middle line up, on it and above down; a chord or a beam as the note
// farthest from the middle has it, of two as far as most heads have it; grace notes go up.
func TestTurnStems(t *testing.T) {
	t.Parallel()
	const percussion, line = "<attributes><clef><sign>percussion</sign></clef></attributes> ", "<attributes><staff-details><staff-lines>1</staff-lines></staff-details></attributes> "
	for _, row := range []struct {
		why, music string
		by         int // letter steps that all stand higher
		split      bool
		want       string // u, d, - for none; in capitals where the stem was looked at
	}{
		{"as in the score", "A4↓ B4↑ C5↑ D5:q", 0, false, "d u u -"}, {"off a shared staff", "A4↓ B4↑ C5↑ D5:q", 0, true, "U D D -"}, {"a step higher", "G4↑ A4↑ B4↑ C5↓", 1, false, "U D D D"}, {"a step lower", "B4↓ C5↓ D5↓ A4↑", -1, false, "U D D U"},
		{"a chord", "D4↓ +G4 B4↑ +F5", 0, true, "U - D -"}, {"a chord as far both ways", "E4↓ +F5 E4↓ +G4 +F5 E4↑ +D5 +F5 r", 0, true, "D - U - - D - -"}, {"a beam", "E4:e↑{ A5:e↑} C4:e↓{ G5:e↓} r:h", 0, true, "D D U U"}, {"a beam of three", "E4:e↓{ F4:e↓- C5:e↓} r:e r:h", 0, true, "U U U"},
		{"a beam that never ends", "E4:e↓{ F4:e↓ E5:e↑{ F5:e↑} r:h", 0, true, "U U D D"}, {"a beam that goes on from nowhere", "E4:e↓- F4:e↓} E5:q↑ r:h", 0, true, "U U D"}, {"a grace note", "g!A5:e↓ A4↓ r:hd", 0, true, "U U"}, {"grace notes under a beam", "g!A5:s↓{ g!B5:s↓} C5:e↑{ D5:e↑} r:hd", 0, true, "U U D D"},
		{"without a stem", "A4! B4:q r:h", 1, false, "- -"}, {"two voices", "A4:h↓ B4:h↑ / F4:w", 0, true, "d u -"}, {"two voices, one after the other", "A4:h↓ r:h / r:h E5:h↑", 1, false, "d u"}, {"a hidden one", "A4:h↓ B4:h↑ / F4*:w", 0, true, "U D -"}, {"the other before", "F4:w / A4:h↓ B4:h↑", 0, true, "- d u"}, {"on another staff", "A4:h↓ B4:h↑ // F4:w", 0, true, "U D -"},
		{"a beam from staff to staff", "A4:e↓{ =2 F5:e↓} =1 B4:hd // r:w", 0, true, "d d -"}, {"in percussion clef", percussion + "A4↓ B4↑ r:h", 0, true, "d u"}, {"on one line", line + "A4↓ B4↑ r:h", 0, true, "d u"}, {"beside a rest of another", "A4:h↓ B4:h↑ / r:w", 0, true, "d u"},
	} {
		p, d := pageOf(t, row.music)
		for i := range p.Notes {
			p.Notes[i].now = p.Notes[i].was + row.by
		}
		require.NoError(t, p.TurnStems(row.split))
		var got []string
		for i, e := range d.Part.FindElements("//note") {
			if musicxml.Child(e, "rest") != nil {
				continue
			}
			stem := map[string]string{"up": "u", "down": "d"}[musicxml.ChildText(e, "stem")]
			if stem == "" {
				stem = "-"
			}
			if p.Notes[i].turned {
				stem = strings.ToUpper(stem)
			}
			got = append(got, stem)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
	p, _ := pageOf(t, "A4:w B4:w")
	p.Notes[0].now, p.Notes[1].now = p.Notes[0].was+1, p.Notes[1].was-1
	require.NoError(t, p.TurnStems(false))
	assert.Equal(t, []direction{stemUp, stemDown, stemDown, stemUp}, []direction{p.Notes[0].stemWas, p.Notes[0].stemNow, p.Notes[1].stemWas, p.Notes[1].stemNow}, "marks of whole notes stand as at stems")
	assert.Equal(t, []string{"up", "down", ""}, []string{stemUp.String(), stemDown.String(), noStem.String()})
}

// A rest or a stroke that has a place of its own keeps it when the clef changes around it; notes
// keep their pitch.
func TestPlacesKept(t *testing.T) {
	t.Parallel()
	const rest = `<note><rest><display-step>D</display-step><display-octave>3</display-octave></rest><duration>24</duration><voice>1</voice></note> `
	p, d := pageOf(t, "bass "+rest+"u!F3 D3 r")
	d.Assignment.Clef = "alto"
	require.NoError(t, p.ChooseClefs(d))
	for i, want := range []string{"C4", "E4"} { // the middle line and a line above, as in bass clef
		e := d.Part.FindElements("//note")[i].ChildElements()[0]
		assert.Equal(t, want, musicxml.ChildText(e, "display-step")+musicxml.ChildText(e, "display-octave"))
		assert.Equal(t, p.Notes[i].was, p.Notes[i].now)
	}
	assert.Equal(t, []int{4, -2}, []int{p.Notes[2].was, p.Notes[2].now})
	p, d = pageOf(t, "C5:h D5:h | u!E5:w // E4:w | F4:w")
	music := d.Part.FindElements("//note/pitch")
	musicxml.SetChildText(music[0], "octave", "4")
	p.takeMoved()
	assert.Equal(t, []bool{true, false}, []bool{p.Staves[0].moved, p.Staves[1].moved})
	assert.Equal(t, []int{28, 36}, []int{p.Notes[0].place, p.Notes[1].place})
	assert.True(t, p.anyMoved())
	assert.False(t, (&Page{Staves: make([]staff, 1)}).anyMoved())
}

// Which notes are settled: those whose stems were turned, and off a shared staff all that were
// looked at, with its rests.
func TestSettlePlacement(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why           string
		turned, split bool
		from, to      direction
		rest, placed  bool
		settled       bool
	}{
		{"turned", true, false, stemUp, stemDown, false, true, true}, {"looked at and left", true, false, stemUp, stemUp, false, true, false}, {"looked at off a shared staff", true, true, stemUp, stemUp, false, true, true}, {"not looked at", false, false, stemUp, stemDown, false, true, false}, {"not looked at off a shared staff", false, true, stemUp, stemDown, false, true, false},
		{"a rest", false, false, noStem, noStem, true, true, false}, {"a rest off a shared staff", false, true, noStem, noStem, true, true, true}, {"one without a place", false, true, noStem, noStem, true, false, true}, {"one without a place that is nobody's", true, false, stemUp, stemDown, true, false, false},
	} {
		p, d := pageOf(t, "C5:w")
		musicxml.AddInOrder(d.Part.FindElement("//note"), etree.NewElement("dot"))
		d.Part.FindElement("//note/dot").CreateAttr("placement", "below")
		n := &p.Notes[0]
		n.turned, n.stemWas, n.stemNow, n.Event.Rest = row.turned, row.from, row.to, row.rest
		if !row.placed {
			n.Pitch = nil
		}
		require.NoError(t, p.SettlePlacement(row.split))
		assert.Equal(t, row.settled, d.Part.FindElement("//note/dot").SelectAttr("placement") == nil, row.why)
	}
}
