package making

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/musicxml/sounding"
	"deskpart/transpose/pitch"
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
				assert.Equal(t, "the score sounds in this bar and every player is silent all through (4 quarter notes)", w.Text)
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

// deskOf is a player's desk with a draft for each staff, in shorthand.
func deskOf(t *testing.T, rows [][]int, music ...string) *deskPart {
	t.Helper()
	d := &deskPart{Maker: new(Maker), Desk: &doubling.Desk{Staves: make([]assign.Assignment, len(music)), Layout: desks.Layout{Rows: rows, Turns: make([]desks.Turns, len(rows))}}}
	for _, m := range music {
		one := &draft.Draft{Part: shorthand.Part(t, m), Timeline: new(musicxml.Timeline), Slabs: new(musicxml.Slabs), Survey: new(survey.Part), Staves: 1}
		one.Rewritten()
		require.NoError(t, one.Settle())
		d.drafts = append(d.drafts, one)
		heard, err := sounding.Read(one.Part)
		require.NoError(t, err)
		d.heard = append(d.heard, heard)
	}
	return d
}

// What was done for a player's staves is added up; what is said of the part itself is that of the
// staff that it is called by.
func TestReportsAddedUp(t *testing.T) {
	t.Parallel()
	at := musicxml.Position{Measure: 1}
	warned := func(code notice.Code) []musicxml.Warning { return []musicxml.Warning{{Code: code}} }
	for _, row := range []struct {
		why                   string
		changes, turns, wants bool
	}{{"the player keeps his instrument", false, false, false}, {"one on a staff changes", true, false, true}, {"the staves are taken in turn", false, true, true}} {
		d := deskOf(t, [][]int{{0, 1}}, "C5:w", "C5:w")
		d.host = 1
		d.drafts[0].Report = draft.Report{Notes: 3, Respelled: 1, Measures: 9, Octaves: []draft.OctaveChange{{At: at, Octave: 1}}, Warnings: warned("a"), ChangesInstrument: row.changes, Tacet: true}
		d.drafts[1].Report = draft.Report{Notes: 4, Respelled: 2, Measures: 7, Octaves: []draft.OctaveChange{{At: at, Octave: -1}}, Warnings: warned("b"), Heard: new(draft.Heard), Moved: pitch.Interval{Diatonic: 1, Chromatic: 2}}
		if row.turns {
			d.Layout.Turns[0].Changes = []desks.Change{{To: 1, Seconds: 60}}
		}
		part := new(draft.Draft)
		d.report(part)
		assert.Equal(t, draft.Report{Notes: 7, Respelled: 3, Measures: 9, Octaves: []draft.OctaveChange{{At: at, Octave: 1}, {At: at, Octave: -1}}, Warnings: []musicxml.Warning{{Code: "a"}, {Code: "b"}},
			Moved: pitch.Interval{Diatonic: 1, Chromatic: 2}, ChangesInstrument: row.wants}, part.Report, row.why)
	}
}

// Words over a staff at a moment, once, however the music has them; behind the end none.
func TestWordsOverAStaff(t *testing.T) {
	t.Parallel()
	d := deskOf(t, nil, `C5:h "Piccolo" D5:h | "to" " flute " E5:w`)
	part := d.drafts[0]
	at := func(measure int, beat int64) musicxml.Position {
		return musicxml.Position{Measure: measure, Onset: musicxml.NewFraction(beat, 1)}
	}
	for _, row := range []struct {
		at   musicxml.Position
		text string
		want bool
	}{{at(0, 2), "piccolo", true}, {at(0, 0), "piccolo", false}, {at(0, 2), "flute", false}, {at(1, 0), "Flute", true}, {at(1, 2), "Flute", false}, {at(2, 0), "Flute", false}} {
		assert.Equal(t, row.want, saidAt(part, row.at, row.text), "%+v %s", row.at, row.text)
	}
	for _, staves := range []int{1, 2} {
		part.Staves = staves
		before := len(part.Part.FindElements("measure[2]/direction"))
		d.say(part, at(1, 0), 2, "Oboe")
		d.say(part, at(2, 0), 2, "nowhere")
		require.NoError(t, part.Settle())
		added := part.Part.FindElements("measure[2]/direction[@placement='above']")
		last := added[len(added)-1]
		assert.Len(t, part.Part.FindElements("measure[2]/direction"), before+1)
		if staves == 1 {
			assert.Empty(t, musicxml.ChildText(last, "staff"))
		} else {
			assert.NotNil(t, part.Part.FindElement("measure[2]/direction[staff='3']"))
		}
		assert.True(t, part.NamesChange(last))
		assert.True(t, saidAt(part, at(1, 0), "oboe"))
	}
}

// What the finished part is looked over for: its player has several instruments, each given or not,
// and reads the clefs of all; any clef where on one staff any will do.
func TestExamined(t *testing.T) {
	t.Parallel()
	treble, bass := instruments.Clef{Sign: "G", Line: 2}, instruments.Clef{Sign: "F", Line: 4}
	for _, row := range []struct {
		read [][]instruments.Clef
		want []instruments.Clef
	}{
		{[][]instruments.Clef{{treble}, {bass}}, []instruments.Clef{treble, bass}}, {[][]instruments.Clef{{treble}, {}}, nil}, {[][]instruments.Clef{nil, {bass}}, nil},
	} {
		d := deskOf(t, nil, "C5:w")
		d.clefs = row.read
		part := d.drafts[0]
		part.Score, part.Assignment.Instrument = &survey.Score{}, new(instruments.Instrument)
		part.Assignment.RecognisedBy = assign.ByPlan
		assert.True(t, Finished(part, etree.NewDocument(), nil).Given)
		part.Report.Warnings = []musicxml.Warning{{Text: "said"}}
		doc := etree.NewDocumentWithRoot(etree.NewElement("score-partwise"))
		assert.Equal(t, audit.Part{Root: doc.Root(), Clefs: row.want, Said: part.Report.Warnings}, d.examined(part, doc))
	}
}

// A part of several staves sounds where one of them does and nowhere else.
func TestListen(t *testing.T) {
	t.Parallel()
	const lost, silent, more = "the score sounds here and the part is silent (1 quarter note)", "the score sounds in this bar and the part is silent all through (4 quarter notes)", "the part sounds here and none of its staves does"
	for _, row := range []struct {
		part string
		want []string
	}{{"C5 C5 C5 C5 | C5:w", nil}, {"C5 r C5 C5 | R", []string{"1:2 " + lost, "2:1 " + silent}}, {"C5 C5 C5 C5 | C5:w | r C5 r:h", []string{"3:2 " + more}}} {
		d := deskOf(t, nil, "C5 C5 r:h | R | R", "r:h E5 E5 | E5:w | R")
		part := deskOf(t, nil, row.part).drafts[0]
		require.NoError(t, d.listen(part))
		var got []string
		for _, w := range part.Report.Warnings {
			assert.Equal(t, notice.MusicLost, w.Code)
			got = append(got, w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.want, got)
	}
}

// In bars that were put together of two players' staves an accidental holds to the bar line for
// both: a natural is printed where the other player had a sharp, and none where nobody had (Gould,
// from memory; MusicXML 4.0, accidental).
func TestPrintSigns(t *testing.T) {
	t.Parallel()
	const sharp = `<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>48</duration><voice>1</voice><type>half</type><accidental>sharp</accidental></note> `
	const plain = `<note><pitch><step>F</step><octave>5</octave></pitch><duration>48</duration><voice>1</voice><type>half</type></note> `
	for _, row := range []struct{ music, want string }{
		{sharp + plain, "sharp natural"}, {plain + plain, " "}, {sharp + "E5:h | " + plain + "E5:h", "sharp   "},
	} {
		d := deskOf(t, [][]int{{0}}, row.music)
		require.NoError(t, printSigns(d.drafts[0]))
		var signs []string
		for _, note := range d.drafts[0].Part.FindElements("//note") {
			signs = append(signs, musicxml.ChildText(note, "accidental"))
		}
		assert.Equal(t, row.want, strings.Join(signs, " "))
	}
}
