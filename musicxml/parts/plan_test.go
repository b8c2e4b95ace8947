package parts_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/parts/plan"
)

// Plans as people save them (contract.md, plan.csv): columns in any order and of other
// names, empty rows, a row for each column; and what is no plan.
func TestReadPlan(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, text, wrong string
		want              []parts.PlanRow
	}{
		{"all columns", "part,instrument,octave,clef,label,player,copies\nHorn,tuba,-1,bass,Tuba,Anna,2\n", "",
			[]parts.PlanRow{{Part: "Horn", Instrument: "tuba", Octave: "-1", Clef: "bass", Label: "Tuba", Player: "Anna", Copies: "2", Line: 2}}},
		{"another order, capitals, a column of one's own", "Copies,notes,PART\n3,ask Ben,Flute\n", "", []parts.PlanRow{{Part: "Flute", Copies: "3", Line: 2}}},
		{"empty rows count as lines", "part,player\n\n,\nFlute,\n", "", []parts.PlanRow{{Part: "Flute", Line: 4}}},
		{"a row that names no part", "part,instrument\nFlute,oboe\n,tuba\n", `line 3 names no part: ",tuba"`, nil},
		{"nothing", "", "the plan is empty; its first line is part,instrument,octave,clef,label,player,copies", nil},
		{"no column of parts", "instrument,octave\ntuba,1\n", `the plan's first line has no column "part"; it should be part,instrument,octave,clef,label,player,copies`, nil},
		{"a misspelled column", "part,instrument,Players\nFlute,,Anna\n", `the plan has a column "Players" and none called player; write player if that is meant, or give the column another name`, nil},
		{"a misspelled column of parts", "Parts,instrument\nFlute,oboe\n", `the plan has a column "Parts" and none called part; write part if that is meant`, nil},
		{"a column like one that is there", "part,player,players last year\nFlute,Anna,Ben\n", "", []parts.PlanRow{{Part: "Flute", Player: "Anna", Line: 2}}},
		{"a column of one's own, nearly spelled like one that is there", "part,player,players\nFlute,Anna,Ben\n", "", []parts.PlanRow{{Part: "Flute", Player: "Anna", Line: 2}}},
		{"a row of one's own columns alone", "part,notes\n,ask Ben\nFlute,\n", "", []parts.PlanRow{{Part: "Flute", Line: 3}}},
		{"a first line alone", "part\n", "", nil},
		{"a quotation mark that never ends", "part\n\"Flute\n", "the plan cannot be read: ", nil},
	} {
		got, err := plan.Read(strings.NewReader(row.text))
		if row.wrong != "" {
			assert.ErrorContains(t, err, row.wrong, row.name)
			assert.True(t, strings.HasPrefix(err.Error(), row.wrong), row.name)
			continue
		}
		require.NoError(t, err, row.name)
		assert.Equal(t, row.want, got, row.name)
	}
	rows := []parts.PlanRow{{Part: "Horn", Instrument: "tuba", Octave: "-1", Clef: "bass", Label: "Tuba, low", Player: "Anna", Copies: "2", Line: 2}}
	var text bytes.Buffer
	require.NoError(t, plan.Write(&text, rows))
	assert.Equal(t, "part,instrument,octave,clef,label,player,copies\nHorn,tuba,-1,bass,\"Tuba, low\",Anna,2\n", text.String())
	again, err := plan.Read(&text)
	require.NoError(t, err)
	assert.Equal(t, rows, again, "what is written is read")
}

// All that is wrong with a row is said at once, cell by cell: nobody wants to be sent back
// to the spreadsheet for each.
func TestEveryFaultOfARow(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "Oboe", Instrument: "flutr", Octave: "up", Clef: "tenr", Copies: "x", Line: 2}, {Part: "Violin", Instrument: "flute", Line: 3}}
	_, err := parts.Survey(miniScore(t, miniPart{"Oboe", patterned("xx", whole)}, miniPart{"Violin", patterned("xx", whole)}), instrumentstest.Load(t), o)
	var wrong *parts.PlanError
	require.ErrorAs(t, err, &wrong)
	require.Len(t, wrong.Rows, 4)
	for i, says := range []string{`no instrument is known by "flutr"; did you mean flute, `, `octave "up" is not a whole number from -5 to 5 or auto`, `copies "x" is not a whole number from 1 to 999`, `"tenr" is no clef`} {
		assert.Contains(t, wrong.Rows[i], `line 2, part "Oboe": `+says)
	}
}

// What one player cannot have is refused, with the bars in which it would be.
func TestBarsOfAClash(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ sounds, want string }{ // of the second staff; the first sounds everywhere
		{"..x.....", "bar 3"}, {"xx......", "bars 1, 2"}, {"xxx.....", "bars 1 to 3"}, {"x.xxx.xx", "bars 1, 3 to 5, 7, 8"}, {"x.x.x...", "bars 1, 3, 5"},
	} {
		o := parts.DefaultOptions()
		o.Plan = []parts.PlanRow{{Part: "Oboe", Player: "Anna"}, {Part: "Violin", Player: "Anna"}}
		surveyed := partstest.Survey(t, miniScore(t, miniPart{"Oboe", patterned("xxxxxxxx", whole)}, miniPart{"Violin", patterned(row.sounds, whole)}), o)
		_, err := surveyed.Assign()
		assert.EqualError(t, err, `part "Violin": player "Anna" has Oboe and Violin at once in `+row.want+"; give one of them to another player", row.sounds)
	}
}

// What nobody has time for is refused, with the bars of the entries, unless it is forced; the
// staves are named in the order of the score, whoever is the head.
func TestNoTimeIsRefused(t *testing.T) {
	t.Parallel()
	quick := `<sound tempo="240"/>`
	for _, row := range []struct{ oboe, violin, tempo, want string }{ // a bar at 240 is one second, at 120 two
		{"x.x.....", ".x......", quick, `part "Oboe": player "Anna" has less than 2 seconds to change between Oboe and Violin before bars 2, 3; give one of them to another player, or take it with --force`},
		{"x.......", "..x.....", quick, `part "Oboe": player "Anna" has less than 2 seconds to change between Oboe and Violin before bar 3; give one of them to another player, or take it with --force`},
		{"x.......", "..x.....", `<sound tempo="120"/>`, ""},
		{"x.......", "..x.....", `<sound tempo="121"/>`, `part "Oboe": player "Anna" has less than 2 seconds to change between Oboe and Violin before bar 3; give one of them to another player, or take it with --force`},
		{"x.......", "..x.....", "", ""},
		{"x.......", ".x......", "", `part "Oboe": player "Anna" has less than 2 seconds to change between Oboe and Violin before bar 2; give one of them to another player, or take it with --force`},
		{"xx......", ".x......", quick, `part "Oboe": player "Anna" has Oboe and Violin at once in bar 2; give one of them to another player`},
	} {
		oboe := patterned(row.oboe, whole)
		oboe[0] = opening + row.tempo + oboe[0]
		o := parts.DefaultOptions()
		o.Plan = []parts.PlanRow{{Part: "Violin", Player: "Anna"}, {Part: "Oboe", Player: "Anna"}}
		score := miniScore(t, miniPart{"Oboe", oboe}, miniPart{"Violin", patterned(row.violin, whole)})
		surveyed := partstest.Survey(t, score, o)
		_, err := surveyed.Assign()
		if row.want == "" {
			assert.NoError(t, err)
		} else {
			assert.ErrorContains(t, err, strings.Replace(row.want, `part "Oboe"`, `part "Violin"`, 1))
		}
		o.Force = true
		partstest.Job(t, score, o)
	}
	o := parts.DefaultOptions()
	o.Plan = []parts.PlanRow{{Part: "Oboe", Player: "Violin", Line: 7}}
	surveyed := partstest.Survey(t, miniScore(t, miniPart{"Oboe", patterned("x", whole)}, miniPart{"Violin", patterned("x", whole)}), o)
	_, err := surveyed.Assign()
	assert.EqualError(t, err, `line 7, part "Oboe": player "Violin" has Oboe and Violin at once in bar 1; give one of them to another player`, "the row is that of the plan")
}

// Percussion that is gone to and fro between stands on two staves where there are less than
// two seconds for it, on one where there is time.
func TestPercussionSideBySide(t *testing.T) {
	t.Parallel()
	for tempo, want := range map[string]string{"120": "", "121": "2"} { // a bar is two seconds at 120
		triangle := patterned("x...x", whole)
		triangle[0] = opening + `<sound tempo="` + tempo + `"/>` + triangle[0]
		o := parts.DefaultOptions()
		o.Force, o.Plan = true, []parts.PlanRow{{Part: "Triangle", Player: "Ben"}, {Part: "Cymbals", Player: "Ben"}}
		made := makeMini(t, miniScore(t, miniPart{"Triangle", triangle}, miniPart{"Cymbals", patterned("..x..", whole)}, miniPart{"Flute", patterned("xxxxx", whole)}), 0, o)
		staves := ""
		if e := made.Document.FindElement("//attributes/staves"); e != nil {
			staves = e.Text()
		}
		assert.Equal(t, want, staves, "%s quarter notes a minute", tempo)
	}
}

// Two of percussion are played at once, three are not; a keyboard of two staves keeps both
// beside what its player takes up.
func TestHandsFull(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		entries []shorthand.Entry
		staves  string
		want    []string
	}{
		{[]shorthand.Entry{{Name: "Triangle", Music: "u!E4:w"}, {Name: "Cymbals", Music: "u!E4:w"}}, "2", nil},
		{[]shorthand.Entry{{Name: "Triangle", Music: "u!E4:w"}, {Name: "Cymbals", Music: "u!E4:w"}, {Name: "Snare Drum", Music: "u!E4:w"}}, "3",
			[]string{"the player has Triangle and Cymbals at once", "the player has Triangle and Snare Drum at once", "the player has Cymbals and Snare Drum at once"}},
		{[]shorthand.Entry{{Name: "Celesta", Music: "C5:w // C3:w | R // R | R // R | R // R | R // R"}, {Name: "Triangle", Music: "R | R | R | R | u!E4:w"}}, "3", nil},
	} {
		o := parts.DefaultOptions()
		o.Force, o.Plan = true, []parts.PlanRow{{Part: "*", Player: "Ben"}}
		made := sheetsFrom(t, shorthand.Score(t, row.entries...), o)[0]
		var texts []string
		for _, w := range made.Report.Warnings {
			if w.Code == notice.TwoAtOnce {
				texts = append(texts, w.Text)
			}
		}
		assert.Equal(t, row.want, texts)
		assert.Equal(t, row.staves, made.Document.FindElement("//attributes/staves").Text())
	}
}

// A plan's rows are checked before anything is made: what each may say, and who is whose
// player. The players that follow from names of parts stand in the labels.
func TestPlayersOfAPlan(t *testing.T) {
	t.Parallel()
	rest := []string{wholeBar, wholeBar, wholeBar, wholeBar, wholeBar, wholeBar}
	score := miniScore(t, miniPart{"Oboe", append([]string{whole}, rest...)}, miniPart{"English Horn", append(slices.Clone(rest), whole)},
		miniPart{"Flute", append(slices.Clone(rest), wholeBar)}, miniPart{"Violin", append(slices.Clone(rest), whole)})
	for _, row := range []struct {
		name, why string
		plan      []parts.PlanRow
		wrong     string
		want      []string // label: label of each staff
	}{
		{"by the name of a part", "the player of the oboe", []parts.PlanRow{{Part: "English Horn", Player: "Oboe"}, {Part: "Oboe"}}, "",
			[]string{"Oboe (English Horn): Oboe + English Horn", "Flute: Flute", "Violin: Violin"}},
		{"by the name of a part that no row names", "the same", []parts.PlanRow{{Part: "English Horn", Player: "Oboe"}}, "",
			[]string{"Oboe (English Horn): Oboe + English Horn", "Flute: Flute", "Violin: Violin"}},
		{"by the name of a person", "the first row is the head", []parts.PlanRow{{Part: "English Horn", Player: "Anna"}, {Part: "Oboe", Player: " anna "}}, "",
			[]string{"English Horn (Oboe): English Horn + Oboe", "Flute: Flute", "Violin: Violin"}},
		{"one leads to another", "all three are one player's", []parts.PlanRow{{Part: "Flute", Player: "English Horn"}, {Part: "English Horn", Player: "Oboe"}, {Part: "Oboe"}}, "",
			[]string{"Oboe (English Horn, Flute): Oboe + English Horn + Flute", "Violin: Violin"}},
		{"called like a part that has a player", "the head is the part of that name", []parts.PlanRow{{Part: "Flute", Player: "Oboe"}, {Part: "English Horn", Player: "oboe"}}, "",
			[]string{"Oboe (English Horn, Flute): Oboe + English Horn + Flute", "Violin: Violin"}},
		{"its own name", "nobody else's", []parts.PlanRow{{Part: "Oboe", Player: "oboe"}, {Part: "Violin"}}, "",
			[]string{"Oboe: Oboe", "English Horn: English Horn", "Flute: Flute", "Violin: Violin"}},
		{"a circle", "nobody plays it", []parts.PlanRow{{Part: "Oboe", Player: "Flute"}, {Part: "Flute", Player: "Oboe"}},
			`part "Oboe": the players go in a circle: Oboe is played by Flute is played by Oboe`, nil},
	} {
		o := parts.DefaultOptions()
		o.Plan = row.plan
		surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
		if row.wrong != "" {
			if err == nil {
				_, err = surveyed.Assign()
			}
			assert.ErrorContains(t, err, row.wrong, row.name)
			continue
		}
		require.NoError(t, err, row.name)
		job, err := surveyed.Assign()
		require.NoError(t, err, row.name)
		var got []string
		for _, a := range job.Assignments() {
			staves := []string{a.StaffLabel}
			for _, w := range a.With {
				staves = append(staves, w.StaffLabel)
			}
			got = append(got, a.Label+": "+strings.Join(staves, " + "))
		}
		assert.Equal(t, row.want, got, "%s: %s", row.name, row.why)
	}
}
