package written

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
)

// Where the new instrument's transposition begins: what the score says between the
// announcement and the entry is followed, else it is the instrument's from the entry on
// (trade/transpositions.csv: a clarinet in A sounds a minor third lower, one in B flat a major
// second).
func TestChangedStretches(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	at := func(measure int, onset int64) musicxml.Position {
		return musicxml.Position{Measure: measure, Onset: musicxml.NewFraction(onset, 1)}
	}
	bflat, ina, octave := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}, transpose.Transposition{OctaveChange: 1}
	from := func(at musicxml.Position, to transpose.Transposition) transpose.Stretch {
		return transpose.Stretch{Measure: at.Measure, Onset: at.Onset, To: to}
	}
	base := from(at(0, 0), bflat)
	bare := from(at(3, 0), ina)
	bare.WithoutSignature = true
	doubled := from(at(3, 0), ina)
	doubled.DropDoubling = true
	for _, row := range []struct {
		why        string
		instrument string
		announced  musicxml.Position
		entry      musicxml.Position
		says       []transpose.Stretch // the part, and so do the stretches
		assignment assign.Assignment
		without    []string
		want       []transpose.Stretch // behind the first
		code       string
	}{
		{why: "words alone", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), want: []transpose.Stretch{from(at(3, 0), ina)}},
		{why: "said between", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(2, 2), ina)}, want: []transpose.Stretch{from(at(2, 2), ina)}},
		{why: "said at the entry", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(3, 0), ina)}, want: []transpose.Stretch{from(at(3, 0), ina)}},
		{why: "said with the words", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(2, 0), ina)}, want: []transpose.Stretch{from(at(2, 0), ina)}},
		{why: "another is said", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(3, 0), bflat)}, want: []transpose.Stretch{from(at(3, 0), bflat)}, code: "change-contradicted"},
		{why: "said before", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(1, 0), bflat)}, want: []transpose.Stretch{from(at(1, 0), bflat), from(at(3, 0), ina)}},
		{why: "said after", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(4, 0), bflat)}, want: []transpose.Stretch{from(at(3, 0), ina), from(at(4, 0), bflat)}},
		{why: "from the beginning on", instrument: "clarinet-a", entry: at(3, 0), want: []transpose.Stretch{from(at(3, 0), ina)}},
		{why: "a written part that does not say it", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), assignment: assign.Assignment{Assignment: plan.Assignment{RecognisedBy: assign.ByTranspose}}, code: "change-without-transpose"},
		{why: "one that need not", instrument: "clarinet-bflat", announced: at(2, 0), entry: at(3, 0), assignment: assign.Assignment{Assignment: plan.Assignment{RecognisedBy: assign.ByTranspose}}},
		{why: "an octave instrument keeps what the score has", instrument: "piccolo", announced: at(2, 0), entry: at(5, 0), says: []transpose.Stretch{from(at(1, 0), octave)}, want: []transpose.Stretch{from(at(1, 0), octave), from(at(5, 0), octave)}},
		{why: "and not what it has later", instrument: "piccolo", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(1, 0), octave), from(at(4, 0), transpose.Transposition{})}, want: []transpose.Stretch{from(at(1, 0), octave), from(at(3, 0), octave), from(at(4, 0), transpose.Transposition{})}},
		{why: "an octave is said where there is none", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(3, 0), octave)}, want: []transpose.Stretch{from(at(3, 0), octave)}, code: "change-contradicted"},
		{why: "a transposition is said of an octave instrument", instrument: "piccolo", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(3, 0), bflat)}, want: []transpose.Stretch{from(at(3, 0), bflat)}, code: "change-contradicted"},
		{why: "another octave than usual", instrument: "piccolo", announced: at(2, 0), entry: at(3, 0), says: []transpose.Stretch{from(at(3, 0), transpose.Transposition{})}, want: []transpose.Stretch{from(at(3, 0), transpose.Transposition{})}},
		{why: "a written part that said it at its place", instrument: "clarinet-a", announced: at(4, 0), entry: at(5, 0), says: []transpose.Stretch{from(at(1, 0), ina)}, want: []transpose.Stretch{from(at(1, 0), ina)}, assignment: assign.Assignment{Assignment: plan.Assignment{RecognisedBy: assign.ByTranspose}}},
		{why: "without signature", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), without: []string{"horn", "clarinet"}, want: []transpose.Stretch{bare}},
		{why: "one of two players", instrument: "clarinet-a", announced: at(2, 0), entry: at(3, 0), assignment: assign.Assignment{Assignment: plan.Assignment{Player: 1}}, want: []transpose.Stretch{doubled}},
	} {
		in := catalogue.ByID(row.instrument)
		require.NotNil(t, in, row.instrument)
		said := append([]transpose.Stretch{base}, row.says...)
		d := &draft.Draft{Assignment: row.assignment, Survey: &survey.Part{Source: said}, Timeline: &musicxml.Timeline{Measures: make([]musicxml.Measure, 7)},
			Changes: []draft.InstrumentChange{{Position: row.entry, Instrument: in, Announced: row.announced}}}
		s := &writer{d, Options{WithoutSignature: row.without}}
		assert.Equal(t, append([]transpose.Stretch{base}, row.want...), s.changedStretches(said), row.why)
		assert.Equal(t, row.code, codes(d), row.why)
		for _, w := range d.Report.Warnings {
			assert.Equal(t, "the score changes to "+in.Label("en", "")+map[string]string{
				"change-contradicted":      " here, but its transposition is another instrument's; the transposition was followed",
				"change-without-transpose": " here without a transposition of its own; the notes were left as they are",
			}[row.code], w.Text)
		}
	}
}

// A stretch for all staves ends those of the staves; one of a staff that staff's.
func TestInForce(t *testing.T) {
	t.Parallel()
	of := func(measure, staff int) transpose.Stretch { return transpose.Stretch{Measure: measure, Staff: staff} }
	for _, row := range []struct {
		force []transpose.Stretch
		next  transpose.Stretch
		want  []transpose.Stretch
	}{
		{nil, of(0, 0), []transpose.Stretch{of(0, 0)}}, {[]transpose.Stretch{of(0, 1), of(0, 2)}, of(1, 0), []transpose.Stretch{of(1, 0)}},
		{[]transpose.Stretch{of(0, 1), of(0, 2)}, of(1, 1), []transpose.Stretch{of(0, 2), of(1, 1)}}, {[]transpose.Stretch{of(0, 0)}, of(1, 2), []transpose.Stretch{of(0, 0), of(1, 2)}},
	} {
		assert.Equal(t, row.want, inForce(row.force, row.next), "%v", row)
	}
}

// One change after the other is seen to, whatever the first one was.
func TestSeveralChanges(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	bflat, ina := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	said := []transpose.Stretch{{To: bflat}, {Measure: 1, To: ina}}
	changes := []draft.InstrumentChange{{Position: musicxml.Position{Measure: 1}, Instrument: catalogue.ByID("clarinet-a"), Announced: musicxml.Position{Measure: 1}},
		{Position: musicxml.Position{Measure: 3}, Instrument: catalogue.ByID("clarinet-bflat"), Announced: musicxml.Position{Measure: 3}}, {Position: musicxml.Position{Measure: 5}, Instrument: catalogue.ByID("clarinet-bflat"), Announced: musicxml.Position{Measure: 5}}}
	for by, want := range map[string][]transpose.Stretch{"name": {{To: bflat}, {Measure: 1, To: ina}, {Measure: 3, To: bflat}, {Measure: 5, To: bflat}}, assign.ByTranspose: said} {
		d := draftOf(t, "C5:w | [transpose -2 -3] C5:w | C5:w | C5:w | <attributes><key/></attributes> C5:w | C5:w")
		d.Survey.Source, d.Assignment.RecognisedBy, d.Changes = said, by, changes
		s := &writer{Draft: d}
		assert.Equal(t, want, s.changedStretches(said), by)
		assert.Len(t, d.Report.Warnings, map[string]int{assign.ByTranspose: 2}[by], by)
		s.sayUnsaidChanges()
		require.NoError(t, d.Settle())
		s.sayUnsaidChanges() // is said once
		var all []string
		for _, e := range d.Part.FindElements("//transpose") {
			all = append(all, musicxml.Attr(e.Parent().Parent(), "number")+":"+musicxml.ChildText(e, "chromatic"))
		}
		assert.Equal(t, []string{"2:-3", "4:-2", "6:-2"}, all)
	}
}
