package exercise_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// Every sheet is solved again here by the rule of its topic, from the files alone, by
// code that shares nothing with what made them: places on a staff, semitones, tables
// of keys and crooks written out by hand.

// seen is a note as a reader of the file has it.
type seen struct {
	letter int // C to B as 0 to 6
	octave int
	semi   int // MIDI note number
	place  int // steps above the middle line of five
	sign   string
	alter  int
	fifths int
	bar    int
}

// staffOf is a part as a reader has it.
type staffOf struct {
	name   string
	clef   string // "G2", "C4", with "^" or "v" for an octave
	notes  []seen
	keys   []int // by bar
	chords []string
}

// middle is the letter and octave of the middle line of five under each clef (any
// primer; C4 is middle C).
var middle = map[string]int{"G2": 4*7 + 6, "F4": 3*7 + 1, "C3": 4 * 7, "C4": 3*7 + 5, "C1": 4*7 + 4, "C2": 4*7 + 2, "F3": 3*7 + 3}

var semitonesOf = map[string]int{"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}

func readStaves(t *testing.T, data []byte) []staffOf {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromBytes(data))
	names := map[string]string{}
	for _, p := range doc.FindElements("//score-part") {
		names[p.SelectAttrValue("id", "")] = p.SelectElement("part-name").Text()
	}
	var list []staffOf
	for _, part := range doc.FindElements("//part") {
		list = append(list, readStaff(t, part, names[part.SelectAttrValue("id", "")]))
	}
	return list
}

func readStaff(t *testing.T, part *etree.Element, name string) staffOf {
	t.Helper()
	s := staffOf{name: name}
	fifths := 0
	for bar, m := range part.SelectElements("measure") {
		for _, e := range m.ChildElements() {
			switch e.Tag {
			case "attributes":
				if k := e.FindElement("key/fifths"); k != nil {
					fifths = atoi(k)
				}
				if c := e.SelectElement("clef"); c != nil {
					s.clef = c.SelectElement("sign").Text() + c.SelectElement("line").Text()
					switch change := atoi(c.SelectElement("clef-octave-change")); {
					case change > 0:
						s.clef += strings.Repeat("^", change)
					case change < 0:
						s.clef += strings.Repeat("v", -change)
					}
				}
			case "harmony":
				root := e.FindElement("root/root-step").Text() + strings.Repeat("#", max(0, atoi(e.FindElement("root/root-alter")))) + strings.Repeat("b", max(0, -atoi(e.FindElement("root/root-alter"))))
				s.chords = append(s.chords, root+" "+e.SelectElement("kind").Text())
			case "note":
				if n, ok := s.read(e, fifths, bar); ok {
					s.notes = append(s.notes, n)
				}
			}
		}
		s.keys = append(s.keys, fifths)
	}
	return s
}

func (s *staffOf) read(e *etree.Element, fifths, bar int) (seen, bool) {
	p := e.SelectElement("pitch")
	if p == nil {
		return seen{}, false
	}
	step := p.SelectElement("step").Text()
	n := seen{letter: strings.Index("CDEFGAB", step), octave: atoi(p.SelectElement("octave")), alter: atoi(p.SelectElement("alter")), fifths: fifths, bar: bar}
	n.semi = 12*(n.octave+1) + semitonesOf[step] + n.alter
	clef := strings.TrimRight(s.clef, "^v")
	n.place = n.letter + 7*n.octave - middle[clef] - 7*strings.Count(s.clef, "^") + 7*strings.Count(s.clef, "v")
	if a := e.SelectElement("accidental"); a != nil {
		n.sign = a.Text()
	}
	return n, true
}

func atoi(e *etree.Element) int {
	if e == nil {
		return 0
	}
	n, _ := strconv.Atoi(e.Text())
	return n
}

// TestTopicsAreSolvable solves every topic at every level by its rule.
func TestTopicsAreSolvable(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, topic := range exercise.Topics() {
		t.Run(string(topic), func(t *testing.T) {
			t.Parallel()
			for level := 1; level <= exercise.Levels; level++ {
				for seed := range musicxmltest.Sweep[uint64](3, 60) {
					sheets, err := exercise.Make(c, exercise.Settings{Topic: topic, From: exercise.Both, Count: 1, Seed: seed, Level: level, Versions: 1})
					require.NoError(t, err, "level %d, seed %d", level, seed)
					e := sheets[0].Exercises[0]
					question, err := e.Question(sheets[0])
					require.NoError(t, err)
					answer, err := e.Key(sheets[0])
					require.NoError(t, err)
					why := solve(topic, e, readStaves(t, question), readStaves(t, answer))
					if !assert.Empty(t, why, "level %d, seed %d", level, seed) {
						return
					}
				}
			}
		})
	}
}

// solve says what is wrong with an answer by the rule of its topic, "" for nothing.
func solve(topic exercise.Topic, e *exercise.Exercise, question, answer []staffOf) string {
	switch topic {
	case exercise.ClefTopic:
		return solveClef(question[0], answer[0])
	case exercise.IntervalTopic:
		return solveInterval(e.NameIn(english), question[0], answer[0])
	case exercise.Signature:
		return solveSignature(e, question[0], answer[0])
	case exercise.ConcertScale:
		return solveScale(e, answer)
	case exercise.BandKey:
		return solveBandKey(e, answer)
	case exercise.ScoreReading:
		return solveScore(e, question, answer)
	case exercise.Sight:
		return solveSight(e, question[0], answer[0])
	}
	return solveTransposition(e, question[0], answer[0])
}

// english are the texts that sheets are read by here.
var english, _ = texts.In(pitch.English)

func solveClef(q, a staffOf) string {
	if q.clef == a.clef {
		return "the clef does not change"
	}
	for i, n := range q.notes {
		if m := a.notes[i]; m.semi != n.semi || m.letter != n.letter || m.sign != n.sign {
			return fmt.Sprintf("note %d is another one", i+1)
		}
		if n.place == a.notes[i].place {
			return "the places do not change"
		}
		if n.place < -13 || n.place > 13 || a.notes[i].place < -13 || a.notes[i].place > 13 {
			return fmt.Sprintf("note %d lies beyond five ledger lines", i+1)
		}
	}
	return ""
}

// intervalsByName are letters, semitones and sharps added, by hand.
var intervalsByName = map[string][3]int{
	"a minor second": {1, 1, -5}, "a major second": {1, 2, 2}, "a minor third": {2, 3, -3}, "a major third": {2, 4, 4}, "a perfect fourth": {3, 5, -1},
	"an augmented fourth": {3, 6, 6}, "a diminished fifth": {4, 6, -6}, "a perfect fifth": {4, 7, 1}, "a minor sixth": {5, 8, -4}, "a major sixth": {5, 9, 3},
	"a minor seventh": {6, 10, -2}, "a major seventh": {6, 11, 5}, "an octave": {7, 12, 0}, "a major ninth": {8, 14, 2},
}

func solveInterval(name string, q, a staffOf) string {
	size, up := strings.CutSuffix(name, " up")
	size = strings.TrimSuffix(size, " down")
	by, known := intervalsByName[size]
	if !known {
		return name + " is no interval of the table"
	}
	if !up {
		by = [3]int{-by[0], -by[1], -by[2]}
	}
	return moved(q, a, by)
}

// moved checks that every note went so many letters and semitones, and the signature
// so many sharps; or all by the enharmonic twin.
func moved(q, a staffOf, by [3]int) string {
	twin := 0
	switch a.keys[0] - q.keys[0] - by[2] {
	case 0:
	case -12:
		twin = 1
	case 12:
		twin = -1
	default:
		return fmt.Sprintf("the signature goes from %d to %d", q.keys[0], a.keys[0])
	}
	for i, n := range q.notes {
		m := a.notes[i]
		if m.semi-n.semi != by[1] || m.letter+7*m.octave-n.letter-7*n.octave != by[0]+twin {
			return fmt.Sprintf("note %d goes elsewhere", i+1)
		}
	}
	return ""
}

// sharpsOf are the sharps that a player reads beside the piano, by what a written C
// sounds (Gehrkens 1914: B flat two sharps more, F one, E flat three, A three fewer).
var sharpsOf = map[string]int{"Bb": 2, "F": 1, "Eb": 3, "A": -3, "D": -2, "E": -4, "G": -1, "C": 0, "": 0}

func solveTransposition(e *exercise.Exercise, q, a staffOf) string {
	i := e.Instrument
	letters, semitones, sharps := i.Interval().Diatonic, i.Interval().Chromatic, sharpsOf[i.Key]
	by := [3]int{-letters, -semitones, sharps}
	if e.From == explain.Written {
		by = [3]int{letters, semitones, -sharps}
	}
	return moved(q, a, by)
}

func solveSight(e *exercise.Exercise, q, a staffOf) string {
	if q.clef == a.clef {
		return "the clef does not change"
	}
	for i, n := range q.notes {
		m := a.notes[i]
		if m.place != n.place {
			return fmt.Sprintf("note %d leaves its line", i+1)
		}
		if m.semi-n.semi != e.Instrument.Interval().Chromatic {
			return fmt.Sprintf("note %d sounds otherwise", i+1)
		}
	}
	if a.keys[0] != q.keys[0]-sharpsOf[e.Instrument.Key] {
		return "another signature"
	}
	return ""
}

// majors and minors are the keys by their sharps (flats negative), by hand.
var majors = map[int]string{-7: "Cb", -6: "Gb", -5: "Db", -4: "Ab", -3: "Eb", -2: "Bb", -1: "F", 0: "C", 1: "G", 2: "D", 3: "A", 4: "E", 5: "B", 6: "F#", 7: "C#"}
var minors = map[int]string{-7: "Ab", -6: "Eb", -5: "Bb", -4: "F", -3: "C", -2: "G", -1: "D", 0: "A", 1: "E", 2: "B", 3: "F#", 4: "C#", 5: "G#", 6: "D#", 7: "A#"}

// nameOf is a note's name in ASCII.
func (n seen) nameOf() string {
	return string("CDEFGAB"[n.letter]) + strings.Repeat("#", max(0, n.alter)) + strings.Repeat("b", max(0, -n.alter))
}

func solveSignature(e *exercise.Exercise, q, a staffOf) string {
	for bar, k := range e.Band.Keys {
		names := majors
		if k.Mode == "minor" {
			names = minors
		}
		sharps := k.Fifths
		switch {
		case e.Instrument != nil:
			sharps += sharpsOf[e.Instrument.Key]
		case e.Band.Shown:
			sharps += intervalSharps(e.NameIn(english))
		}
		if a.keys[bar] != sharps || a.notes[bar].nameOf() != names[sharps] {
			return fmt.Sprintf("bar %d: %d sharps and %s for %s", bar+1, a.keys[bar], a.notes[bar].nameOf(), k)
		}
		if e.Band.Shown && (q.keys[bar] != k.Fifths || q.notes[bar].nameOf() != names[k.Fifths]) {
			return fmt.Sprintf("bar %d: the question shows another key", bar+1)
		}
	}
	return ""
}

func intervalSharps(name string) int {
	size, up := strings.CutSuffix(name, " up")
	by := intervalsByName[strings.TrimSuffix(size, " down")]
	if up {
		return by[2]
	}
	return -by[2]
}

// wholeAndHalf are the semitones of scales over their first note.
var wholeAndHalf = map[string][]int{"major": {0, 2, 4, 5, 7, 9, 11, 12}, "minor": {0, 2, 3, 5, 7, 8, 10, 12}, "melodic": {0, 2, 3, 5, 7, 9, 11, 12}}

func solveScale(e *exercise.Exercise, answer []staffOf) string {
	kind := string(e.Band.Key.Mode)
	if kind == "minor" && e.Level.Number >= 4 {
		kind = "melodic"
	}
	tonic := majors[e.Band.Key.Fifths]
	if e.Band.Key.Mode == "minor" {
		tonic = minors[e.Band.Key.Fifths]
	}
	for i, s := range players(e) {
		a := answer[i]
		first := a.notes[0]
		sounding := first.semi + s.Interval().Chromatic
		if (sounding-pitchClass(tonic))%12 != 0 {
			return fmt.Sprintf("%s begins on another note", s.ID)
		}
		for n, m := range a.notes {
			if m.semi-first.semi != wholeAndHalf[kind][n] || m.letter+7*m.octave != first.letter+7*first.octave+n {
				return fmt.Sprintf("%s: note %d is not of the scale", s.ID, n+1)
			}
		}
		if why := rightSignature(s, e.Band.Key.Fifths, a.keys[0]); why != "" {
			return why
		}
		if r, ok := s.Range(instruments.Professional); ok && (!r.Written.Contains(first.semi) || !r.Written.Contains(a.notes[7].semi)) {
			return fmt.Sprintf("%s cannot play it", s.ID)
		}
	}
	return ""
}

// players are those of an exercise for a band, in order.
func players(e *exercise.Exercise) []*instruments.Instrument {
	list := []*instruments.Instrument{e.Instrument}
	for _, s := range e.Others {
		if s.Instrument != nil {
			list = append(list, s.Instrument)
		}
	}
	return list
}

func rightSignature(i *instruments.Instrument, concert, is int) string {
	if want := concert + sharpsOf[i.Key]; is != want && is != want-12 && is != want+12 || is > 6 || is < -6 {
		return fmt.Sprintf("%s reads %d for concert %d", i.ID, is, concert)
	}
	return ""
}

func pitchClass(name string) int {
	return semitonesOf[name[:1]] + strings.Count(name, "#") - strings.Count(name[1:], "b")
}

func solveBandKey(e *exercise.Exercise, answer []staffOf) string {
	list := players(e)
	for i, s := range list {
		if why := rightSignature(s, e.Band.Key.Fifths, answer[i].keys[0]); why != "" {
			return why
		}
	}
	burden := func(concert int) int {
		most := 0
		for _, s := range list {
			n := concert + sharpsOf[s.Key]
			if n > 6 {
				n -= 12
			}
			if n < -6 {
				n += 12
			}
			most = max(most, n, -n)
		}
		return most
	}
	best, alone := 99, 0
	for _, k := range e.Band.Offered {
		switch b := burden(k.Fifths); {
		case b < best:
			best, alone = b, 1
		case b == best:
			alone++
		}
	}
	last := answer[len(answer)-1]
	if alone != 1 || burden(last.keys[0]) != best || last.notes[0].nameOf() != majors[last.keys[0]] {
		return "the best key is another one, or there are several"
	}
	return ""
}

// chordsOf are the semitones over the root of each kind.
var chordsOf = map[string][]int{"major": {0, 4, 7}, "minor": {0, 3, 7}, "diminished": {0, 3, 6}, "dominant": {0, 4, 7, 10}, "minor-seventh": {0, 3, 7, 10}}

func solveScore(e *exercise.Exercise, question, answer []staffOf) string {
	for i, s := range players(e) {
		for n, m := range answer[i].notes {
			if m.semi-question[i].notes[n].semi != s.Interval().Chromatic {
				return fmt.Sprintf("%s: note %d sounds otherwise", s.ID, n+1)
			}
		}
		if answer[i].keys[0] != question[i].keys[0]-sharpsOf[s.Key] {
			return s.ID + " has another signature"
		}
	}
	for bar, name := range answer[0].chords {
		root, kind, _ := strings.Cut(name, " ")
		var is []int
		for _, a := range answer {
			is = append(is, ((a.notes[bar].semi-pitchClass(root))%12+12)%12)
		}
		slices.Sort(is)
		if is = slices.Compact(is); !slices.Equal(is, chordsOf[kind]) {
			return fmt.Sprintf("bar %d is called %s and is %v", bar+1, name, is)
		}
	}
	if len(answer[0].chords) != len(answer[0].keys) {
		return "not every chord has its name"
	}
	return ""
}

// TestLevelsTestTheirPoint: on no sheet of ten does a signature that was left as it is
// happen to be right in more than three; none at levels 1 and 2.
func TestLevelsTestTheirPoint(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	seeds := musicxmltest.Sweep[uint64](2, 20)
	for level := 1; level <= exercise.Levels; level++ {
		for seed := range seeds {
			sheets, err := exercise.Make(c, exercise.Settings{From: explain.Sounding, Count: 10, Seed: seed, Level: level, Versions: 1})
			require.NoError(t, err)
			same := 0
			for _, e := range sheets[0].Exercises {
				if e.Facts.Key == e.Facts.Answer {
					same++
				}
			}
			most := 3
			if level < 3 {
				most = 0
			}
			assert.LessOrEqual(t, same, most, "level %d, seed %d", level, seed)
		}
	}
}

// TestTwoPlayers: two parts on a staff are music for a pair of players: consonant, in
// no parallel fifths or octaves, and no more than three intervals of a size in a row.
func TestTwoPlayers(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	found := 0
	sizes := map[int]int{}
	for seed := range musicxmltest.Sweep[uint64](20, 60) {
		sheets, err := exercise.Make(c, exercise.Settings{From: explain.Sounding, Count: 2, Seed: seed, Level: 5, Versions: 1})
		require.NoError(t, err)
		for _, e := range sheets[0].Exercises {
			if !e.TwoPlayers {
				continue
			}
			found++
			assert.Regexp(t, "^(horn|trumpet|clarinet-(bflat|a)|alto-sax|tenor-sax)", e.Instrument.ID)
			checkDuet(t, e, sizes)
		}
	}
	assert.Greater(t, found, 2)
	assert.Greater(t, len(sizes), 2, "not all of one size: %v", sizes)
}

func checkDuet(t *testing.T, e *exercise.Exercise, sizes map[int]int) {
	t.Helper()
	var upper, lower []explain.Pair
	for i, p := range e.Pairs {
		if p.Chord {
			upper, lower = append(upper, p), append(lower, e.Pairs[i-1])
		}
	}
	run, before := 1, -1
	for i := range upper {
		if upper[i].TieStop {
			continue
		}
		size := upper[i].From.Place() - lower[i].From.Place()
		semitones := upper[i].From.NoteNumber() - lower[i].From.NoteNumber()
		sizes[size]++
		allowed := map[int][]int{2: {3, 4}, 4: {7}, 5: {8, 9}, 7: {12}}
		assert.Contains(t, allowed[size], semitones, "%s under %s", lower[i].From, upper[i].From)
		moves := i > 0 && upper[i].From != upper[i-1].From
		if size == before && moves {
			run++
			assert.NotContains(t, []int{4, 7}, size, "parallel fifths or octaves")
		} else if size != before {
			run = 1
		}
		assert.LessOrEqual(t, run, 4, "block intervals")
		before = size
	}
}
