package exercise_test

import (
	"fmt"
	"sort"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// The rules of trade/teaching.md, sections 2 and 3, once more, asked of the
// finished MusicXML by code that shares nothing with the composer: pitches are
// read off the page by package reading, degrees are worked out from them.

// heard is one struck note of the upper part.
type heard struct {
	bar       int
	onset     musicxml.Fraction
	place     int // letter steps from C0
	semitones int
	degree    int // 0 is the tonic
	alter     int // against the signature
	value     string
	sign      string
}

// sheetMusic is what the checker needs of an exercise.
type sheetMusic struct {
	notes   []heard
	minor   bool
	fifths  int
	lengths []musicxml.Fraction // of the bars
	metre   string
	values  map[string]bool // printed values with dots
}

// signatureAlter is by counting, not by the library's formula: sharps come in the
// order F C G D A E B.
func signatureAlter(fifths, step int) int {
	order := [7]int{3, 0, 4, 1, 5, 2, 6}
	alter := 0
	for i := range fifths {
		if order[i%7] == step {
			alter++
		}
	}
	for i := 0; i < -fifths; i++ {
		if order[6-i%7] == step {
			alter--
		}
	}
	return alter
}

func readMusic(t *testing.T, part *etree.Element, fifths int, minor bool) sheetMusic {
	t.Helper()
	page, err := reading.Read(part)
	require.NoError(t, err)
	require.Empty(t, page.Mismatches(), "a player reads what is meant")
	m := sheetMusic{minor: minor, fifths: fifths, values: map[string]bool{}}
	tonic := fifths
	if minor {
		tonic += 3
	}
	tonicStep := ((4*tonic)%7 + 7) % 7
	notes := append([]reading.Note{}, page.Notes...)
	sort.SliceStable(notes, func(i, k int) bool {
		if c := notes[i].Start.Cmp(notes[k].Start); c != 0 {
			return c < 0
		}
		return notes[i].Read.MIDI().Cmp(notes[k].Read.MIDI()) > 0
	})
	var last musicxml.Fraction
	for i, n := range notes {
		if i > 0 && n.Start == last || n.TieStop {
			continue
		}
		last = n.Start
		m.notes = append(m.notes, heard{
			bar: n.MeasureIndex, onset: n.Onset, place: 7*n.Read.Octave + n.Read.Step, semitones: int(n.Read.MIDI().Num()),
			degree: ((n.Read.Step-tonicStep)%7 + 7) % 7, alter: int(n.Read.Alter.Num()) - signatureAlter(fifths, n.Read.Step),
			value: musicxml.ChildText(n.Element, "type"), sign: n.Sign,
		})
	}
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	for _, measure := range timeline.Measures {
		m.lengths = append(m.lengths, measure.Length)
		m.metre = measure.Beats + "/" + measure.BeatType
		for _, ev := range measure.Events {
			if ev.Kind == musicxml.Note {
				value := musicxml.ChildText(ev.Element, "type")
				for range musicxml.Children(ev.Element, "dot") {
					value += "."
				}
				if musicxml.Child(ev.Element, "time-modification") != nil {
					value = "triplet"
				}
				m.values[value] = true
			}
		}
	}
	return m
}

// limits is the table of section 2.
type limits struct {
	fifths, leap, compass, signsFrom, signsTo, changes int
	bars                                               []int
	metres                                             []string
	values                                             []string
}

var (
	plainValues = []string{"half", "quarter", "half."}
	table       = map[int]limits{
		1: {2, 2, 7, 0, 0, 0, []int{4}, []string{"2/4", "3/4", "4/4"}, plainValues},
		2: {3, 4, 7, 1, 1, 0, []int{4}, []string{"2/4", "3/4", "4/4"}, append([]string{"eighth", "quarter."}, plainValues...)},
		3: {4, 5, 8, 2, 2, 1, []int{8}, []string{"2/4", "3/4", "4/4", "6/8"}, append([]string{"eighth", "quarter.", "16th", "eighth."}, plainValues...)},
		4: {5, 7, 9, 3, 4, 2, []int{8}, []string{"2/4", "3/4", "4/4", "6/8", "2/2", "3/8", "9/8"},
			append([]string{"eighth", "quarter.", "16th", "eighth.", "triplet"}, plainValues...)},
		5: {6, 7, 9, 3, 4, 2, []int{4, 8, 12}, []string{"2/4", "3/4", "4/4", "6/8", "2/2", "3/8", "9/8", "12/8", "5/4"},
			append([]string{"eighth", "quarter.", "16th", "eighth.", "triplet", "whole"}, plainValues...)},
	}
)

// seeds for each level: hundreds in all, of which dozens by default.
var seeds = musicxmltest.Sweep(map[int]uint64{1: 40, 2: 30, 3: 12, 4: 8, 5: 8}, map[int]uint64{1: 300, 2: 240, 3: 90, 4: 45, 5: 45})

// TestRules makes exercises and holds every one against every rule of its level.
func TestRules(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for level := 1; level <= exercise.Levels; level++ {
		t.Run(fmt.Sprint("level ", level), func(t *testing.T) {
			t.Parallel()
			for seed := range seeds[level] {
				sheets, err := exercise.Make(c, exercise.Settings{From: exercise.Both, Count: 1 + int(seed%2), Seed: seed, Level: level, Versions: 1})
				require.NoError(t, err, "seed %d", seed)
				for _, e := range sheets[0].Exercises {
					if !checkExercise(t, e, level) {
						t.Fatalf("level %d, seed %d, exercise %d, %s from %s", level, seed, e.Number, e.Instrument.ID, e.From)
					}
				}
			}
		})
	}
}

func checkExercise(t *testing.T, e *exercise.Exercise, level int) bool {
	t.Helper()
	l := table[level]
	m := readMusic(t, e.Given, e.Facts.Key, e.Facts.Minor)
	answer := readMusic(t, e.Answer, e.Facts.Answer, e.Facts.Minor)
	ok := checkFrame(t, e, m, l, level)
	ok = checkLine(t, m, l, level) && ok
	ok = checkCloses(t, m, level) && ok
	ok = checkTendencies(t, m) && ok
	ok = checkSigns(t, e, m, l) && ok
	ok = checkSolution(t, e, m, answer) && ok
	return checkTrace(t, e, answer) && ok
}

// checkFrame: keys, bars, metre, values, range.
func checkFrame(t *testing.T, e *exercise.Exercise, m sheetMusic, l limits, level int) bool {
	ok := assert.LessOrEqual(t, max(e.Facts.Key, -e.Facts.Key), l.fifths, "key given")
	ok = assert.LessOrEqual(t, max(e.Facts.Answer, -e.Facts.Answer), l.fifths, "key answered") && ok
	ok = assert.Contains(t, l.metres, m.metre) && ok
	bars := len(m.lengths)
	if full := fullBar(m.metre); m.lengths[0] != full {
		bars--
		ok = assert.Equal(t, full, m.lengths[0].Add(m.lengths[len(m.lengths)-1]), "upbeat and last bar make a bar") && ok
		for _, length := range m.lengths[1 : len(m.lengths)-1] {
			ok = assert.Equal(t, full, length, "full bars") && ok
		}
	} else {
		for _, length := range m.lengths {
			ok = assert.Equal(t, full, length, "full bars") && ok
		}
	}
	ok = assert.Contains(t, l.bars, bars, "bars") && ok
	for v := range m.values {
		ok = assert.Contains(t, l.values, v, "value") && ok
	}
	grade := map[int][]string{1: {"1", "2"}, 2: {"1", "2"}, 3: {"2"}}[level]
	return checkRange(t, e, grade) && ok
}

func fullBar(metre string) musicxml.Fraction {
	var beats, unit int64
	fmt.Sscanf(metre, "%d/%d", &beats, &unit)
	return musicxml.NewFraction(4*beats, unit)
}

// checkRange: the written notes lie in a school range of the level's grade (at
// level 1 and 2 of the next where the first has no room), else in the
// professional one.
func checkRange(t *testing.T, e *exercise.Exercise, grades []string) bool {
	low, high := 127, 0
	use := func(r instruments.Range) {
		low, high = min(low, r.Written.Low.NoteNumber()), max(high, r.Written.High.NoteNumber())
	}
	for _, r := range e.Instrument.Ranges() {
		for _, g := range grades {
			if r.Level == instruments.School && r.Grade == g {
				use(r)
			}
		}
	}
	if low > high {
		r, _ := e.Instrument.Range(instruments.Professional)
		use(r)
	}
	for _, p := range e.Pairs {
		written := p.To
		if e.From == explain.Written {
			written = p.From
		}
		n, _ := written.MIDI().Whole()
		if !assert.True(t, low <= n && n <= high, "written %s lies in range", written) {
			return false
		}
	}
	return true
}

// checkLine: leaps, compass, highest note, intervals, recovery.
func checkLine(t *testing.T, m sheetMusic, l limits, level int) bool {
	ok := true
	lowest, highest, times, leaps := m.notes[0].place, m.notes[0].place, 0, 0
	for _, n := range m.notes {
		lowest, highest = min(lowest, n.place), max(highest, n.place)
	}
	for i, n := range m.notes {
		if n.place == highest {
			times++
		}
		if i == 0 {
			continue
		}
		before := m.notes[i-1]
		size, semis := pitch.Abs(n.place-before.place), pitch.Abs(n.semitones-before.semitones)
		ok = assert.LessOrEqual(t, size, max(l.leap, 1), "leap at note %d", i) && ok
		ok = assert.Contains(t, allowedIntervals[size], semis, "interval at note %d: %d steps, %d semitones", i, size, semis) && ok
		if size >= 2 {
			leaps++
			if level == 1 {
				ok = assert.True(t, isTriad(before) && isTriad(n), "leaps among 1, 3, 5") && ok
			}
		}
		if i < 2 {
			continue
		}
		first := before.place - m.notes[i-2].place
		second := n.place - before.place
		if pitch.Abs(first) >= 3 {
			ok = assert.Equal(t, -first/pitch.Abs(first), second, "step back after a fourth or more, note %d", i) && ok
		} else if pitch.Abs(first) >= 2 && pitch.Abs(second) >= 2 && (first > 0) == (second > 0) {
			ok = assert.True(t, isTriad(m.notes[i-2]) && isTriad(before) && isTriad(n), "two leaps one way along a triad, note %d", i) && ok
		}
	}
	ok = assert.LessOrEqual(t, highest-lowest, l.compass, "compass") && ok
	ok = assert.Equal(t, 1, times, "one highest note, once") && ok
	return assert.LessOrEqual(t, 2*leaps, len(m.notes)-1, "mostly steps") && ok
}

// allowedIntervals by steps: no augmented ones, no sevenths; of diminished ones
// the fifth.
var allowedIntervals = map[int][]int{0: {0}, 1: {1, 2}, 2: {3, 4}, 3: {5}, 4: {6, 7}, 5: {8, 9}, 7: {12}}

func isTriad(n heard) bool { return n.alter == 0 && (n.degree == 0 || n.degree == 2 || n.degree == 4) }

// checkCloses: begins on 1, 3 or 5; ends 2–1 or 7–1 on the first beat of the last
// bar; of eight bars, 5 and 6 are 1 and 2, and bar 4 does not close on the tonic.
func checkCloses(t *testing.T, m sheetMusic, level int) bool {
	n := len(m.notes)
	last, before := m.notes[n-1], m.notes[n-2]
	ok := assert.True(t, isTriad(m.notes[0]), "begins on 1, 3 or 5")
	ok = assert.Equal(t, 0, last.degree, "ends on the tonic") && ok
	ok = assert.Equal(t, 0, last.onset.Sign(), "on the strong beat") && ok
	ok = assert.Equal(t, len(m.lengths)-1, last.bar, "in the last bar") && ok
	second := before.degree == 1 && before.alter == 0
	leading := before.degree == 6 && (before.alter == 1) == m.minor
	ok = assert.True(t, (second || leading) && pitch.Abs(last.place-before.place) == 1, "2-1 or 7-1") && ok
	if len(m.lengths) < 8 {
		return ok
	}
	offset := 0
	if m.lengths[0] != fullBar(m.metre) {
		offset = 1
	}
	bar := func(k int) (places []string) {
		for _, x := range m.notes {
			if x.bar == k+offset {
				places = append(places, fmt.Sprint(x.onset, x.place, x.alter))
			}
		}
		return places
	}
	ok = assert.Equal(t, bar(0), bar(4), "bar 5 is bar 1") && ok
	ok = assert.Equal(t, bar(1), bar(5), "bar 6 is bar 2") && ok
	var half heard
	for _, x := range m.notes {
		if x.bar <= 3+offset {
			half = x
		}
	}
	closes := []int{1, 4} // 2 or 5
	if level == 4 {
		closes = []int{4, 3, 5} // dominant, subdominant, relative minor
		if m.minor {
			closes = []int{4, 2} // dominant, relative major
		}
	}
	return assert.Contains(t, closes, half.degree, "bar 4 closes weakly") && ok
}

// checkTendencies: 7 rises, 4 and 6 fall unless in a run; raised notes rise,
// lowered ones fall; in minor the raised 6 leads to the raised 7. The last note of
// a four-bar phrase has come to rest.
func checkTendencies(t *testing.T, m sheetMusic) bool {
	offset := 0
	if m.lengths[0] != fullBar(m.metre) {
		offset = 1
	}
	ok := true
	for i := 1; i < len(m.notes)-1; i++ {
		a, b, c := m.notes[i-1], m.notes[i], m.notes[i+1]
		if b.place == c.place && b.semitones == c.semitones {
			continue
		}
		came, goes := b.place-a.place, c.place-b.place
		rest := (b.bar-offset)%4 == 3 && c.bar > b.bar
		switch {
		case b.alter > 0:
			ok = assert.Equal(t, 1, goes, "raised note %d rises", i) && ok
			if m.minor && b.degree == 5 {
				ok = assert.True(t, c.degree == 6 && c.alter == 1, "raised 6 leads to raised 7") && ok
			}
		case b.alter < 0:
			ok = assert.Equal(t, -1, goes, "lowered note %d falls", i) && ok
		case rest:
		case b.degree == 6 && m.minor:
			ok = assert.Equal(t, -1, goes, "the 7 of the minor signature falls, note %d", i) && ok
		case b.degree == 6:
			ok = assert.True(t, goes == 1 || came == -1 && goes == -1, "7 rises, note %d", i) && ok
		case b.degree == 3 || b.degree == 5:
			ok = assert.True(t, goes == -1 || came == 1 && goes == 1, "4 and 6 fall, note %d", i) && ok
		}
	}
	return ok
}

// checkSigns: as many accidentals as the level has, as many that change kind, and
// at level 4 and 5 one that holds on within its bar.
func checkSigns(t *testing.T, e *exercise.Exercise, m sheetMusic, l limits) bool {
	signs, changes, held, doubles := 0, 0, 0, 0
	for _, p := range e.Pairs {
		altered := p.Raised() != 0
		if altered && p.FromSign == "" {
			held++
		}
		if p.FromSign == "" {
			continue
		}
		signs++
		if n, _ := p.From.Alter.Whole(); n > 1 || n < -1 {
			doubles++
		}
		if n, _ := p.To.Alter.Whole(); n > 1 || n < -1 {
			doubles++
		}
		if p.From.Alter != p.To.Alter {
			changes++
		}
	}
	ok := assert.True(t, l.signsFrom <= signs && signs <= l.signsTo, "%d accidentals", signs)
	ok = assert.Equal(t, e.Facts.Signs, signs, "as counted") && ok
	if e.Interval().Fifths() == 0 {
		return assert.Equal(t, 0, changes, "an octave changes no kind") && ok
	}
	ok = assert.Equal(t, l.changes, changes, "changes of kind") && ok
	if l.signsFrom >= 3 {
		ok = assert.Positive(t, held, "one accidental holds on") && ok
	}
	if l.fifths < 6 {
		ok = assert.Zero(t, doubles, "no double signs below level 5") && ok
	}
	return ok
}

// checkSolution: the rule that learners are taught gives the answer: each letter
// moves by the interval's steps, each note stays raised or lowered against the
// signature by as much as it was (trade/notation-rules.md, section 5), and what
// sounds is the same.
func checkSolution(t *testing.T, e *exercise.Exercise, given, answer sheetMusic) bool {
	if !assert.Len(t, answer.notes, len(given.notes)) {
		return false
	}
	ok := true
	for i, n := range given.notes {
		a := answer.notes[i]
		ok = assert.Equal(t, n.place+e.Moved.Diatonic, a.place, "letter of note %d", i) && ok
		ok = assert.Equal(t, n.alter, a.alter, "raised or lowered as before, note %d", i) && ok
		ok = assert.Equal(t, n.semitones+e.Interval().Chromatic, a.semitones, "sound of note %d", i) && ok
		ok = assert.Equal(t, n.sign == "", a.sign == "", "a sign stays a sign, note %d", i) && ok
	}
	return ok
}

// checkTrace: a signature that is forgotten, or copied unmoved, spoils some note
// that has no accidental of its own.
func checkTrace(t *testing.T, e *exercise.Exercise, answer sheetMusic) bool {
	forgotten, unmoved := e.Facts.Answer == 0, e.Facts.Answer == e.Facts.Key
	for _, n := range answer.notes {
		step := n.place % 7
		if n.alter != 0 || n.sign != "" {
			continue
		}
		right := signatureAlter(e.Facts.Answer, step)
		forgotten = forgotten || right != 0
		unmoved = unmoved || right != signatureAlter(e.Facts.Key, step)
	}
	ok := assert.True(t, forgotten, "a forgotten signature shows")
	return assert.True(t, unmoved, "an unmoved signature shows") && ok
}

// TestVersionsAreEquallyHard: equal counts of notes, leaps, accidentals and
// changes of kind, keys within one fifth (trade/teaching.md, section 6).
func TestVersionsAreEquallyHard(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	count := musicxmltest.Sweep(3, 6)
	for level := 1; level <= exercise.Levels; level++ {
		sheets, err := exercise.Make(c, exercise.Settings{From: exercise.Both, Count: count, Seed: 11, Level: level, Versions: 3})
		require.NoError(t, err)
		different := 0
		for n, a := range sheets[0].Exercises {
			for _, s := range sheets[1:] {
				b := s.Exercises[n]
				assert.Equal(t, a.Facts.Notes, b.Facts.Notes)
				assert.Equal(t, a.Facts.Leaps, b.Facts.Leaps)
				assert.Equal(t, a.Facts.Signs, b.Facts.Signs)
				assert.Equal(t, a.Facts.Changes, b.Facts.Changes)
				assert.LessOrEqual(t, pitch.Abs(a.Facts.Key-b.Facts.Key), 1)
				assert.Equal(t, a.Instrument.ID, b.Instrument.ID)
				assert.Equal(t, a.From, b.From)
				for i := range a.Pairs {
					if a.Pairs[i].From != b.Pairs[i].From {
						different++
						break
					}
				}
				checkExercise(t, b, level)
			}
		}
		assert.Greater(t, 2*different, 3*count, "other melodies, level %d", level)
	}
}

// TestEveryInstrument makes exercises for the whole catalogue: by default at one level
// each, by turns.
func TestEveryInstrument(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for n, i := range c.All() {
		if i.Flags.Unpitched || i.Staves > 1 {
			continue
		}
		for level := 1 + n%musicxmltest.Sweep(exercise.Levels, 1); level <= exercise.Levels; level += musicxmltest.Sweep(exercise.Levels, 1) {
			_, err := exercise.Make(c, exercise.Settings{Instrument: i, From: exercise.Both, Count: 1, Seed: 5, Level: level, Versions: 1})
			if !i.Transposes() {
				assert.ErrorContains(t, err, "there is nothing to transpose", i.ID)
				continue
			}
			assert.NoError(t, err, "%s, level %d", i.ID, level)
		}
	}
}
