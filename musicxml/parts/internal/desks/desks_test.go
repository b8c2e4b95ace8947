package desks_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/desks"
)

// beats reads bars of four beats, a letter a beat: "x" plays, "." rests, ":" has a grace
// note on the beat and rests.
func beats(text string) desks.Sounds {
	var all []desks.Sound
	for i, bar := range strings.Fields(text) {
		for k, sign := range bar {
			from := musicxml.NewFraction(int64(k), 1)
			switch sign {
			case 'x':
				all = append(all, desks.Sound{Measure: i, From: from, To: from.Add(musicxml.NewFraction(1, 1))})
			case ':':
				all = append(all, desks.Sound{Measure: i, From: from, To: from})
			}
		}
	}
	return desks.Merged(all)
}

func fourFour(bars int) []musicxml.Fraction {
	lengths := make([]musicxml.Fraction, bars)
	for i := range lengths {
		lengths[i] = musicxml.NewFraction(4, 1)
	}
	return lengths
}

func place(p musicxml.Position) string { return fmt.Sprintf("%d:%s", p.Measure+1, p.Onset) }

// Places behind the last bar go on counting from its end.
func TestClockAfterTheEnd(t *testing.T) {
	t.Parallel()
	clock := desks.NewClock([]musicxml.Fraction{musicxml.NewFraction(4, 1), musicxml.NewFraction(3, 1)}, nil)
	for _, row := range []struct{ measure, onset, want int64 }{{0, 0, 0}, {0, 2, 2}, {1, 0, 4}, {1, 2, 6}, {2, 0, 7}, {2, 1, 8}, {9, 1, 8}} {
		at := musicxml.Position{Measure: int(row.measure), Onset: musicxml.NewFraction(row.onset, 1)}
		assert.Equal(t, musicxml.NewFraction(row.want, 1), clock.At(at), "%+v", row)
	}
}

// TestClashes: by hand, bar:from-to in quarter notes.
func TestClashes(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ why, a, b, want string }{
		{"in turn", "xx.. ....", "..xx xxxx", ""}, {"one beat", "xx.. ....", ".xx. xxxx", "1:1-2"}, {"two places", "xx.x xx..", "x..x .xxx", "1:0-1 1:3-4 2:1-2"},
		{"a grace note where the other begins", ":...", "xx..", ""}, {"a grace note where the other ends", "..:.", "xx..", ""},
		{"a grace note inside", ".:..", "xx..", "1:1-1"}, {"begins where a grace note is", "xx..", ":...", ""}, {"ends where a grace note is", "xx..", "..:.", ""},
		{"has a grace note inside", "xx..", ".:..", "1:1-1"}, {"two grace notes", ".:..", ".:..", "1:1-1"}, {"two grace notes apart", ".:..", "..:.", ""},
		{"in another bar", "xx.. ....", ".... xx..", ""}, {"one bar on", ".... .x..", ".x.. xx..", "2:1-2"},
	} {
		var got []string
		for _, c := range desks.Clashes([]desks.Sounds{beats(row.a), beats(row.b)}) {
			got = append(got, fmt.Sprintf("%d:%s-%s", c.Measure+1, c.From, c.To))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// What sounds in a stretch: whole sounds that have not ended where it begins, and begin before
// it ends; a grace note at the first beat of a bar belongs to the bar.
func TestWithin(t *testing.T) {
	t.Parallel()
	all := beats(":.x. .x.. x..:")
	for _, row := range []struct {
		from, to musicxml.Position
		want     string
	}{
		{at(0, 0), at(3, 0), "1:0 1:2 2:1 3:0 3:3"}, {at(0, 0), at(1, 0), "1:0 1:2"}, {at(0, 1), at(1, 0), "1:2"}, {at(0, 2), at(1, 1), "1:2"}, {at(0, 3), at(1, 2), "2:1"}, {at(1, 0), at(2, 0), "2:1"},
		{at(1, 1), at(2, 1), "2:1 3:0"}, {at(1, 2), at(2, 3), "3:0"}, {at(2, 0), at(3, 0), "3:0 3:3"}, {at(2, 3), at(3, 0), ""}, {at(3, 0), at(4, 0), ""},
	} {
		var got []string
		for _, s := range all.Within(desks.Stretch{From: row.from, To: row.to}) {
			got = append(got, fmt.Sprintf("%d:%s", s.Measure+1, s.From))
		}
		assert.Equal(t, row.want, strings.Join(got, " "), "%v", row)
	}
	assert.Nil(t, desks.Sounds(nil).Within(desks.Stretch{To: at(9, 0)}))
}

// Stretches that touch or lie one in another are one.
func TestMerged(t *testing.T) {
	t.Parallel()
	sound := func(measure int, from, to int64) desks.Sound {
		return desks.Sound{Measure: measure, From: musicxml.NewFraction(from, 1), To: musicxml.NewFraction(to, 1)}
	}
	for _, row := range []struct{ all, want []desks.Sound }{
		{[]desks.Sound{sound(1, 0, 1), sound(0, 2, 4), sound(0, 0, 2)}, []desks.Sound{sound(0, 0, 4), sound(1, 0, 1)}}, {[]desks.Sound{sound(0, 0, 4), sound(0, 1, 2)}, []desks.Sound{sound(0, 0, 4)}},
		{[]desks.Sound{sound(0, 0, 1), sound(0, 2, 3)}, []desks.Sound{sound(0, 0, 1), sound(0, 2, 3)}}, {[]desks.Sound{sound(0, 0, 4), sound(1, 0, 4)}, []desks.Sound{sound(0, 0, 4), sound(1, 0, 4)}},
		{[]desks.Sound{sound(0, 0, 3), sound(0, 0, 1), sound(0, 3, 3)}, []desks.Sound{sound(0, 0, 3)}},
	} {
		assert.Equal(t, desks.Sounds(row.want), desks.Merged(row.all))
	}
}

// Five seconds are time to change (pimentel); under two nobody can, as far as the tempo is
// said; and without any rest nobody can at all.
func TestTimeToChange(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		change            desks.Change
		hasty, impossible bool
	}{
		{desks.Change{Seconds: 5, Said: true}, false, false}, {desks.Change{Seconds: 4.9, Said: true}, true, false}, {desks.Change{Seconds: 2, Said: true}, true, false}, {desks.Change{Seconds: 1.9, Said: true}, true, true},
		{desks.Change{Seconds: 1.9}, true, false}, {desks.Change{Seconds: 0.5}, true, false}, {desks.Change{}, true, true},
	} {
		assert.Equal(t, []bool{row.hasty, row.impossible}, []bool{row.change.Hasty(), row.change.Impossible()}, "%+v", row.change)
	}
	passage := func(instrument int, from, to float64) desks.Passage {
		return desks.Passage{Instrument: instrument, From: from, To: to}
	}
	for _, row := range []struct {
		before, next desks.Passage
		want         bool
	}{
		{passage(1, 0, 3), passage(1, 3, 4), true}, {passage(1, 0, 3), passage(1, 2.9, 4), false}, {passage(1, 0, 3), passage(2, 5, 6), true}, {passage(1, 0, 3), passage(2, 4.9, 6), false}, {passage(1, 0, 3), passage(2, 3, 6), false},
	} {
		assert.Equal(t, row.want, desks.Free(row.before, row.next), "%v", row)
	}
}

// TestClashesAgainstBeats: every beat of random staves on which two play is in a clash,
// and no other.
func TestClashesAgainstBeats(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		texts := make([]string, 2+r.IntN(3))
		staves := make([]desks.Sounds, len(texts))
		for i := range texts {
			for k := range 12 {
				texts[i] += string("x..."[r.IntN(4)])
				if k%4 == 3 {
					texts[i] += " "
				}
			}
			staves[i] = beats(texts[i])
		}
		want, got := map[string]bool{}, map[string]bool{}
		for beat := range 12 {
			for a := range texts {
				for b := a + 1; b < len(texts); b++ {
					if at := beat + beat/4; texts[a][at] == 'x' && texts[b][at] == 'x' {
						want[fmt.Sprint(a, b, beat)] = true
					}
				}
			}
		}
		for _, c := range desks.Clashes(staves) {
			for beat := c.From.Num(); beat < c.To.Num(); beat++ {
				got[fmt.Sprint(c.A, c.B, 4*int64(c.Measure)+beat)] = true
			}
		}
		assert.Equal(t, want, got, "%q", texts)
	}
}

// TestSeconds: worked by hand. 60 quarters a minute in bar 1, 120 from bar 2 on.
func TestSeconds(t *testing.T) {
	t.Parallel()
	clock := desks.NewClock(fourFour(4), []desks.Tempo{{Position: at(0, 0), Quarters: 60}, {Position: at(1, 0), Quarters: 120}})
	for _, row := range []struct {
		from, to musicxml.Position
		want     float64
	}{{at(0, 0), at(0, 3), 3}, {at(0, 2), at(1, 2), 3}, {at(1, 0), at(3, 0), 4}, {at(2, 1), at(2, 1), 0}} {
		seconds, said := clock.Seconds(row.from, row.to)
		assert.InDelta(t, row.want, seconds, 1e-9)
		assert.True(t, said)
	}
	late := desks.NewClock(fourFour(4), []desks.Tempo{{Position: at(1, 2), Quarters: 60}, {Position: at(2, 0), Quarters: 240}})
	for _, row := range []struct {
		from, to musicxml.Position
		want     float64
		said     bool
	}{{at(0, 0), at(1, 0), 2, false}, {at(1, 0), at(1, 2), 1, false}, {at(1, 0), at(2, 0), 3, false}, {at(1, 2), at(2, 0), 2, true}, {at(1, 3), at(3, 0), 2, true}, {at(1, 2), at(1, 2), 0, true}, {at(0, 0), at(0, 0), 0, true}, {at(3, 0), at(4, 0), 1, true}} {
		seconds, said := late.Seconds(row.from, row.to)
		assert.InDelta(t, row.want, seconds, 1e-9, "%v", row)
		assert.Equal(t, row.said, said, "%v", row)
	}
	late.Plays(bars(0, 2, 1, 4, 2, 4))
	assert.Equal(t, bars(0, 2, 1, 4, 2, 4), late.Way())
	over, said := late.Over(at(1, 2), 0, at(2, 2), 2)
	assert.InDelta(t, 2+1+2+1+1+0.5, over, 1e-9, "the rest of the first stretch, the whole second, two beats of the third")
	assert.False(t, said, "the first beats of bar 2 have no tempo")
	over, said = late.Over(at(3, 0), 1, at(2, 2), 2)
	assert.InDelta(t, 1.5, over, 1e-9)
	assert.True(t, said)
	for place, want := range map[musicxml.Position]musicxml.Position{at(0, 3): at(0, 3), at(0, 4): at(1, 0), at(0, 9): at(2, 1), at(3, 4): at(4, 0), at(4, 1): at(4, 1)} {
		assert.Equal(t, want, late.Settled(place))
	}
	seconds, said := desks.NewClock(fourFour(4), nil).Seconds(at(0, 0), at(1, 0))
	assert.InDelta(t, 2.0, seconds, 1e-9, "four beats at 120")
	assert.False(t, said)
}

// TestTurns: where the player changes, and how long that takes at 60 beats a minute.
func TestTurns(t *testing.T) {
	t.Parallel()
	clock := desks.NewClock(fourFour(4), []desks.Tempo{{Quarters: 60}})
	turns := desks.TakeTurns([]desks.Sounds{beats("xx.. .... .... ...x"), beats(".... ..xx xx.. ....")}, clock)
	var got []string
	for _, c := range turns.Changes {
		got = append(got, fmt.Sprintf("%d>%d %s-%s %.0fs", c.From, c.To, place(c.Stop), place(c.Entry), c.Seconds))
	}
	assert.Equal(t, []string{"0>1 1:2-2:2 4s", "1>0 3:2-4:3 5s"}, got)
	assert.True(t, turns.Changes[0].Hasty())
	assert.False(t, turns.Changes[1].Hasty())
}

// TestLay: staves that never meet share one.
func TestLay(t *testing.T) {
	t.Parallel()
	clock := desks.NewClock(fourFour(2), nil)
	staves := []desks.Sounds{beats("xx.. ...."), beats(".x.. ...."), beats("..xx ...."), beats(".... xxxx")}
	none := func(a, b int) bool { return false }
	assert.Equal(t, [][]int{{0, 2, 3}, {1}}, desks.Lay(staves, clock, none).Rows)
	assert.Equal(t, [][]int{{0, 3}, {1, 2}}, desks.Lay(staves, clock, func(a, b int) bool { return a == 0 && b == 2 }).Rows)
}

func at(measure int, onset int64) musicxml.Position {
	return musicxml.Position{Measure: measure, Onset: musicxml.NewFraction(onset, 1)}
}

// bars are stretches from bar to bar, from 0, the second of each pair excluded.
func bars(pairs ...int) (all []desks.Stretch) {
	for i := 0; i < len(pairs); i += 2 {
		all = append(all, desks.Stretch{From: at(pairs[i], 0), To: at(pairs[i+1], 0)})
	}
	return all
}

// TestTurnsOverJumps: where the music leads to another instrument than the one that ends
// the passage, in seconds at 60 beats a minute.
func TestTurnsOverJumps(t *testing.T) {
	t.Parallel()
	const never = 1e9
	for _, c := range []struct {
		why           string
		a, b          string
		way           []desks.Stretch
		changes, back []float64
	}{
		{"at once", "xx.. .... .... .... .x..", ".... ..xx .... .... ....", bars(0, 2, 0, 5), []float64{4, 9}, []float64{0}},
		{"a bar of rest before", "xx.. .... .... .... .x..", ".... ..xx .... .... ....", bars(0, 3, 0, 5), []float64{4, 9}, []float64{4}},
		{"the same instrument", "xx.. .... .... .... .x..", ".... ..xx .... .... ....", bars(0, 5, 0, 5), []float64{4, 9}, nil},
		{"a passage of the one alone", "xx.. .... .... .... .x..", ".... ..xx .... .... ....", bars(0, 1, 0, 5), []float64{4, 9}, nil},
		{"into the middle", "xx.. .... .... .... .x..", ".... ..xx .... .... ....", bars(0, 5, 1, 5), []float64{4, 9}, []float64{4}},
		{"on to a coda", "xxxx .... .... xxxx", ".... .... xxxx ....", bars(0, 3, 0, 1, 3, 4), []float64{4, never}, []float64{0}},
		{"a first ending is not followed by the second", "xxxx xxxx ....", ".... .... xxxx", bars(0, 2, 0, 1, 2, 3), []float64{never}, []float64{0}},
		{"over a silent stretch between", "xxxx .... ....", ".... .... xxxx", bars(0, 1, 1, 2, 1, 2, 2, 3), []float64{4}, []float64{8}},
		{"up to an end inside a bar", "xxxx .... ....", ".... .... xxxx", []desks.Stretch{{To: at(3, 0)}, {To: at(0, 3)}, {From: at(2, 1), To: at(3, 0)}}, []float64{4}, []float64{0, 0}},
		{"and the rest before it", "xx.. .... ....", ".... .... xxxx", []desks.Stretch{{To: at(0, 4)}, {From: at(2, 0), To: at(3, 0)}}, []float64{6}, []float64{2}},
		{"left inside the bar", "xx.. .... ....", ".... .... xxxx", []desks.Stretch{{To: at(0, 3)}, {From: at(2, 0), To: at(3, 0)}}, []float64{6}, []float64{1}},
		{"twice, the less time counts", "xxxx .... .... ....", ".... .... xxxx ....", bars(0, 4, 0, 3, 0, 3), []float64{4}, []float64{0}},
	} {
		clock := desks.NewClock(fourFour(len(strings.Fields(c.a))), []desks.Tempo{{Quarters: 60}})
		clock.Plays(c.way)
		turns := desks.TakeTurns([]desks.Sounds{beats(c.a), beats(c.b)}, clock)
		seconds := func(list []desks.Change) (got []float64) {
			for _, c := range list {
				got = append(got, min(c.Seconds, never))
			}
			return got
		}
		assert.Equal(t, c.changes, seconds(turns.Changes), c.why)
		assert.Equal(t, c.back, seconds(turns.Back), c.why)
	}
}
