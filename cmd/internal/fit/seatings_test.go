package fit_test

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/parts/plan"
	"deskpart/musicxml/reading"
)

// Three bands of our own making: a school's, twelve people who play together, winds
// without strings.
var bands = []struct {
	name    string
	level   instruments.Level
	players string
}{
	{"school band of 28", instruments.School, "3 flute, oboe, bassoon, 5 clarinet, bass clarinet, 2 alto saxophone, tenor saxophone, baritone saxophone, " +
		"3 trumpet, 2 horn, 2 trombone, euphonium, tuba, timpani, percussion, snare drum"},
	{"twelve players", instruments.Professional, "2 flute, 2 clarinet, alto saxophone, trumpet, horn, trombone, 2 violin, cello, piano"},
	{"wind band", instruments.Professional, "2 flute, piccolo, 2 oboe, 4 clarinet, bass clarinet, 2 bassoon, 4 horn, 3 trumpet, 3 trombone, euphonium, 2 tuba, timpani"},
}

// seated is a casting of a movement, with the parts that an extraction by its plan
// makes, read off the page.
type seated struct {
	*fit.Casting
	catalogue *instruments.Catalogue
	level     instruments.Level
	music     []*fit.Music
	lines     map[string]*fit.Music // by the name in the plan
	parts     map[string]made       // by label
}

type made struct {
	parts.Assignment
	page    *reading.Page
	octaves []parts.OctaveChange
}

// seat casts a movement and makes the parts that the plan asks for.
func seat(t *testing.T, file string, level instruments.Level, players string) *seated {
	t.Helper()
	data := musicxmltest.ScoreText(t, file)
	o := open(t, data, level)
	s := &seated{catalogue: instrumentstest.Load(t), level: level, lines: map[string]*fit.Music{}, parts: map[string]made{}}
	for i := range o.assignments {
		m, err := fit.ReadMusic(o.job, i, nil)
		require.NoError(t, err)
		s.music = append(s.music, m)
	}
	band, err := fit.ParseBand(instrumentstest.Load(t), players)
	require.NoError(t, err)
	s.Casting, err = fit.Cast(s.music, band, level, nil)
	require.NoError(t, err)
	i := 0
	for _, name := range s.names() {
		s.lines[name] = s.music[i]
		i++
	}
	s.make(t, data)
	return s
}

// names are what the plan calls each line of the score, in its order.
func (s *seated) names() []string {
	var names []string
	roles, left := s.Roles, s.Uncovered
	for _, m := range s.music {
		switch {
		case len(roles) > 0 && roles[0].PartID == m.Assignment.ID:
			names = append(names, roles[0].PlanName)
			for len(roles) > 0 && roles[0].PlanName == names[len(names)-1] {
				roles = roles[1:]
			}
		default:
			names = append(names, left[0].PlanName)
			left = left[1:]
		}
	}
	return names
}

func (s *seated) make(t *testing.T, data []byte) {
	t.Helper()
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	var table bytes.Buffer
	require.NoError(t, plan.Write(&table, s.PlanRows()))
	o := parts.DefaultOptions()
	o.Players, o.Level, o.RestBars = s.Shared, s.level, 0
	o.Plan, err = plan.Read(&table)
	require.NoError(t, err)
	job := partstest.Job(t, score, o)
	assert.Empty(t, job.Missing())
	for i, a := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		s.parts[a.Label] = made{a, pageOf(t, sheet.Document), sheet.Report.Octaves}
	}
}

// Three movements and three bands: each sentence of what an arranger does, held
// against the parts that come of it.
func TestSeatingsOfMovements(t *testing.T) {
	t.Parallel()
	for n, name := range []string{"Haydn_104_1", "Brahms_Op.98_4", "Brahms_Op.45_1"} {
		for _, band := range musicxmltest.SweepByTurns(n, 1, bands) {
			t.Run(name+", "+band.name, func(t *testing.T) {
				t.Parallel()
				s := seat(t, filepath.Join(musicxmltest.SharedDir(t), "scores", "written", name+".mxl"), band.level, band.players)
				t.Log("\n" + s.text())
				s.everybodyIsSaid(t, band.players)
				s.chairsAreKept(t)
				s.lawHolds(t)
				s.neighboursDoNotCross(t)
				s.melodyAndBassAreCovered(t)
				s.nothingThickBesideThin(t)
				s.partsAreAsSaid(t)
			})
		}
	}
}

// doubledEnough is the share of a tune that may be missing where its own line is left out:
// a string quartet plays its own four parts, though the flute lies above them.
const doubledEnough = 0.25

// The line that has the highest note of the score for the longest time is played by every
// band, whoever is missing from it, however few they are, or others have it.
func TestTuneIsNotLeftOut(t *testing.T) {
	t.Parallel()
	for n, name := range []string{"Haydn_104_1", "Brahms_Op.98_4", "Schubert_D.485_1"} {
		data := musicxmltest.ScoreText(t, filepath.Join(musicxmltest.SharedDir(t), "scores", "written", name+".mxl"))
		o := open(t, data, instruments.School)
		var music []*fit.Music
		for i := range o.assignments {
			m, err := fit.ReadMusic(o.job, i, nil)
			require.NoError(t, err)
			music = append(music, m)
		}
		tune := longestHighest(music)
		for _, players := range musicxmltest.SweepByTurns(n, 3, []string{
			"flute, clarinet, trumpet, trombone, tuba", "2 violin, viola, cello", "3 flute, clarinet, 4 violin, cello", "2 trumpet, horn, trombone, tuba",
			"2 flute, 2 clarinet, alto saxophone, 2 trumpet, horn, trombone, euphonium, tuba",
			"2 flute, oboe, 3 clarinet, 2 alto saxophone, tenor saxophone, 3 trumpet, 2 horn, trombone",
			"2 flute, oboe, 3 clarinet, 2 alto saxophone, tenor saxophone, 3 trumpet, 2 horn, trombone, euphonium, tuba",
			"2 flute, 2 oboe, 2 clarinet, 2 bassoon, 4 horn, 2 trumpet, 3 trombone, tuba, timpani",
		}) {
			band, err := fit.ParseBand(instrumentstest.Load(t), players)
			require.NoError(t, err)
			c, err := fit.Cast(music, band, instruments.School, nil)
			require.NoError(t, err)
			i := slices.IndexFunc(c.Uncovered, func(u fit.Uncovered) bool { return u.PartID == tune.Assignment.ID })
			assert.True(t, i < 0 || c.Uncovered[i].Missing < doubledEnough, "%s: %s is left out by %s", name, tune.Assignment.Label, players)
		}
	}
}

// longestHighest is the music that has the highest note, in whatever octave, at most eighths.
func longestHighest(music []*fit.Music) *fit.Music {
	notes := make([]map[int][]int, len(music))
	highest := map[int]int{}
	for i, m := range music {
		notes[i] = map[int][]int{}
		for _, n := range m.Line {
			addEighths(notes[i], n.Start, n.Duration, n.Sounding.NoteNumber())
		}
		for at, sounds := range notes[i] {
			highest[at] = max(highest[at], slices.Max(sounds))
		}
	}
	var best *fit.Music
	most := 0
	for i, m := range music {
		n := 0
		for at, sounds := range notes[i] {
			if slices.ContainsFunc(sounds, func(s int) bool { return (highest[at]-s)%12 == 0 }) {
				n++
			}
		}
		if n > most {
			best, most = m, n
		}
	}
	return best
}

// text prints a seating, for people.
func (s *seated) text() string {
	var b strings.Builder
	for _, r := range s.Roles {
		double := ""
		if r.Doubling {
			double = ", doubling"
		}
		fmt.Fprintf(&b, "%-16s %s%s, octave %+d, %d changes\n", r.PlanName, r.Label, double, r.Octave, r.Changes)
	}
	for _, u := range s.Uncovered {
		fmt.Fprintf(&b, "%-16s - %s\n", u.PlanName, u.Text)
	}
	return b.String() + "idle: " + strings.Join(s.Idle, ", ")
}

// everybodyIsSaid: each line is played or said to be left out and why, each player has
// a part or is said to have none.
func (s *seated) everybodyIsSaid(t *testing.T, players string) {
	t.Helper()
	band, err := fit.ParseBand(instrumentstest.Load(t), players)
	require.NoError(t, err)
	count := 0
	for _, section := range band {
		count += section.Count
	}
	assert.Equal(t, count, len(s.Roles)+len(s.Idle))
	played := map[string]bool{}
	for _, r := range s.Roles {
		played[r.PlanName] = true
	}
	assert.Equal(t, len(s.music), len(played)+len(s.Uncovered))
	for _, u := range s.Uncovered {
		assert.NotEmpty(t, u.Text, u.PlanName)
		assert.False(t, played[u.PlanName], u.PlanName)
		assert.True(t, u.Missing == 0 || len(u.MissingIn) > 0, "%s: where it is missed", u.PlanName)
		assert.True(t, u.Missing == 1 || len(u.Elsewhere) > 0 || strings.Contains(u.Text, "silent"), "%s: where it sounds", u.PlanName)
	}
	for _, idle := range s.Idle {
		assert.Equal(t, instruments.Percussion, s.catalogue.ByID(idle).Group, "a player with nothing to do")
	}
}

// chairsAreKept: of the lines for an instrument its players have the first, in their
// order, at the score's octave. A line is another instrument's only behind those.
func (s *seated) chairsAreKept(t *testing.T) {
	t.Helper()
	last, number := map[string]int{}, map[string]int{}
	for line, m := range s.music {
		if m.From == nil {
			continue
		}
		own, seat := s.ownPlayer(line)
		if own == nil {
			if s.played(line) {
				last[m.From.Kind] = max(last[m.From.Kind], 1)
			}
			continue
		}
		assert.Zero(t, last[m.From.Kind], "%s has an own player, though one before it does not", own.PlanName)
		assert.Zero(t, own.Octave, own.PlanName)
		assert.Zero(t, own.Changes, own.PlanName)
		assert.Greater(t, seat, number[m.From.Kind], "%s in its order", own.Label)
		number[m.From.Kind] = seat
	}
}

// ownPlayer is who plays a line on its own instrument, not doubling, and the number of
// the chair.
func (s *seated) ownPlayer(line int) (*fit.Role, int) {
	for i := range s.Roles {
		r := &s.Roles[i]
		if s.lines[r.PlanName] != s.music[line] || r.Doubling || s.catalogue.ByID(r.Instrument).Kind != s.music[line].From.Kind {
			continue
		}
		seat := 1
		if fields := strings.Fields(r.Label); len(fields) > 1 {
			fmt.Sscan(fields[len(fields)-1], &seat)
		}
		return r, seat
	}
	return nil, 0
}

func (s *seated) played(line int) bool {
	for _, r := range s.Roles {
		if s.lines[r.PlanName] == s.music[line] {
			return true
		}
	}
	return false
}

// lawHolds: who plays what was not written for the instrument has every note of it,
// read off the page; the school range is no law.
func (s *seated) lawHolds(t *testing.T) {
	t.Helper()
	for _, r := range s.Roles {
		in := s.catalogue.ByID(r.Instrument)
		limits, ok := in.Range(instruments.Professional)
		part, written := s.parts[r.Label]
		if from := s.lines[r.PlanName].From; r.Copy || !ok || from != nil && from.Kind == in.Kind {
			continue
		}
		require.True(t, written, "%s has no part", r.Label)
		for _, sound := range part.page.Sounding() {
			midi := int(sound.MIDI.Num() / sound.MIDI.Den())
			assert.True(t, sound.Cue || limits.Sounding.Contains(midi), "%s (%s), measure %s, beat %s: %s", r.Label, r.PlanName, sound.Measure, sound.Beat, sound.Pitch)
		}
	}
}

// neighboursDoNotCross: of two chairs of one instrument the upper is not played under
// the lower, read off the page.
func (s *seated) neighboursDoNotCross(t *testing.T) {
	t.Helper()
	for line := 1; line < len(s.music); line++ {
		upper, lower := s.music[line-1], s.music[line]
		if upper.From == nil || lower.From == nil || upper.From.Kind != lower.From.Kind || !s.played(line-1) || !s.played(line) {
			continue
		}
		if above := meanOf(upper) - meanOf(lower); above >= 0 {
			assert.Greater(t, s.meanPlayed(line-1)-s.meanPlayed(line), -1.0, "%s and %s", upper.Assignment.Label, lower.Assignment.Label)
		}
	}
}

func meanOf(m *fit.Music) float64 {
	sum := 0.0
	for _, n := range m.Line {
		sum += float64(n.Sounding.NoteNumber())
	}
	return sum / float64(max(1, len(m.Line)))
}

// meanPlayed is how high a line lies as its first player plays it.
func (s *seated) meanPlayed(line int) float64 {
	for _, r := range s.Roles {
		if s.lines[r.PlanName] == s.music[line] && !r.Doubling {
			sum, n := 0.0, 0
			for _, sound := range s.parts[r.Label].page.Sounding() {
				if !sound.TieStop {
					sum, n = sum+float64(sound.MIDI.Num()/sound.MIDI.Den()), n+1
				}
			}
			return sum / float64(max(1, n))
		}
	}
	return 0
}

// Shares of the time in which the melody and the bass must be heard: the highest note,
// in whatever octave, and the lowest, at most an octave higher.
const leastMelody, leastBass = 0.94, 0.85

// melodyAndBassAreCovered listens at every eighth to the score and to the parts that
// were made.
func (s *seated) melodyAndBassAreCovered(t *testing.T) {
	t.Helper()
	want, have := map[int][]int{}, map[int][]int{}
	for _, m := range s.music {
		for _, n := range m.Line {
			addEighths(want, n.Start, n.Duration, n.Sounding.NoteNumber())
		}
	}
	for _, p := range s.parts {
		sounds := p.page.Sounding()
		for i := range p.page.Notes {
			if n := &p.page.Notes[i]; !n.Unpitched && !n.Cue {
				addEighths(have, n.Start, n.Duration, int(sounds[i].MIDI.Num()/sounds[i].MIDI.Den()))
			}
		}
	}
	melody, bass := 0, 0
	for at, notes := range want {
		high, low := slices.Max(notes), slices.Min(notes)
		if slices.ContainsFunc(have[at], func(n int) bool { return (n-high)%12 == 0 }) {
			melody++
		}
		if slices.ContainsFunc(have[at], func(n int) bool { return n == low || n == low+12 }) {
			bass++
		}
	}
	t.Logf("of %d eighths %.3f have the melody, %.3f the bass", len(want), float64(melody)/float64(len(want)), float64(bass)/float64(len(want)))
	assert.GreaterOrEqual(t, float64(melody), leastMelody*float64(len(want)))
	assert.GreaterOrEqual(t, float64(bass), leastBass*float64(len(want)))
}

func addEighths(at map[int][]int, start, duration musicxml.Fraction, midi int) {
	eighths := func(f musicxml.Fraction) int { return int(math.Ceil(2*f.Float() - 1e-9)) }
	for i := eighths(start); i < eighths(start.Add(duration)); i++ {
		at[i] = append(at[i], midi)
	}
}

// nothingThickBesideThin: where a line has three players or more, none of those who
// double it could have doubled one that is missed more and has a single player.
func (s *seated) nothingThickBesideThin(t *testing.T) {
	t.Helper()
	players, importance := map[string]int{}, map[string]float64{}
	for _, r := range s.Roles {
		players[r.PlanName]++
		importance[r.PlanName] = r.Importance
	}
	for _, r := range s.Roles {
		if !r.Doubling || players[r.PlanName] < 3 {
			continue
		}
		for thin, n := range players {
			if n == 1 && importance[thin] > importance[r.PlanName] {
				assert.False(t, s.couldDouble(r.Instrument, thin), "%s doubles %s, which has %d players; %s has one", r.Label, r.PlanName, players[r.PlanName], thin)
			}
		}
	}
}

// couldDouble reports whether an instrument has every note of a line where it stands,
// or, in the same section, an octave away.
func (s *seated) couldDouble(instrument, line string) bool {
	in := s.catalogue.ByID(instrument)
	limits, ok := in.Range(s.level)
	for octave := -1; ok && octave <= 1; octave++ {
		if from := s.lines[line].From; octave != 0 && (from == nil || from.Group != in.Group) {
			continue
		}
		if !slices.ContainsFunc(s.lines[line].Line, func(n fit.Note) bool { return !limits.Sounding.Contains(n.Sounding.NoteNumber() + 12*octave) }) {
			return true
		}
	}
	return false
}

// partsAreAsSaid: the octave changes in the part as often as the seating says.
func (s *seated) partsAreAsSaid(t *testing.T) {
	t.Helper()
	for _, r := range s.Roles {
		if part, written := s.parts[r.Label]; written && !r.Copy {
			changes := 0
			for _, c := range part.octaves {
				if c.At != (musicxml.Position{}) {
					changes++
				}
			}
			assert.Equal(t, r.Changes, changes, "%s: %s", r.Label, r.PlanName)
		}
	}
}
