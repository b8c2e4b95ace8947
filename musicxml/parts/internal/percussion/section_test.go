package percussion

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/doubling"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// at is a place by its quarter notes, in bars of four.
func at(quarter int64) musicxml.Position {
	return musicxml.Position{Measure: int(quarter / 4), Onset: musicxml.NewFraction(quarter%4, 1)}
}

// sectionOf has ten bars of two seconds, a quarter note is half a second, and for each drum the
// quarters in which it sounds.
func sectionOf(drums ...[]int64) *section {
	var lengths []musicxml.Fraction
	for range 10 {
		lengths = append(lengths, musicxml.NewFraction(4, 1))
	}
	s := &section{Listener: &doubling.Listener{Clock: desks.NewClock(lengths, nil)}}
	for i, quarters := range drums {
		var sounds desks.Sounds
		for _, q := range quarters {
			from := at(q)
			sounds = append(sounds, desks.Sound{Measure: from.Measure, From: from.Onset, To: from.Onset.Add(musicxml.NewFraction(1, 1))})
		}
		s.drums = append(s.drums, drum{id: fmt.Sprint("I", i), label: string(rune('A' + i)), sounds: sounds})
	}
	return s
}

// What an instrument plays is cut where it is silent for five seconds, ten quarter notes, and
// passages come in the order of their beginnings.
func TestCut(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why   string
		drums [][]int64
		want  string // drum, from and to in seconds, notes
	}{
		{"one", [][]int64{{0}}, "A 0 0.5 1"}, {"five seconds", [][]int64{{0, 11}}, "A 0 0.5 1, A 5.5 6 1"}, {"less", [][]int64{{0, 10}}, "A 0 5.5 2"}, {"three, then one", [][]int64{{1, 2, 3, 20}}, "A 0.5 2 3, A 10 10.5 1"},
		{"two drums", [][]int64{{4, 24}, {0, 8}}, "B 0 4.5 2, A 2 2.5 1, A 12 12.5 1"}, {"at once", [][]int64{{4}, {4}}, "A 2 2.5 1, B 2 2.5 1"}, {"none", [][]int64{nil}, ""},
	} {
		s := sectionOf(row.drums...)
		s.cut()
		var got []string
		for i, p := range s.passages {
			got = append(got, fmt.Sprintf("%s %v %v %d", s.drums[p.Instrument].label, p.From, p.To, p.Notes))
			from, _ := s.Clock.Seconds(musicxml.Position{}, s.spans[i].from)
			to, _ := s.Clock.Seconds(musicxml.Position{}, s.spans[i].to)
			assert.Equal(t, []float64{p.From, p.To}, []float64{from, to}, row.why)
		}
		assert.Equal(t, row.want, strings.Join(got, ", "), row.why)
	}
	s := sectionOf([]int64{3})
	s.cut()
	assert.Equal(t, at(4), s.spans[0].to, "the end of a bar is the beginning of the next")
}

// Where the music leads back at once, under two seconds (four quarters) and under five (ten) after
// the one instrument sounded, both are not for one player, or in haste.
func TestKeepApart(t *testing.T) {
	t.Parallel()
	back := []desks.Stretch{{From: at(0), To: at(40)}, {From: at(0), To: at(40)}}
	for _, row := range []struct {
		why          string
		way          []desks.Stretch
		drums        [][]int64
		apart, hasty string // the later and the earlier passage
	}{
		{"at once", back, [][]int64{{39}, {0}}, "0B", ""}, {"in one and a half seconds", back, [][]int64{{38}, {2}}, "1B", ""}, {"in two", back, [][]int64{{37}, {2}}, "", "1B"}, {"in four and a half", back, [][]int64{{35}, {5}}, "", "2.5B"}, {"in five", back, [][]int64{{34}, {5}}, "", ""},
		{"the same instrument", back, [][]int64{{0, 39}}, "", ""}, {"none behind", back, [][]int64{{39}, nil}, "", ""}, {"nobody goes back", back[:1], [][]int64{{39}, {0}}, "", ""}, {"both at both ends", back, [][]int64{{0, 39}, {0, 39}}, "0B 0A", ""},
		{"three", back, [][]int64{{39}, nil, {0}}, "0C", ""}, {"the first has nothing", back, [][]int64{nil, {39}, {0}}, "0C", ""}, {"over a short one", []desks.Stretch{{From: at(0), To: at(40)}, {From: at(8), To: at(12)}, {From: at(0), To: at(8)}}, [][]int64{{39}, {0}}, "", "0B"}, {"over a long one", []desks.Stretch{{From: at(0), To: at(40)}, {From: at(8), To: at(20)}, {From: at(0), To: at(8)}}, [][]int64{{39}, {0}}, "", ""},
	} {
		s := sectionOf(row.drums...)
		s.cut()
		s.Clock.Plays(row.way)
		s.keepApart()
		s.keepApart() // each is said once
		told := func(of func(desks.Passage) []int) string {
			var all []string
			for p := range s.passages {
				for _, q := range of(s.passages[p]) {
					require.Less(t, q, p, row.why)
					all = append(all, fmt.Sprint(s.passages[q].From)+s.drums[s.passages[q].Instrument].label)
				}
			}
			return strings.Join(all, " ")
		}
		assert.Equal(t, row.apart, told(func(p desks.Passage) []int { return p.Apart }), row.why)
		assert.Equal(t, row.hasty, told(func(p desks.Passage) []int { return p.Hurried }), row.why)
	}
	s := sectionOf([]int64{0, 20}, []int64{5, 25})
	s.cut()
	for quarter, want := range map[int64]int{0: 0, 3: 0, 19: 0, 20: 2, 30: 2} {
		from := at(quarter)
		assert.Equal(t, want, s.passageOf(0, desks.Sound{Measure: from.Measure, From: from.Onset}), quarter)
	}
	assert.Equal(t, 3, s.passageOf(1, desks.Sound{Measure: 9}))
}

// Who has what: the instruments in score order, what is shared named with whom, each passage once.
func TestDeal(t *testing.T) {
	t.Parallel()
	s := sectionOf([]int64{0, 30}, []int64{10}, []int64{20})
	s.cut() // A 0, B 10, C 20, A 30
	for _, row := range []struct {
		players []int
		of      int
		want    string
	}{
		{[]int{0, 0, 0, 0}, 1, "Percussion 1: A, B, C (A 0 30; B 10; C 20)"}, {[]int{0, 1, 1, 0}, 2, "Percussion 1: A (A 0 30) | Percussion 2: B, C (B 10; C 20)"}, {[]int{0, 1, 0, 1}, 2, "Percussion 1: A (with Percussion 2), C (A 0; C 20) | Percussion 2: A (with Percussion 1), B (A 30; B 10)"},
		{[]int{0, 1, 2, 1}, 4, "Percussion 1: A (with Percussion 2) (A 0) | Percussion 2: A (with Percussion 1), B (A 30; B 10) | Percussion 3: C (C 20)"}, {[]int{0, -1, 0, 0}, 1, "Percussion 1: A, C (A 0 30; C 20)!"}, {[]int{-1, -1, -1, -1}, 1, " ()!!!!"},
	} {
		var got []string
		for _, a := range s.deal(desks.Share{Player: row.players}, row.of) {
			var takes []string
			for _, own := range append([]assign.Assignment{a}, a.With...) {
				text := own.StaffLabel
				for _, take := range own.Takes {
					text += fmt.Sprint(" ", 4*int64(take.From.Measure)+take.From.Onset.Num())
					assert.Equal(t, map[string]string{"A": "I0", "B": "I1", "C": "I2"}[own.StaffLabel], take.Instrument)
				}
				takes = append(takes, text)
			}
			text := a.Label
			if a.Desk != "" {
				assert.Equal(t, a.Desk, a.Label)
				text += ": " + a.Has
			}
			got = append(got, text+" ("+strings.Join(takes, "; ")+")"+strings.Repeat("!", len(a.Warnings)))
		}
		assert.Equal(t, row.want, strings.Join(got, " | "), "%v", row.players)
	}
}

// Which staves are the section's, and which instruments of one are dealt out each by itself.
func TestInstrumentsOfTheSection(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	of := func(id string) plan.Assignment { return plan.Assignment{Instrument: catalogue.ByID(id)} }
	other := func(change func(*assign.Assignment)) assign.Assignment {
		a := assign.Assignment{Assignment: of("snare-drum")}
		change(&a)
		return a
	}
	for _, row := range []struct {
		why  string
		a    assign.Assignment
		want bool
	}{
		{"a snare drum", assign.Assignment{Assignment: of("snare-drum")}, true}, {"timpani", assign.Assignment{Assignment: of("timpani")}, false}, {"a flute", assign.Assignment{Assignment: of("flute")}, false}, {"nobody knows", assign.Assignment{}, false},
		{"somebody's", other(func(a *assign.Assignment) { a.Desk = "1" }), false}, {"with another staff", other(func(a *assign.Assignment) { a.With = make([]assign.Assignment, 1) }), false}, {"an edition", other(func(a *assign.Assignment) { a.Edition = "x" }), false}, {"in place of another", other(func(a *assign.Assignment) { a.StandsFor = "x" }), false},
	} {
		assert.Equal(t, row.want, isSection(&row.a), row.why)
	}
	s := &section{score: &survey.Score{ScoreParts: []musicxml.ScorePart{{Instruments: []musicxml.ScoreInstrument{{ID: "a", Name: " Bass  Drum "}, {ID: "b", Name: "Cymbals"}, {ID: "c", Name: " "}}}}}}
	assert.Equal(t, []string{"Bass Drum", "Cymbals", "c", "d"}, []string{s.nameOf(0, "a"), s.nameOf(0, "b"), s.nameOf(0, "c"), s.nameOf(0, "d")})
	note := func(id string) string {
		if id != "" {
			id = `<instrument id="` + id + `"/>`
		}
		return `<note><unpitched/><duration>1</duration>` + id + `</note>`
	}
	for _, row := range []struct {
		why, id, bar string
		want         []string
	}{
		{"in the order of the list", "snare-drum", note("b") + note("a") + note("b"), []string{"a", "b"}}, {"one names none", "snare-drum", note("b") + note("") + note("a"), nil}, {"a rest names none", "snare-drum", note("b") + `<note><rest/><duration>1</duration></note><barline/>`, []string{"b"}}, {"a kit", "drum-set", note("b") + note("a"), nil}, {"one that is not listed", "snare-drum", note("x") + note("c"), []string{"c"}},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<part><measure><attributes><divisions>1</divisions></attributes>`+row.bar+`</measure></part>`))
		timeline, err := musicxml.NewTimeline(doc.Root())
		require.NoError(t, err)
		d := &draft.Draft{Timeline: timeline, Assignment: assign.Assignment{Assignment: of(row.id)}}
		require.NotNil(t, d.Assignment.Instrument, row.id)
		assert.Equal(t, row.want, s.instrumentsOf(d), row.why)
	}
}

// Between two passages of a staff it is silent from the end of the one on; behind the last of
// them it is silent for good. Another staff's passages are nothing to it.
func TestAround(t *testing.T) {
	t.Parallel()
	s := sectionOf([]int64{0, 24}, []int64{12, 36})
	s.drums[1].staff.ID = "P2"
	s.cut()
	for _, row := range []struct {
		passage int // in the order of time: A, B, A, B
		since   musicxml.Position
		last    bool
	}{{0, musicxml.Position{Measure: -1}, false}, {1, musicxml.Position{Measure: -1}, false}, {2, at(1), true}, {3, at(13), true}} {
		since, last := s.around(row.passage)
		assert.Equal(t, row.since, since, row.passage)
		assert.Equal(t, row.last, last, row.passage)
	}
	s = sectionOf([]int64{0, 4, 8}, []int64{4})
	s.cut()
	since, last := s.around(1)
	assert.Equal(t, at(9), since, "the other drum of the staff sounds on")
	assert.False(t, last)
}
