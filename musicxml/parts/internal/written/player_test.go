package written

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
)

// A part in written pitch that says no transposition gets that of its instrument
// (trade/transpositions.csv), an octave instrument its octave where it goes to another.
func TestUnsaidTransposition(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	in := catalogue.ByID
	const said, octave = `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`, `<transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>`
	const note = `<note><rest/></note>`
	other := assign.Assignment{Assignment: plan.Assignment{RecognisedBy: assign.ByPlan, Instrument: in("cello"), Written: in("double-bass")}}
	for _, row := range []struct {
		why        string
		from       string
		part       survey.Part
		read       survey.Input
		assignment assign.Assignment
		want       string
	}{
		{"a clarinet", `<attributes><divisions>1</divisions><key/></attributes>` + note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("clarinet-bflat")}}, survey.Written, assign.Assignment{}, `<attributes><divisions>1</divisions><key/>` + said + `</attributes>` + note},
		{"without attributes", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("clarinet-bflat")}}, survey.Written, assign.Assignment{}, `<attributes>` + said + `</attributes>` + note},
		{"as it sounds", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("clarinet-bflat")}}, survey.Concert, assign.Assignment{}, note},
		{"that plays nothing", note, survey.Part{Match: instruments.Match{Instrument: in("clarinet-bflat")}}, survey.Written, assign.Assignment{}, note},
		{"that says it", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("clarinet-bflat")}, Source: make([]transpose.Stretch, 1)}, survey.Written, assign.Assignment{}, note},
		{"that says its part", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("clarinet-bflat")}, ForPart: etree.NewElement("for-part")}, survey.Written, assign.Assignment{}, note},
		{"a flute", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("flute")}}, survey.Written, assign.Assignment{}, note},
		{"a double bass", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("double-bass")}}, survey.Written, assign.Assignment{}, note},
		{"a double bass for a cello", note, survey.Part{Notes: 1, Match: instruments.Match{Instrument: in("double-bass")}}, survey.Concert, other, `<attributes>` + octave + `</attributes>` + note},
	} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<part><measure>`+row.from+`</measure></part>`))
		d := &draft.Draft{Part: doc.Root(), Survey: &row.part, Score: &survey.Score{Reading: survey.Reading{Silent: row.read}}, Assignment: row.assignment}
		assert.Equal(t, row.from != row.want, (&writer{Draft: d}).sayUnsaidTransposition(), row.why)
		assert.Equal(t, `<part><measure>`+row.want+`</measure></part>`, textOf(t, doc), row.why)
	}
}

// What a player's <transpose> is to be at first: the plan's or the name's instrument decides,
// unless the score says it or has an octave instrument as it is read.
func TestStretches(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	in := catalogue.ByID
	bflat, octave := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{OctaveChange: -1}
	later := transpose.Stretch{Measure: 2, To: octave}
	for _, row := range []struct {
		why        string
		assignment plan.Assignment
		part       survey.Part
		want       []transpose.Stretch
		code       string
	}{
		{"by the name", plan.Assignment{Instrument: in("clarinet-bflat"), RecognisedBy: "name"}, survey.Part{}, []transpose.Stretch{{To: bflat, WithoutSignature: true}}, ""},
		{"by the plan", plan.Assignment{Instrument: in("double-bass"), RecognisedBy: assign.ByPlan}, survey.Part{}, []transpose.Stretch{{To: octave}}, ""},
		{"an octave instrument keeps what it says", plan.Assignment{Instrument: in("double-bass"), RecognisedBy: "name"}, survey.Part{Source: []transpose.Stretch{later}}, []transpose.Stretch{{}, later}, ""},
		{"one that lies as it sounds", plan.Assignment{Instrument: in("double-bass"), RecognisedBy: "name"}, survey.Part{Notes: 10, InSounding: 9, InWritten: 4}, []transpose.Stretch{{To: octave}}, "assumed-octave"},
		{"nobody knows", plan.Assignment{RecognisedBy: assign.ByNone}, survey.Part{}, []transpose.Stretch{{}}, ""},
		{"the score's", plan.Assignment{Instrument: in("clarinet-bflat"), RecognisedBy: assign.ByTranspose, Player: 0}, survey.Part{Source: []transpose.Stretch{later}}, []transpose.Stretch{{WithoutSignature: true}, {Measure: 2, To: octave, WithoutSignature: true}}, ""},
	} {
		d := &draft.Draft{Survey: &row.part, Assignment: assign.Assignment{Assignment: row.assignment}}
		assert.Equal(t, row.want, (&writer{d, Options{WithoutSignature: []string{"clarinet"}}}).stretches(), row.why)
		assert.Equal(t, row.code, codes(d), row.why)
	}
}

// codes are those of a part's warnings, one behind the other.
func codes(d *draft.Draft) (all string) {
	for _, w := range d.Report.Warnings {
		all += string(w.Code)
	}
	return all
}

// One octave holds from the first bar on; none is no change.
func TestOneOctave(t *testing.T) {
	t.Parallel()
	s := &writer{Draft: &draft.Draft{Timeline: &musicxml.Timeline{Measures: []musicxml.Measure{{Number: "0", BeatType: "4"}}}}}
	assert.Empty(t, s.oneOctave(0))
	for _, octave := range []int{-2, -1, 1, 2} {
		assert.Equal(t, []draft.OctaveChange{{Octave: octave, Measure: "0", Beat: "1"}}, s.oneOctave(octave))
	}
}
