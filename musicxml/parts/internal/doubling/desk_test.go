package doubling

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// A third staff sounds with the two of a clash where it clashes with one of them at the time.
func TestThird(t *testing.T) {
	t.Parallel()
	first := clash(1, 1, 2, 1, 3)
	for _, row := range []struct {
		other desks.Clash
		want  bool
	}{
		{clash(1, 1, 3, 2, 4), true}, {clash(1, 0, 1, 0, 2), true}, {clash(1, 2, 3, 1, 3), true}, {clash(1, 0, 2, 0, 4), true}, {clash(1, 1, 3, 3, 4), false}, {clash(1, 1, 3, 0, 1), false},
		{clash(2, 1, 3, 1, 3), false}, {clash(1, 1, 2, 2, 4), false}, {clash(1, 3, 4, 1, 3), false}, {clash(1, 0, 3, 1, 3), false},
	} {
		d := &Desk{Layout: desks.Layout{Clashes: []desks.Clash{first, row.other}}}
		assert.Equal(t, row.want, d.third(0), "%v", row.other)
	}
}

// Places and bars as musicians name them.
func TestPlaces(t *testing.T) {
	t.Parallel()
	bars := Bars{{"0", "4"}, {"1", "4"}, {"2", "8"}}
	for _, row := range []struct {
		at            musicxml.Position
		measure, beat string
	}{{musicxml.Position{}, "0", "1"}, {musicxml.Position{Measure: 1, Onset: musicxml.NewFraction(1, 1)}, "1", "2"}, {musicxml.Position{Measure: 2, Onset: musicxml.NewFraction(1, 1)}, "2", "3"}, {musicxml.Position{Measure: 3}, "2", ""}} {
		measure, beat := bars.Place(row.at)
		assert.Equal(t, []string{row.measure, row.beat}, []string{measure, beat})
	}
	assert.Equal(t, "bar 12", InBars([]string{"12"}))
	assert.Equal(t, "bars 12, 14 to 16", InBars([]string{"12", "14", "15", "16"}))
}

// deskOf is a player with staves for instruments of the catalogue; "!" before one that is sung.
func deskOf(t *testing.T, ids ...string) *Desk {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	d := &Desk{bars: Bars{{"1", "4"}, {"2", "4"}, {"3", "4"}, {"4", "4"}, {"5", "4"}}}
	for i, id := range ids {
		var a assign.Assignment
		a.Sings = id[0] == '!'
		if !a.Sings {
			a.Instrument = catalogue.ByID(id)
			assert.NotNil(t, a.Instrument, id)
		}
		a.Label, a.PlanPart, a.PlanLine = id, "the part of "+id, i+2
		d.Staves = append(d.Staves, a)
		d.Layout.Rows = append(d.Layout.Rows, []int{i})
		d.Layout.Turns = append(d.Layout.Turns, desks.Turns{})
	}
	return d
}

func clash(measure, a, b int, from, to int64) desks.Clash {
	return desks.Clash{A: a, B: b, Sound: desks.Sound{Measure: measure, From: musicxml.NewFraction(from, 1), To: musicxml.NewFraction(to, 1)}}
}

// What nobody can play is said once a bar, and refused of the plan's row that came last: two
// instruments at once, but two of percussion (one for each hand, common practice, no source),
// and voices, which are several people.
func TestTwoAtOnce(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why     string
		staves  []string
		clashes []desks.Clash
		said    []string // bar, beat and words
		refused []string
	}{
		{"nothing", []string{"oboe", "english-horn"}, nil, nil, nil},
		{"two winds, twice in a bar", []string{"oboe", "english-horn"}, []desks.Clash{clash(0, 0, 1, 1, 2), clash(0, 0, 1, 3, 4), clash(2, 0, 1, 0, 1)},
			[]string{"1:2 the player has oboe and english-horn at once", "3:1 the player has oboe and english-horn at once"},
			[]string{`line 3, part "the part of english-horn": player "Reeds" has oboe and english-horn at once in bars 1, 3; give one of them to another player`}},
		{"voices, then winds", []string{"!soprano", "!alto", "oboe", "flute"}, []desks.Clash{clash(0, 0, 1, 0, 4), clash(1, 2, 3, 0, 4)},
			[]string{"2:1 the player has oboe and flute at once"}, []string{`line 5, part "the part of flute": player "Reeds" has oboe and flute at once in bar 2; give one of them to another player`}},
		{"a voice and a wind", []string{"!soprano", "oboe"}, []desks.Clash{clash(0, 0, 1, 0, 4)},
			[]string{"1:1 the player has !soprano and oboe at once"}, []string{`line 3, part "the part of oboe": player "Reeds" has !soprano and oboe at once in bar 1; give one of them to another player`}},
		{"two of percussion", []string{"triangle", "snare-drum"}, []desks.Clash{clash(0, 0, 1, 0, 1)}, nil, nil},
		{"two of percussion, then two winds", []string{"triangle", "snare-drum", "oboe", "flute"}, []desks.Clash{clash(0, 0, 1, 0, 1), clash(4, 2, 3, 0, 1)},
			[]string{"5:1 the player has oboe and flute at once"}, []string{`line 5, part "the part of flute": player "Reeds" has oboe and flute at once in bar 5; give one of them to another player`}},
		{"three of percussion", []string{"triangle", "snare-drum", "bass-drum"}, []desks.Clash{clash(0, 0, 1, 0, 1), clash(0, 0, 2, 0, 1)},
			[]string{"1:1 the player has triangle and snare-drum at once", "1:1 the player has triangle and bass-drum at once"},
			[]string{`line 3, part "the part of snare-drum": player "Reeds" has triangle and snare-drum at once in bar 1; give one of them to another player`,
				`line 4, part "the part of bass-drum": player "Reeds" has triangle and bass-drum at once in bar 1; give one of them to another player`}},
	} {
		d := deskOf(t, row.staves...)
		d.Layout.Clashes = row.clashes
		var said []string
		for _, w := range d.Wrong() {
			assert.Equal(t, "two-at-once", string(w.Code))
			said = append(said, w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.said, said, row.why)
		assert.Equal(t, row.refused, refusedOf(d), row.why)
	}
	d := deskOf(t, "oboe", "english-horn") // the plan names the oboe alone
	d.Staves[1].PlanPart = ""
	d.Layout.Clashes = []desks.Clash{clash(0, 0, 1, 0, 4)}
	assert.Equal(t, []string{`line 2, part "the part of oboe": player "Reeds" has oboe and english-horn at once in bar 1; give one of them to another player`}, refusedOf(d))
}

func refusedOf(d *Desk) []string {
	var wrong plan.Error
	var a assign.Assignment
	a.Desk = "Reeds"
	d.Refuse(&a, &wrong)
	return wrong.Rows
}

// Under five seconds to change instruments is said, under two is refused (pimentel; common
// practice): where the score says no tempo, only what leaves no rest at all.
func TestLittleTimeToChange(t *testing.T) {
	t.Parallel()
	entry := musicxml.Position{Measure: 1, Onset: musicxml.NewFraction(2, 1)}
	change := func(seconds float64, said bool) desks.Change {
		return desks.Change{From: 0, To: 1, Entry: entry, Seconds: seconds, Said: said}
	}
	const refusal = `line 3, part "the part of english-horn": player "Reeds" has less than 2 seconds to change between oboe and english-horn before `
	const advice = `; give one of them to another player, or take it with --force`
	for _, row := range []struct {
		why     string
		changes []desks.Change
		back    []desks.Change
		said    []string
		refused []string
	}{
		{"time enough", []desks.Change{change(5, true)}, nil, nil, nil},
		{"little, behind one with time", []desks.Change{change(60, true), change(4, true)}, nil, []string{"hasty-change 2:3 the player has 4 seconds to change from oboe to english-horn; under 5 seconds are risky"}, nil},
		{"at no tempo", []desks.Change{change(1, false)}, nil, []string{"hasty-change 2:3 the player has 1 second at an assumed tempo of 120 quarter notes a minute to change from oboe to english-horn; under 5 seconds are risky"}, nil},
		{"none", []desks.Change{change(0, false)}, nil, []string{"no-time-to-change 2:3 the player has no rest to change from oboe to english-horn; under 5 seconds are risky"}, []string{refusal + "bar 2" + advice}},
		{"twice", []desks.Change{change(1.5, true), {From: 1, To: 0, Entry: musicxml.Position{Measure: 3}, Said: true}}, nil,
			[]string{"no-time-to-change 2:3 the player has 1.5 seconds to change from oboe to english-horn; under 5 seconds are risky", "no-time-to-change 4:1 the player has no rest to change from english-horn to oboe; under 5 seconds are risky"},
			[]string{refusal + "bars 2, 4" + advice}},
		{"at a repeat", []desks.Change{change(60, true)}, []desks.Change{{From: 1, To: 0, Seconds: 3, Said: true}}, []string{"hasty-change 1:1 where the music leads back or on to here the player has 3 seconds to change from english-horn to oboe; under 5 seconds are risky"}, nil},
	} {
		d := deskOf(t, "oboe", "english-horn")
		d.Layout.Rows = [][]int{{0, 1}}
		d.Layout.Turns = []desks.Turns{{Changes: row.changes, Back: row.back}}
		var said []string
		for _, w := range d.Wrong() {
			said = append(said, string(w.Code)+" "+w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.said, said, row.why)
		assert.Equal(t, row.refused, refusedOf(d), row.why)
	}
	assert.Equal(t, "oboe", deskOf(t, "oboe", "english-horn").At(0, 0).Label)
}

// Who takes up a second instrument: the highest chair of its family, so that the first player
// keeps to the own one ("flute 2, piccolo", part-preparation, 3; the highest: common practice, no
// source); a part that is numbered itself is a player's own.
func TestChairsThatDouble(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	score := &survey.Score{}
	var files []assign.Assignment
	names := []string{"Flute 1", "Piccolo", "Flute 3", "Flute 2", "Oboe 1", "Oboes 2 & 3", "English Horn", "Piccolo 2", "Violin 1", "Viola", "Quayphone", "Flutes 1 & 2", "Flute 4"}
	for i, name := range names {
		m := catalogue.Match(instruments.Query{Name: name})
		score.Parts = append(score.Parts, survey.Part{Name: name, Match: m})
		var a assign.Assignment
		a.Part, a.Instrument = i, m.Instrument
		files = append(files, a)
	}
	files[11].Player = 1                     // one of two on a staff
	files[12].With = []assign.Assignment{{}} // who has another staff already
	turns := NewTurns(&stages.Score{Surveyed: score}, files)
	for i, want := range map[int][]string{1: {"Flute 3", "Flute 2", "Flute 1"}, 6: {"Oboe 1"}, 9: nil, 10: nil} {
		assert.Equal(t, i == 1 || i == 6, turns.doubles(i), names[i])
		if !turns.doubles(i) {
			continue
		}
		var chairs []string
		for _, k := range turns.chairsFor(i) {
			chairs = append(chairs, names[k])
		}
		assert.Equal(t, want, chairs, names[i])
	}
	for _, i := range []int{0, 2, 5, 7, 8} {
		assert.False(t, turns.doubles(i), names[i])
	}
}
