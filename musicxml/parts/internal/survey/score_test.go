package survey

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

func quarters(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }

// bflat is the transposition of a clarinet in B flat (trade/transpositions.csv).
var bflat = transpose.Transposition{Diatonic: -1, Chromatic: -2}

func matched(t *testing.T, id string) instruments.Match {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	in := catalogue.ByID(id)
	require.NotNil(t, in, id)
	return instruments.Match{Instrument: in}
}

// How a score is read without listening: what it says itself comes first, then what was asked.
func TestJudge(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		says             bool
		asked            Input
		declared, silent int
		pitch, by        string
		read             Input
		why              string
	}{
		{true, "", 0, 2, "concert", ByScore, Concert, "the score says that it is in concert pitch"}, {true, Written, 0, 2, "concert", ByScore, Concert, "the score says that it is in concert pitch"},
		{true, Concert, 1, 1, "mixed", ByRequest, Concert, "some parts say their transposition; the others: taken for concert pitch as asked"},
		{true, "", 2, 0, "written", ByScore, Concert, "the transposing parts say their transposition"}, {false, Concert, 1, 0, "written", ByScore, Concert, "the transposing parts say their transposition"},
		{false, Concert, 0, 1, "concert", ByRequest, Concert, "taken for concert pitch as asked"}, {false, Written, 0, 1, "written", ByRequest, Written, "taken for written pitch as asked"},
		{false, Written, 1, 1, "written", ByRequest, Written, "taken for written pitch as asked"}, {false, Concert, 0, 0, "concert", ByRequest, Concert, "taken for concert pitch as asked"},
		{false, "", 0, 0, "concert", ByScore, Concert, "no part is for a transposing instrument"},
	} {
		c := &Score{SaysConcert: row.says, Input: row.asked}
		assert.Equal(t, Reading{Pitch: row.pitch, Why: row.why, ToldBy: row.by, Silent: row.read}, c.judge(nil, row.declared, row.silent), "%+v", row)
	}
}

// What a part adds to its written pitch, said (on the first staff, from a place on) or not.
func TestWhatAPartAdds(t *testing.T) {
	t.Parallel()
	clarinet, bass, flute := matched(t, "clarinet-bflat"), matched(t, "double-bass"), matched(t, "flute")
	from := func(measure int, onset int64, staff int, to transpose.Transposition) transpose.Stretch {
		return transpose.Stretch{Measure: measure, Onset: quarters(onset), Staff: staff, To: to}
	}
	ina, none := transpose.Transposition{Diatonic: -2, Chromatic: -3}, transpose.Transposition{}
	measures := []Measure{{Number: "1", Length: quarters(4)}, {Number: "2", Start: quarters(4), Length: quarters(4)}, {Number: "3", Start: quarters(8), Length: quarters(4)}}
	forPart := etree.NewElement("for-part")
	for _, row := range []struct {
		why       string
		part      Part
		read      Input
		atStart   transpose.Transposition
		at        [3]transpose.Transposition // in bar 1, at the start of bar 2, at its third quarter
		startOf   [3]transpose.Transposition // of the bars
		inForceAt [3]transpose.Transposition // at the same places, said or not
	}{
		{"a clarinet that says nothing, as it sounds", Part{Notes: 1, Match: clarinet}, Concert, none, [3]transpose.Transposition{}, [3]transpose.Transposition{}, [3]transpose.Transposition{}},
		{"as its player reads it", Part{Notes: 1, Match: clarinet}, Written, bflat, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{}, [3]transpose.Transposition{bflat, bflat, bflat}},
		{"a clarinet with a for-part", Part{Notes: 1, Match: clarinet, ForPart: forPart}, Written, none, [3]transpose.Transposition{}, [3]transpose.Transposition{}, [3]transpose.Transposition{}},
		{"a clarinet that plays nothing", Part{Match: clarinet}, Written, none, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{}, [3]transpose.Transposition{bflat, bflat, bflat}},
		{"a part that nobody knows", Part{Notes: 1}, Written, none, [3]transpose.Transposition{}, [3]transpose.Transposition{}, [3]transpose.Transposition{}},
		{"a flute", Part{Notes: 1, Match: flute}, Written, none, [3]transpose.Transposition{}, [3]transpose.Transposition{}, [3]transpose.Transposition{}},
		{"a double bass, where its player reads", Part{Notes: 1, Match: bass}, Concert, transpose.Transposition{OctaveChange: -1}, [3]transpose.Transposition{}, [3]transpose.Transposition{}, [3]transpose.Transposition{}},
		{"a clarinet that says it", Part{Notes: 1, Match: clarinet, Source: []transpose.Stretch{from(0, 0, 0, bflat)}}, Concert, bflat, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{bflat, bflat, bflat}},
		{"in A from the third quarter of bar 2 on", Part{Notes: 1, Match: clarinet, Source: []transpose.Stretch{from(0, 0, 0, bflat), from(1, 2, 1, ina)}}, Concert, bflat,
			[3]transpose.Transposition{bflat, bflat, ina}, [3]transpose.Transposition{bflat, ina, ina}, [3]transpose.Transposition{bflat, bflat, ina}},
		{"it says so late", Part{Notes: 1, Match: clarinet, Source: []transpose.Stretch{from(1, 0, 0, ina)}}, Written, none, [3]transpose.Transposition{none, ina, ina}, [3]transpose.Transposition{none, ina, ina}, [3]transpose.Transposition{none, ina, ina}},
		{"within the first bar", Part{Notes: 1, Match: clarinet, Source: []transpose.Stretch{from(0, 2, 0, ina)}}, Written, none, [3]transpose.Transposition{none, ina, ina}, [3]transpose.Transposition{ina, ina, ina}, [3]transpose.Transposition{none, ina, ina}},
		{"the second staff's", Part{Notes: 1, Match: clarinet, Source: []transpose.Stretch{from(0, 0, 1, bflat), from(1, 0, 2, ina)}}, Concert, bflat, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{bflat, bflat, bflat}, [3]transpose.Transposition{bflat, bflat, bflat}},
	} {
		row.part.Measures = measures
		c := &Score{Parts: []Part{row.part}, Reading: Reading{Silent: row.read}}
		s := &c.Parts[0]
		assert.Equal(t, row.atStart, c.SourceTransposition(0), row.why)
		for k, at := range []musicxml.Position{{Measure: 0, Onset: quarters(1)}, {Measure: 1}, {Measure: 1, Onset: quarters(2)}} {
			assert.Equal(t, row.at[k].Interval(), c.SoundingAt(0, at), "%s, place %d", row.why, k)
			assert.Equal(t, row.inForceAt[k].Interval(), c.sourceInterval(s, measures[at.Measure].Start.Add(at.Onset)), "%s, place %d", row.why, k)
		}
		for k := range 3 {
			assert.Equal(t, row.startOf[k], s.SourceAt(k), "%s, bar %d", row.why, k+1)
		}
	}
	for text, want := range map[string]int{`<key/>`: 0, `<key number="1"/>`: 1, `<key number="2"/>`: 2, `<key number="0"/>`: 0, `<key number="-1"/>`: 0, `<key number="x"/>`: 0} {
		assert.Equal(t, want, music.StaffNumber(musicxmltest.Element(t, text)), text)
	}
}

// Where a part plays, what its signature is and which bar that is, at a moment.
func TestMoments(t *testing.T) {
	t.Parallel()
	s := &Part{Measures: []Measure{{"1", quarters(0), quarters(4), true}, {"2", quarters(4), quarters(4), false}, {"3", quarters(8), quarters(4), true}},
		Keys: []Key{{"1", quarters(0), 2, true}, {"3", quarters(8), -1, false}}}
	moments := []concertKey{{at: quarters(0)}, {at: quarters(4)}, {at: quarters(8)}, {at: quarters(10)}, {at: quarters(12)}}
	for k, want := range []bool{true, false, true, true, false} {
		assert.Equal(t, want, s.playsBetween(moments, k), k)
	}
	for at, want := range map[int64]string{0: "1", 3: "1", 4: "2", 5: "2", 8: "3", 11: "3", 20: "3"} {
		assert.Equal(t, want, s.measureAt(quarters(at)), at)
	}
	assert.Empty(t, (&Part{}).measureAt(quarters(0)))
	for at, want := range map[int64]int{0: 2, 7: 2, 8: -1, 9: -1} {
		fifths, traditional := s.keyAt(quarters(at))
		assert.Equal(t, []any{want, want == 2}, []any{fifths, traditional}, at)
	}
	assert.Equal(t, -1, s.fifths())
	assert.Equal(t, 0, (&Part{}).fifths())
	assert.Equal(t, quarters(10), s.startOf(transpose.Stretch{Measure: 2, Onset: quarters(2)}))
	assert.Equal(t, quarters(0), s.startOf(transpose.Stretch{Measure: 3, Onset: quarters(2)}))
}

// What the first reading of a part tells of it (MusicXML 4.0, attributes, note).
func TestReadPart(t *testing.T) {
	t.Parallel()
	const xml = `<part><measure number="1"><attributes><divisions>1</divisions><key number="1"><fifths>-1</fifths></key><key number="2"><fifths>5</fifths></key><staves>2</staves><staff-details><staff-lines>6</staff-lines><staff-tuning line="1"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave></staff-tuning></staff-details><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>` +
		`<note><pitch><step>D</step><octave>5</octave></pitch><duration>1</duration><staff>1</staff></note><note><rest/><duration>1</duration><staff>2</staff></note><note><cue/><pitch><step>C</step><octave>8</octave></pitch><duration>1</duration></note></measure>` +
		`<measure number="2"><attributes><key><fifths>2</fifths></key><transpose number="2"><chromatic>0</chromatic></transpose></attributes><note><rest/><duration>4</duration></note><attributes><key><key-step>F</key-step><key-alter>1</key-alter></key></attributes></measure>` +
		`<measure number="3"><note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration></note><note><pitch><step>G</step><octave>5</octave></pitch><duration>1</duration></note><note><pitch><step>E</step><octave>4</octave></pitch><duration>1</duration></note>` +
		`<note><unpitched/><duration>1</duration></note><attributes><for-part><part-transpose><chromatic>-2</chromatic></part-transpose></for-part><for-part number="2"/></attributes></measure></part>`
	timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, xml))
	require.NoError(t, err)
	c := &Score{ScoreParts: []musicxml.ScorePart{{ID: "P1", Name: "Clarinet"}}}
	p, err := c.Read(0, timeline)
	require.NoError(t, err)
	assert.Equal(t, []any{"P1", "Clarinet", 2, 4, 1}, []any{p.ID, p.Name, p.Staves, p.Notes, p.Unpitched})
	assert.Equal(t, []Key{{"1", quarters(0), -1, true}, {"2", quarters(3), 2, true}, {"2", quarters(7), 0, false}}, p.Keys)
	assert.Equal(t, []Measure{{"1", quarters(0), quarters(3), true}, {"2", quarters(3), quarters(4), false}, {"3", quarters(7), quarters(4), true}}, p.Measures)
	assert.Equal(t, []transpose.Stretch{{To: bflat}, {Measure: 1, Staff: 2}}, p.Source)
	assert.Equal(t, "part-transpose", p.ForPart.ChildElements()[0].Tag, "the first")
	assert.Equal(t, []string{"C4", "G5", "C4", "G5"}, []string{p.Lowest.String(), p.Highest.String(), p.LowestSounding.String(), p.HighestSounding.String()}, "what is said last holds")
	assert.Equal(t, map[int]int{6: 40}, p.facts.strings)
	for _, bad := range []string{`<attributes><key><fifths>x</fifths></key></attributes>`, `<attributes><transpose><chromatic>x</chromatic></transpose></attributes>`, `<note><pitch><step>H</step><octave>4</octave></pitch><duration>1</duration></note>`} {
		timeline, err := musicxml.NewTimeline(musicxmltest.Element(t, `<part><measure number="7"><attributes><divisions>1</divisions></attributes>`+bad+`</measure></part>`))
		require.NoError(t, err)
		_, err = c.Read(0, timeline)
		var where *musicxml.Error
		require.ErrorAs(t, err, &where, bad)
		assert.Equal(t, []string{"7", "1", "no-music"}, []string{where.Measure, where.Beat, string(where.Code)})
	}
}

// What a concert score says of the part to be made: an octave of the score's own <transpose> is
// part of it, unless it has one itself (MusicXML 4.0, for-part).
func TestForPartTransposition(t *testing.T) {
	t.Parallel()
	octave := []transpose.Stretch{{To: transpose.Transposition{OctaveChange: -1}}}
	for _, row := range []struct {
		forPart string
		source  []transpose.Stretch
		want    transpose.Transposition
	}{
		{`<for-part/>`, octave, transpose.Transposition{}}, {`<for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part>`, nil, bflat},
		{`<for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose></for-part>`, octave, transpose.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: -1}},
		{`<for-part><part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic><octave-change>1</octave-change></part-transpose></for-part>`, octave, transpose.Transposition{Diatonic: -1, Chromatic: -2, OctaveChange: 1}},
		{`<for-part><part-transpose><chromatic>x</chromatic></part-transpose></for-part>`, octave, transpose.Transposition{}},
		{`<for-part><part-transpose><chromatic>6</chromatic></part-transpose></for-part>`, nil, transpose.Transposition{Diatonic: 4, Chromatic: 6}},
	} {
		p := &Part{ForPart: musicxmltest.Element(t, row.forPart), Source: row.source, Keys: []Key{{Fifths: 3}}} // in sharps a tritone is a fifth
		assert.Equal(t, row.want, p.ForPartTransposition(), row.forPart)
	}
	assert.Equal(t, transpose.Transposition{}, (&Part{}).ForPartTransposition())
	c := &Score{Parts: []Part{{Keys: []Key{{At: quarters(8)}, {At: quarters(4)}}}, {Keys: []Key{{At: quarters(4)}}, Source: []transpose.Stretch{{Onset: quarters(2)}}, Measures: []Measure{{Start: quarters(0)}}}}}
	assert.Equal(t, []musicxml.Fraction{quarters(2), quarters(4), quarters(8)}, c.keyMoments(), "in order, each once")
}

// Where a part disagrees with the others, in words.
func TestContradictionsInWords(t *testing.T) {
	t.Parallel()
	bars := func(n int) (all []Measure) {
		for i := range n {
			all = append(all, Measure{string(rune('1' + i)), quarters(4 * int64(i)), quarters(4), true})
		}
		return all
	}
	key := func(bar int64, fifths int) Key { return Key{"", quarters(4 * (bar - 1)), fifths, true} }
	part := func(id string, measures []Measure, said []transpose.Stretch, keys ...Key) Part {
		p := Part{Notes: 1, Measures: measures, Keys: keys, Source: said}
		if id != "" {
			p.Match = matched(t, id)
		}
		return p
	}
	unequal, twice := bars(3), bars(3)
	unequal[1].Length = quarters(3)
	twice[1].Length, twice[2].Length = quarters(3), quarters(2)
	empty := bars(3)
	empty[1].Length = quarters(0)
	inB := []transpose.Stretch{{To: bflat}}
	usual := part("flute", bars(3), nil, key(1, 0), key(2, -2))
	for _, row := range []struct {
		why  string
		part Part
		want string
	}{
		{"nothing", part("oboe", bars(3), nil, key(1, 0), key(2, -2)), ""}, {"a bar less", part("oboe", bars(2), nil, key(1, 0), key(2, -2)), "missing-bars : the part has 2 bars, the score 3"}, {"bars to spare", part("oboe", bars(4), nil, key(1, 0), key(2, -2)), "surplus-bars : the part has 4 bars, the other parts 3"},
		{"one bar alone", part("oboe", bars(1), nil, key(1, 0)), "missing-bars : the part has 1 bar, the score 3"},
		{"a short bar", part("oboe", unequal, nil, key(1, 0), key(2, -2)), "unequal-bars 2: the bar lasts 3 quarter notes, in most parts 4"}, {"two short bars", part("oboe", twice, nil, key(1, 0), key(2, -2)), "unequal-bars 2: the bar lasts 3 quarter notes, in most parts 4; 2 bars of the part are unlike the others'"}, {"an empty bar", part("oboe", empty, nil, key(1, 0), key(2, -2)), ""},
		{"another signature in the second bar", part("oboe", bars(3), nil, key(1, 0), key(2, 3)), "key-at-odds 2: the signature is 3 sharps where the key of the other parts and the transposition give 2 flats"},
		{"a brass instrument without one, then with another", part("trumpet-c", bars(3), nil, key(1, 0), key(2, 3)), "key-at-odds 2: the signature is 3 sharps where the key of the other parts and the transposition give 2 flats"},
		{"one that is no circle of fifths", part("oboe", bars(3), nil, key(1, 0), Key{"", quarters(4), 3, false}), ""},
		{"the sounding one", part("", bars(3), inB, key(1, 2), key(2, -2)), "key-at-odds 2: the signature is that of the sounding key, 2 flats; the part's transposition gives no sharps or flats"},
		{"the right one", part("", bars(3), inB, key(1, 2), key(2, 0)), ""}, {"an enharmonic twin", part("oboe", bars(3), nil, key(1, 12), key(2, 10)), ""},
		{"a transposition that the name does not say", func() Part {
			p := part("clarinet-a", bars(3), inB, key(1, 2), key(2, 0))
			p.Match.KeyStated = true
			return p
		}(), "name-at-odds : the name says Clarinet in A, but the part's transposition is a major second down; the transposition is followed"},
		{"none", func() Part {
			p := part("clarinet-a", bars(3), []transpose.Stretch{{}}, key(1, 0), key(2, -2))
			p.Match.KeyStated = true
			return p
		}(), "name-at-odds : the name says Clarinet in A, but the part says that it sounds as written; the transposition is followed"},
		{"one of two that the name says", func() Part {
			p := part("clarinet-a", bars(3), inB, key(1, 2), key(2, 0))
			p.Match.KeyStated, p.Match.Doubles = true, []*instruments.Instrument{matched(t, "clarinet-bflat").Instrument}
			return p
		}(), ""},
		{"a name without a key", part("clarinet-a", bars(3), inB, key(1, 2), key(2, 0)), ""},
	} {
		c := (&Score{Parts: []Part{usual, usual, row.part}}).Consensus()
		got := ""
		for _, look := range []func(int) *musicxml.Warning{c.nameAtOdds, c.keyAtOdds, c.barsMissing, c.barsUnequal} {
			if w := look(2); w != nil {
				got += string(w.Code) + " " + w.Measure + ": " + w.Text
			}
		}
		assert.Equal(t, row.want, got, row.why)
		for i := range c.keys {
			c.keys[i].known = false
		}
		assert.Nil(t, c.keyAtOdds(2), "%s: where the other parts do not agree", row.why)
	}
}

// What most parts agree on: how long bars are, which key sounds.
func TestAgreed(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 2, commonest([]int{1, 2, 2}))
	assert.Equal(t, 3, commonest([]int{3, 1, 1, 3}), "of several the first")
	assert.Equal(t, 0, commonest[int](nil))
	bars := func(lengths ...int64) Part {
		var p Part
		for _, n := range lengths {
			p.Measures = append(p.Measures, Measure{Length: quarters(n), Notes: true})
		}
		return p
	}
	c := &Score{Parts: []Part{bars(4, 4, 3, 2), bars(4, 3, 3), bars(0, 3), bars(0, 4, 0)}}
	assert.Equal(t, []musicxml.Fraction{quarters(4), quarters(4), quarters(3), quarters(2)}, c.barLengths(), "a bar without any length tells nothing")
	assert.Equal(t, []musicxml.Fraction{quarters(4), quarters(4), quarters(3), quarters(2)}, c.Lengths())

	keyed := func(id string, fifths, notes int, said ...transpose.Transposition) Part {
		p := Part{Notes: notes, Keys: []Key{{"1", quarters(0), fifths, true}}, Measures: []Measure{{"1", quarters(0), quarters(4), notes > 0}}}
		if id != "" {
			p.Match = matched(t, id)
		}
		for _, to := range said {
			p.Source = append(p.Source, transpose.Stretch{To: to})
		}
		return p
	}
	freely := keyed("flute", 5, 1)
	freely.Keys[0].Traditional = false
	for _, row := range []struct {
		why   string
		parts []Part
		want  int
		known bool
	}{
		{"a flute and a clarinet", []Part{keyed("flute", -2, 1), keyed("clarinet-bflat", 0, 1, bflat)}, -2, true},
		{"clarinets alone", []Part{keyed("clarinet-bflat", 1, 1, bflat), keyed("clarinet-bflat", 1, 1, bflat)}, -1, true},
		{"the plain ones decide, however few", []Part{keyed("flute", -2, 1), keyed("clarinet-bflat", 3, 1, bflat), keyed("clarinet-bflat", 3, 1, bflat)}, -2, true},
		{"a trumpet without signature tells nothing", []Part{keyed("trumpet-c", 0, 1), keyed("oboe", 3, 1)}, 3, true},
		{"one with a signature does", []Part{keyed("trumpet-c", 1, 1), keyed("trumpet-c", 1, 1), keyed("oboe", 3, 1)}, 1, true},
		{"nor does a part that rests", []Part{keyed("flute", -2, 0), keyed("oboe", 3, 1)}, 3, true},
		{"nor a key tone by tone", []Part{freely, keyed("oboe", 3, 1)}, 3, true},
		{"nobody", []Part{keyed("flute", -2, 0)}, 0, false},
	} {
		c := &Score{Parts: row.parts}
		assert.Equal(t, concertKey{quarters(0), row.want, row.known}, c.concertKeyAt(quarters(0)), row.why)
	}
}

// A person is asked about a part whose pitch nobody says: by how much it would sound elsewhere
// (a clarinet in B flat: a major second).
func TestPitchUnsaid(t *testing.T) {
	t.Parallel()
	clarinet := Part{Notes: 1, Match: matched(t, "clarinet-bflat")}
	for _, row := range []struct {
		why     string
		part    Part
		reading Reading
		want    string
	}{
		{"read as it sounds", clarinet, Reading{Pitch: "concert", Why: "so", Silent: Concert, Unsaid: true},
			"the part says nothing of its pitch and is taken as it sounds: so; read as its player reads it, it would sound a major second lower"},
		{"read as its player reads it", clarinet, Reading{Pitch: "written", Why: "so", Silent: Written, Unsaid: true},
			"the part says nothing of its pitch and is taken as its player reads it: so; read as it sounds, it would sound a major second higher"},
		{"beside others that say theirs", clarinet, Reading{Pitch: "mixed", Why: "so", Silent: Concert},
			"the part says nothing of its pitch and is taken as it sounds: so; read as its player reads it, it would sound a major second lower"},
		{"the score tells it", clarinet, Reading{Pitch: "concert", Why: "so", Silent: Concert}, ""},
		{"a flute", Part{Notes: 1, Match: matched(t, "flute")}, Reading{Pitch: "concert", Unsaid: true}, ""},
		{"a part that says it", Part{Notes: 1, Match: matched(t, "clarinet-bflat"), Source: []transpose.Stretch{{To: bflat}}}, Reading{Pitch: "mixed"}, ""},
		{"one that plays nothing", Part{Match: matched(t, "clarinet-bflat")}, Reading{Pitch: "mixed"}, ""},
	} {
		c := &Score{Parts: []Part{row.part}, Reading: row.reading}
		text := ""
		for _, w := range c.Questions(0) {
			text += w.Text
		}
		assert.Equal(t, row.want, text, row.why)
	}
}

// The first reading passes over what tells other parts nothing (MusicXML 4.0: how a note
// looks), and takes what tells of pitch, time, bars, strings and words.
func TestSkimmed(t *testing.T) {
	t.Parallel()
	for tag, taken := range map[string]bool{
		"measure/note": true, "measure/direction": true, "measure/barline": true, "measure/harmony": true, "measure/figured-bass": false,
		"direction-type/words": true, "direction-type/rehearsal": true, "direction-type/dynamics": false, "direction-type/wedge": false, "direction-type/pedal": false,
		"note/pitch": true, "note/duration": true, "note/tie": true, "note/voice": true, "note/staff": true, "note/lyric": true, "note/notations": true, "note/instrument": true,
		"note/beam": false, "note/stem": false, "note/type": false, "note/dot": false, "note/notehead": false, "note/notehead-text": false, "note/time-modification": false, "note/play": false,
		"note/listen": false, "note/accidental": false, "note/footnote": false, "note/level": false,
		"notations/fermata": true, "notations/articulations": true, "notations/technical": true, "notations/slur": false, "notations/tuplet": false,
		"articulations/caesura": true, "articulations/staccato": false, "technical/string": true, "technical/fret": true, "technical/fingering": false, "lyric/text": false, "part/measure": true,
	} {
		parent, child := tag, ""
		for i := range tag {
			if tag[i] == '/' {
				parent, child = tag[:i], tag[i+1:]
			}
		}
		assert.Equal(t, taken, skimmed(parent, child), tag)
	}
	for _, key := range []string{"default-x", "default-y", "relative-x", "relative-y", "bezier-x", "bezier-y", "bezier-x2", "bezier-y2", "bezier-offset", "bezier-offset2", "text-x", "text-y", "end-length"} {
		assert.False(t, NotDrawn("note", key), key)
	}
	for _, row := range []struct {
		tag, key string
		keeps    bool
	}{{"measure", "width", false}, {"note", "width", true}, {"measure", "number", true}, {"note", "id", true}} {
		assert.Equal(t, row.keeps, NotDrawn(row.tag, row.key), row.tag+row.key)
	}
}

// What the part-list says is put before the catalogue: the first sound and the first program
// that any of the instruments names, the nearest group first.
func TestQueries(t *testing.T) {
	t.Parallel()
	q := queryOf(musicxml.ScorePart{Name: "Cl.", NameDisplay: "Clarinet", Abbreviation: "C.", Groups: []string{"Winds", "Clarinets"}, Instruments: []musicxml.ScoreInstrument{
		{ID: "a", Name: "one"}, {ID: "b", Name: "two", Sound: "wind.reed.clarinet.bflat", Program: 72}, {ID: "c", Sound: "wind.flutes.flute", Program: 74}}})
	assert.Equal(t, instruments.Query{Name: "Cl.", Display: "Clarinet", Abbreviation: "C.", Groups: []string{"Clarinets", "Winds"}, InstrumentNames: []string{"one", "two", ""}, Sound: "wind.reed.clarinet.bflat", Program: 72}, q)
	entry := musicxmltest.Element(t, `<score-part id="P1"><part-name>x</part-name><midi-instrument id="I1"><midi-program>72</midi-program></midi-instrument></score-part>`)
	assert.Equal(t, 72, queryOf(musicxml.ScorePart{Element: entry}).Program, "playback alone")
	assert.Equal(t, 0, queryOf(musicxml.ScorePart{Element: entry, Instruments: []musicxml.ScoreInstrument{{ID: "a"}}}).Program, "it is another's")
	field := func(name, text string) *etree.Element {
		return musicxmltest.Element(t, `<score-part><identification><miscellaneous><miscellaneous-field name="`+name+`">`+text+`</miscellaneous-field></miscellaneous></identification></score-part>`)
	}
	c := &Score{ScoreParts: []musicxml.ScorePart{{}, {Element: musicxmltest.Element(t, `<score-part/>`)}, {Element: field("source pitch", "sounding")}, {Element: field("source pitch", "written")}, {Element: field("colour", "sounding")}}}
	for i, want := range []bool{false, false, true, false, false} {
		assert.Equal(t, want, c.StoodAtSound(i), i)
	}
	assert.Equal(t, "1 transposing part has x", haveSignatures(1, "x", "y"))
	assert.Equal(t, "2 transposing parts have y", haveSignatures(2, "x", "y"))
	assert.True(t, inKey(-7, 5))
	var all tonic
	for _, n := range []int{-7, 5, 5, 0} {
		all.add(n)
	}
	most, known := all.most()
	assert.Equal(t, []any{5, true}, []any{most, known}, "C flat major is B major in the circle of fifths")
	assert.Equal(t, 3, agreement([]signature{{-7, 0}, {5, 0}, {5, 0}, {0, 0}}, func(s signature) int { return s.asItStands }))
	said := (&Part{Source: []transpose.Stretch{{To: bflat}}}).music().Said
	require.NotNil(t, said, "the first that the part says, be it the only one")
	assert.Equal(t, bflat.Interval(), *said)
	assert.Nil(t, (&Part{}).music().Said)
	var f facts
	in, out := f.inRange(nil)
	assert.Equal(t, []int{0, 0}, []int{in, out})
	low, err := pitch.Parse("D3") // sounding, of a clarinet in B flat, which reads E3 (ranges.csv)
	require.NoError(t, err)
	f.pitches[low.NoteNumber()] = 3
	f.pitches[low.NoteNumber()+2] = 2
	in, out = f.inRange(matched(t, "clarinet-bflat").Instrument)
	assert.Equal(t, []int{5, 2}, []int{in, out})
	in, out = f.inRange(matched(t, "snare-drum").Instrument) // which has no range
	assert.Equal(t, []int{0, 0}, []int{in, out})
	c = &Score{Catalogue: instrumentstest.Load(t), ScoreParts: []musicxml.ScorePart{{Name: "Clarinet in B flat"}}, Parts: []Part{{facts: f}}}
	c.Recognise()
	assert.Equal(t, []int{5, 2}, []int{c.Parts[0].InSounding, c.Parts[0].InWritten}, "counted for the instrument that is recognised")
}

// A score is called by its work and its movement, once where they are the same.
func TestTitle(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ work, movement, want string }{{"", "", ""}, {"Suite", "", "Suite"}, {"", "Air", "Air"}, {"Suite", "Suite", "Suite"}, {"Suite", "Air", "Suite: Air"}} {
		xml := `<score-partwise>`
		if row.work != "" {
			xml += `<work><work-title>` + row.work + `</work-title></work>`
		}
		if row.movement != "" {
			xml += `<movement-title>` + row.movement + `</movement-title>`
		}
		music, err := musicxml.Read([]byte(xml+`<part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list><part id="P1"><measure/></part></score-partwise>`), musicxml.ReadOptions{})
		require.NoError(t, err)
		c := NewScore(music, nil, Concert)
		assert.Equal(t, row.want, c.Title())
		assert.Equal(t, []string{"Flute"}, c.PartNames())
		assert.False(t, c.SaysConcert)
	}
	music, err := musicxml.Read([]byte(`<score-partwise><defaults><concert-score/></defaults><part-list><score-part id="P1"><part-name/></score-part></part-list><part id="P1"><measure/></part></score-partwise>`), musicxml.ReadOptions{})
	require.NoError(t, err)
	c := NewScore(music, nil, Concert)
	assert.True(t, c.SaysConcert)
	assert.Equal(t, []string{"P1"}, c.PartNames(), "a part without a name is called by its id")
	for _, row := range []struct {
		notes, strokes int
		want           bool
	}{{0, 0, false}, {1, 0, true}, {0, 1, true}} {
		c.Parts[0].Notes, c.Parts[0].Unpitched = row.notes, row.strokes
		assert.Equal(t, row.want, c.AnyPlays())
	}
	assert.Empty(t, (&Score{}).Title())
}

// Brass and percussion are often written without a signature in any key (theory handbooks;
// trade/notation-rules); a part is sung if a note of ten has a syllable.
func TestCustoms(t *testing.T) {
	t.Parallel()
	for id, want := range map[string]bool{"trumpet-bflat": true, "timpani": true, "flute": false, "violin": false} {
		s := &Part{Match: matched(t, id)}
		assert.Equal(t, want, s.unsignedByCustom(0), id)
		assert.False(t, s.unsignedByCustom(1), id)
	}
	assert.False(t, (&Part{}).unsignedByCustom(0))
	for _, row := range []struct {
		sung, notes int
		want        bool
	}{{0, 0, false}, {0, 5, false}, {1, 11, false}, {1, 10, true}, {5, 10, true}} {
		s := &Part{Notes: row.notes, facts: facts{sung: row.sung}}
		m := s.music()
		assert.Equal(t, row.want, m.Lyrics, "%d of %d", row.sung, row.notes)
		assert.Nil(t, m.Said)
	}
	s := &Part{Source: []transpose.Stretch{{To: bflat}, {To: transpose.Transposition{}}}}
	assert.Equal(t, bflat.Interval(), *s.music().Said)
}

// A prefix that nothing declares is told of: what has it cannot be written again (Namespaces in
// XML 1.0, 5).
func TestUndeclaredPrefix(t *testing.T) {
	t.Parallel()
	music, err := musicxml.Read(shorthand.Score(t, shorthand.Entry{Name: "Oboe", Music: `<quay:mark/> C5:w`}, shorthand.Entry{Name: "Flute", Music: `C5:w`}), musicxml.ReadOptions{})
	require.NoError(t, err)
	score := NewScore(music, instrumentstest.Load(t), Auto)
	for i := range 2 {
		_, err := music.ReadPart(i, new(musicxml.Slabs))
		require.NoError(t, err)
	}
	c := &Consensus{score: score}
	if w := c.prefixUndeclared(0); assert.NotNil(t, w) {
		assert.Contains(t, w.Text, "quay")
	}
	assert.Nil(t, c.prefixUndeclared(1))
}

// What may be meant by a part that would sound right elsewhere: an instrument of its kind
// that sounds so, its own transposition, or anything (trade/transpositions.csv).
func TestQuestion(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	c := &Score{Catalogue: catalogue}
	for _, row := range []struct {
		why             string
		part            Part
		shift, sounding int
		want            string
	}{
		{"a clarinet as it sounds, a major second too high", Part{Match: matched(t, "clarinet-bflat")}, -2, -2, "a major second lower: is it written for Clarinet in B♭?"},
		{"a minor third", Part{Match: matched(t, "clarinet-bflat")}, -3, -3, "a minor third lower: is it written for Clarinet in A?"},
		{"a flute", Part{Match: matched(t, "oboe")}, 1, 1, "a minor second higher: is it in written pitch, or for another instrument?"},
		{"a part that says what no instrument has", Part{Match: matched(t, "oboe"), Source: []transpose.Stretch{{To: bflat}}}, 1, 5, "a minor second higher: is its transposition right?"},
		{"one that nobody knows", Part{}, 3, 3, "a minor third higher: is it in written pitch, or for another instrument?"},
	} {
		assert.Equal(t, "the part would sound right with the others "+row.want, c.question(&row.part, row.shift, row.sounding), row.why)
	}
}
