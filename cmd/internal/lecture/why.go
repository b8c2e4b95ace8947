package lecture

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// series are the first sixteen notes of the harmonic series on C, written by the
// nearest notes of a piano.
func series() []pitch.Pitch {
	var list []pitch.Pitch
	for _, name := range strings.Fields("C2 C3 G3 C4 E4 G4 Bb4 C5 D5 E5 F#5 G5 Ab5 Bb5 B5 C6") {
		p, _ := pitch.Parse(name) // a name of ours
		list = append(list, p)
	}
	return list
}

// crooks are the horn's tubes from short to long, by the catalogue's names (trade/
// transpositions.csv), and sizes are woodwinds built in several sizes.
var (
	crooks = []string{"horn-bflat-alto", "horn-a", "horn-g", "horn-f", "horn-e", "horn-eflat", "horn-d", "horn-c-basso", "horn-bflat-basso"}
	sizes  = []string{"clarinet-eflat", "clarinet-c", "clarinet-bflat", "clarinet-a", "bass-clarinet-bflat", "soprano-saxophone-bflat", "alto-saxophone-eflat", "tenor-saxophone-bflat", "baritone-saxophone-eflat"}
)

// transposition says why instruments transpose.
func (m *maker) transposition() error {
	t := m.t
	row := m.step("series", t.Say("lecture.series", nil), t.Say("lecture.series-tube", nil), t.Say("lecture.series-steps", nil),
		t.Say("lecture.series-between", texts.Fill{"sharp": t.Note(series()[10]), "flat": t.Note(series()[12])}))
	row.Rows = []Row{m.row("1–16", series())}
	if err := row.draw(seriesStaff()); err != nil {
		return err
	}
	crook := m.step("crooks", t.Say("lecture.crooks", nil), t.Say("lecture.crooks-longer", nil), t.Say("lecture.crooks-read", texts.Fill{"c": t.Letter(pitch.C), "d": t.Letter(pitch.D)}))
	crook.Table = m.sounds(crooks, true)
	m.step("valves", t.Say("lecture.valves", nil), t.Say("lecture.valves-text", nil))
	family := m.step("families", t.Say("lecture.families", nil), t.Say("lecture.families-text", nil))
	family.Table = m.sounds(sizes, false)
	m.step("octaves", t.Say("lecture.octaves", nil), t.Say("lecture.octaves-text", nil))
	m.step("names", t.Say("lecture.names", nil), t.Say("lecture.names-text", texts.Fill{"c": t.Letter(pitch.C), "b": t.Note(pitch.Pitch{Step: pitch.B, Alter: -pitch.Semitone})}), t.Say("lecture.names-lower", nil))
	return m.thisInstrument()
}

// seriesStaff is the row with the number of each note.
func seriesStaff() staff {
	treble := explain.Treble
	s := staff{tune: row(explain.Bass, nil, series()...)}
	s.tune.Bars[1].Clef = &treble
	for n := range series() {
		s.under = append(s.under, strconv.Itoa(n+1))
	}
	return s
}

// sounds is a table of what written C5 sounds on instruments, with the tubes of those
// that are nothing else.
func (m *maker) sounds(ids []string, tubes bool) *Table {
	t := m.t
	c := pitch.Pitch{Step: pitch.C, Octave: 5}
	table := &Table{Head: []string{t.Say("lecture.column-name", nil), t.Say("lecture.column-sounds", texts.Fill{"c": t.Pitch(c)}), t.Say("lecture.column-off", nil)}}
	if tubes {
		table.Head = append(table.Head, t.Say("lecture.column-tube", nil))
	}
	for _, id := range ids {
		i := m.catalogue.ByID(id)
		line := []string{t.InstrumentTitle(i), t.Pitch(i.Interval().Apply(c)), "–"}
		if by := i.Interval(); by != (pitch.Interval{}) {
			line[2] = t.Off(by)
		}
		if tubes {
			line = append(line, t.Say("lecture.metres", texts.Fill{"metres": m.decimal(tube(i))}))
		}
		table.Rows = append(table.Rows, line)
	}
	return table
}

// speedOfSound in the warm air of a player's breath, in metres a second (331.3 + 0.6 a
// degree, at 25).
const speedOfSound = 346

// tube is the length in metres of half the wave of the first note of an instrument's
// row, which a tube open to its row has about.
func tube(i *instruments.Instrument) float64 {
	first := i.Interval().Apply(series()[0])
	hertz := 440 * math.Pow(2, float64(first.NoteNumber()-69)/12)
	return speedOfSound / (2 * hertz)
}

// decimal writes a number with one place, as the language does.
func (m *maker) decimal(n float64) string {
	return strings.Replace(fmt.Sprintf("%.1f", n), ".", m.t.Say("lecture.decimal-point", nil), 1)
}

// firstHeard is the first note of the row that is shown for an instrument: those below
// are seldom played.
const firstHeard = 2

// thisInstrument shows what was said on the instrument that was asked for.
func (m *maker) thisInstrument() error {
	i := m.Instrument
	if i == nil {
		return nil
	}
	task := explain.Task{Instrument: i, From: explain.Written}
	s := m.step("instrument", m.t.InstrumentTitle(i), task.Reads(m.t))
	if !i.Is("brass") || !i.Transposes() || i.OctaveOnly() {
		return nil
	}
	s.Text = append(s.Text, m.t.Say("lecture.instrument-row", nil))
	written := series()[firstHeard:]
	var sounding []pitch.Pitch
	for _, p := range written {
		sounding = append(sounding, i.Interval().Apply(p))
	}
	s.Rows = []Row{m.row(m.t.Say("lesson.written", nil), written), m.row(m.t.Say("lesson.sounds", nil), sounding)}
	return s.draw(staff{name: m.t.Say("lesson.written", nil), tune: row(explain.Treble, nil, written...)},
		staff{name: m.t.Say("lesson.sounds", nil), tune: row(task.ClefFor(explain.Sounding, sounding), nil, sounding...)})
}
