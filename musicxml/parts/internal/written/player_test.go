package written

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// A part in written pitch that says no transposition gets that of its instrument
// (trade/transpositions.csv), an octave instrument its octave where it goes to another.
func TestUnsaidTransposition(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	in := catalogue.ByID
	const said, octave = `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`, `<transpose><diatonic>0</diatonic><chromatic>0</chromatic><octave-change>-1</octave-change></transpose>`
	const note = `<note><rest/><duration>1</duration></note>`
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
		timeline, err := musicxml.NewTimeline(doc.Root())
		require.NoError(t, err)
		d := &draft.Draft{Part: doc.Root(), Timeline: timeline, Survey: &row.part, Score: &survey.Score{Reading: survey.Reading{Silent: row.read}}, Assignment: row.assignment}
		assert.Equal(t, row.from != row.want, (&writer{Draft: d}).sayUnsaidTransposition(), row.why)
		assert.Equal(t, `<part><measure>`+row.want+`</measure></part>`, textOf(t, doc), row.why)
		require.NoError(t, d.Settle())
		said, err := transpose.Stretches(d.Timeline)
		require.NoError(t, err)
		assert.Equal(t, row.from != row.want, said[0].To != transpose.Transposition{}, "%s: it is laid out", row.why)
	}
}

// What a player's <transpose> is to be at first: the plan's or the name's instrument decides,
// unless the score says it or has an octave instrument as it is read.
func TestStretches(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
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
		for _, w := range d.Report.Warnings {
			assert.Equal(t, "the part lies where Double Bass sounds, not where it reads, and says no octave; it is written an octave away", w.Text)
		}
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

// What a score in concert pitch says of its parts is followed, for this player.
func TestStretchesForPart(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	bflat, ina := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	for _, row := range []struct {
		player  int
		without bool
	}{{0, false}, {1, false}, {0, true}} {
		d := draftOf(t, "[for -1 -2] C5:w | [for -2 -3] C5:w")
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: assign.ByForPart, Instrument: catalogue.ByID("clarinet-bflat"), Player: row.player}
		s := &writer{Draft: d}
		if row.without {
			s.o.WithoutSignature = []string{"clarinet"}
		}
		got, err := s.allStretches()
		require.NoError(t, err)
		want := []transpose.Stretch{{To: bflat, WithoutSignature: row.without, DropDoubling: row.player > 0}, {Measure: 1, To: ina, WithoutSignature: row.without, DropDoubling: row.player > 0}}
		assert.Equal(t, want, got, "%v", row)
	}
}

// What is told of a part that was written: how it was moved, whether its letters are others,
// what to look at; signs that nothing calls for go where a line was taken out.
func TestWrite(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const needless = `<note><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type><accidental>natural</accidental></note>`
	for _, row := range []struct {
		why, instrument, music string
		player                 int
		reduced                bool
		want, code             string
		elsewhere              bool
		signs, notes           int
	}{
		{"as it stands", "flute", "[key 0] C5:w", 0, false, "C5:w", "", false, 0, 1}, {"as its player reads it", "clarinet-bflat", "[key 0] C5:h D5:h", 0, false, "D5:h E5:h", "", true, 0, 2},
		{"a needless sign", "flute", needless, 0, false, "C5:w", "", false, 1, 1}, {"one of two players", "flute", needless, 1, false, "C5:w", "", false, 0, 1}, {"a line of several", "flute", needless, 0, true, "C5:w", "", false, 0, 1},
		{"letters that cannot be meant", "flute", "[transpose 5 -2] C5:w", 0, false, "C5:w", "transpose-steps", false, 0, 1},
	} {
		d := draftOf(t, row.music)
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: "name", Instrument: catalogue.ByID(row.instrument), Player: row.player}
		d.Assignment.Sharers = make([]assign.Sharer, row.player)
		if row.code != "" {
			d.Survey.Source = []transpose.Stretch{{To: transpose.Transposition{Diatonic: -1, Chromatic: -2}}}
		}
		require.NoError(t, Write(d, Options{MaxSignature: 7, Reduced: row.reduced}), row.why)
		require.NoError(t, d.Settle(), row.why)
		assert.Equal(t, row.want, shorthand.Read(d.Part), row.why)
		assert.Equal(t, []any{row.elsewhere, row.notes, row.code}, []any{d.Elsewhere, d.Report.Notes, codes(d)}, row.why)
		assert.Equal(t, row.elsewhere, d.Report.Moved != pitch.Interval{}, row.why)
		assert.Len(t, d.Part.FindElements("//accidental"), row.signs, row.why)
	}
}

// To concert pitch and back to the player: how it went is noted for the way back (MusicXML
// 4.0, for-part), octaves stay.
func TestConverted(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	bflat, octave := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{OctaveChange: 1}
	note := func(by transpose.Transposition) string {
		return strconv.Itoa(by.Chromatic) + " " + strconv.Itoa(by.OctaveChange)
	}
	stood := etree.NewDocument()
	require.NoError(t, stood.ReadFromString(`<score-part><identification><miscellaneous><miscellaneous-field name="`+survey.SourcePitch+`">`+survey.SourcePitchSounding+`</miscellaneous-field></miscellaneous></identification></score-part>`))
	for _, row := range []struct {
		why, music  string
		back        bool
		change      func(*draft.Draft)
		want        string
		forParts    []string
		transpose   transpose.Transposition
		at, as      bool
		moved, code string
	}{
		{why: "a written part", music: "[key 2] [transpose -1 -2] D5:w", want: "C5:w", forParts: []string{note(bflat)}, moved: "-2", change: func(d *draft.Draft) { d.Survey.Source = []transpose.Stretch{{To: bflat}} }},
		{why: "at sounding pitch", music: "[key 0] C5:w", want: "C5:w", forParts: []string{note(bflat)}, at: true}, {why: "in a score that says so", music: "[key 0] C5:w", want: "C5:w", forParts: []string{note(bflat)}, change: func(d *draft.Draft) { d.Score.SaysConcert = true }},
		{why: "with a change to an octave instrument", music: "[key 0] C5:w | [transpose 0 0 1] C5:w", want: "C5:w | C5:w", forParts: []string{note(bflat), note(transpose.Transposition{})}, at: true, change: func(d *draft.Draft) {
			d.Survey.Source = []transpose.Stretch{{Measure: 1, To: octave}}
			d.Changes = []draft.InstrumentChange{{Position: musicxml.Position{Measure: 1}, Announced: musicxml.Position{Measure: 1}, Instrument: catalogue.ByID("piccolo")}}
		}},
		{why: "that says an octave itself", music: "[key 0] [transpose 0 0 -1] C5:w", want: "C5:w", forParts: []string{note(transpose.Transposition{Chromatic: 10})}, at: true, transpose: transpose.Transposition{OctaveChange: -1}, change: func(d *draft.Draft) {
			d.Survey.Source = []transpose.Stretch{{To: transpose.Transposition{OctaveChange: -1}}}
		}},
		{why: "back from there", back: true, music: "[key 0] [transpose 0 0 -1] [for 6 10] C5:w", want: "D4:w", transpose: bflat, moved: "-10"},
		{why: "that says it elsewhere", music: "[key 0] C5:w", want: "C5:w", change: func(d *draft.Draft) { d.Survey.Source = []transpose.Stretch{{Measure: 1, To: bflat}} }}, {why: "that has its part", music: "[key 0] [for -1 -2] C5:w", want: "C5:w", forParts: []string{note(bflat)}, change: func(d *draft.Draft) { d.Survey.ForPart = etree.NewElement("for-part") }},
		{why: "a flute", music: "[key 0] C5:w", want: "C5:w", change: func(d *draft.Draft) { d.Assignment.Instrument = catalogue.ByID("flute") }}, {why: "without bars", want: "", change: func(d *draft.Draft) { d.Timeline.Measures = nil; d.Part.Child = nil }},
		{why: "letters that cannot be meant", music: "[key 2] [transpose 5 -2] D5:w", want: "C5:w", forParts: []string{note(bflat)}, moved: "-2", code: "transpose-steps", change: func(d *draft.Draft) { d.Survey.Source = []transpose.Stretch{{To: bflat}} }},
		{why: "back, as the score says", back: true, music: "[key 0] [for -1 -2] C5:w", want: "D5:w", transpose: bflat, moved: "2"}, {why: "back, by the name", back: true, music: "[key 0] C5:w", want: "D5:w", transpose: bflat, moved: "2"},
		{why: "back to where it stood", back: true, music: "[key 0] [for -1 -2] C5:w", want: "C5:w", as: true, change: func(d *draft.Draft) { d.Score.ScoreParts[0].Element = stood.Root() }},
		{why: "for a player all the same", back: true, music: "[key 0] [for -1 -2] C5:w", want: "D5:w", transpose: bflat, moved: "2", change: func(d *draft.Draft) { d.Score.ScoreParts[0].Element, d.Score.Input = stood.Root(), survey.Concert }},
		{why: "it stood there and says nothing", back: true, music: "[key 0] C5:w", want: "D5:w", transpose: bflat, moved: "2", change: func(d *draft.Draft) { d.Score.ScoreParts[0].Element = stood.Root() }},
	} {
		d := draftOf(t, row.music+" ")
		d.Score.ScoreParts = make([]musicxml.ScorePart, 1)
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: "name", Instrument: catalogue.ByID("clarinet-bflat")}
		if row.change != nil {
			row.change(d)
		}
		convert := ToConcert
		if row.back {
			convert = ToWritten
		}
		require.NoError(t, convert(d, Options{MaxSignature: 7}), row.why)
		assert.Equal(t, row.want, shorthand.Read(d.Part), row.why)
		var forParts []string
		for _, e := range d.Part.FindElements("//for-part/part-transpose") {
			octaves := musicxml.ChildText(e, "octave-change")
			if octaves == "" {
				octaves = "0"
			}
			forParts = append(forParts, musicxml.ChildText(e, "chromatic")+" "+octaves)
		}
		assert.Equal(t, row.forParts, forParts, row.why)
		for _, e := range d.Part.FindElements("//attributes[for-part]") {
			assert.Nil(t, musicxml.Child(e, "transpose"), row.why) // MusicXML 4.0, attributes: one or the other
		}
		moved := ""
		if by := d.Report.Moved; by != (pitch.Interval{}) {
			moved = strconv.Itoa(by.Chromatic)
		}
		assert.Equal(t, []any{row.transpose, row.at, row.as, moved, row.code}, []any{d.Report.Transpose, d.Report.AtSound, d.Report.AsSource, moved, codes(d)}, row.why)
		assert.Equal(t, row.moved, moved, row.why)
		assert.Equal(t, strings.Count(row.want, ":"), d.Report.Notes, row.why)
	}
}

// A page that leaves out a sign leaves it out in the other notation too, and has it again as it was.
func TestPagesAsPrinted(t *testing.T) {
	t.Parallel()
	const omitted = `<note><pitch><step>F</step><alter>1</alter><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type></note>`
	d := draftOf(t, "[key 0] [for -1 -2] "+omitted)
	d.Score.ScoreParts = make([]musicxml.ScorePart, 1)
	d.Assignment.Assignment = plan.Assignment{RecognisedBy: "name", Instrument: instrumentstest.Load(t).ByID("clarinet-bflat")}
	for _, convert := range []func(*draft.Draft, Options) error{ToWritten, ToConcert} {
		require.NoError(t, convert(d, Options{MaxSignature: 7}))
		assert.Empty(t, d.Part.FindElements("//accidental"))
	}
}

// On the way the player's clef takes the place of the one that the concert score shows, and on
// the way back it is shown again.
func TestClefsConverted(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	d := draftOf(t, `<attributes><clef><sign>F</sign><line>4</line></clef><for-part><part-clef><sign>G</sign><line>2</line></part-clef><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part></attributes> C3:w`)
	d.Score.ScoreParts = make([]musicxml.ScorePart, 1)
	d.Assignment.Assignment = plan.Assignment{RecognisedBy: assign.ByForPart, Instrument: catalogue.ByID("clarinet-bflat")}
	signs := func() (all []string) {
		for _, e := range d.Part.FindElements("//sign") {
			all = append(all, e.Parent().Tag+" "+e.Text())
		}
		return all
	}
	require.NoError(t, ToWritten(d, Options{MaxSignature: 7}))
	assert.Equal(t, []string{"clef G"}, signs())
	assert.Equal(t, "D3:w", shorthand.Read(d.Part))
	require.NoError(t, ToConcert(d, Options{MaxSignature: 7}))
	assert.ElementsMatch(t, []string{"clef F", "part-clef G"}, signs())
	assert.Equal(t, "C3:w", shorthand.Read(d.Part))
}

// Where a part goes from its source: a written one to concert pitch, any other to its player.
func TestForward(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	bflat, ina := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{Diatonic: -2, Chromatic: -3}
	for _, row := range []struct {
		why, music string
		want       []transpose.Stretch
		concert    bool
	}{
		{"a written part", "[transpose -1 -2] D5:w", []transpose.Stretch{{}}, true}, {"written later", "D5:w | [transpose -1 -2] D5:w", []transpose.Stretch{{}}, true},
		{"a concert score", "[for -2 -3] C5:w", []transpose.Stretch{{To: ina, AsIs: true}}, false}, {"by the name", "C5:w", []transpose.Stretch{{To: bflat}}, false},
		{"with a change", `C5:w | "muta in A" R | C5:w`, []transpose.Stretch{{To: bflat}, {Measure: 2, To: ina}}, false},
	} {
		d := draftOf(t, row.music)
		d.Score.Catalogue, d.Score.ScoreParts = catalogue, make([]musicxml.ScorePart, 1)
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: "name", Instrument: catalogue.ByID("clarinet-bflat")}
		got, concert, err := Forward(d, new(changes.Reader), Options{})
		require.NoError(t, err, row.why)
		assert.Equal(t, row.want, got, row.why)
		assert.Equal(t, row.concert, concert, row.why)
	}
}
