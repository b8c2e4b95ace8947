package sharing

import (
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
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

const (
	quarterRest  = `<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type></note>`
	quarterA     = `<note><pitch><step>A</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice><type>quarter</type></note>`
	quarterChord = `<note><chord/><pitch><step>C</step><octave>5</octave></pitch><duration>1</duration><voice>1</voice></note>`
	turnBack     = `<backup><duration>1</duration></backup>`
	secondVoice  = `<note><pitch><step>F</step><octave>4</octave></pitch><duration>1</duration><voice>2</voice></note>`
	secondStaff  = `<note><pitch><step>F</step><octave>3</octave></pitch><duration>1</duration><voice>5</voice><staff>2</staff></note>`
)

// draftOf is a part of one bar, 4/4 with one division a quarter note.
func draftOf(t *testing.T, bar string) *draft.Draft {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<part><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`+bar+`</measure></part>`))
	timeline, err := musicxml.NewTimeline(doc.Root())
	require.NoError(t, err)
	return &draft.Draft{Part: doc.Root(), Timeline: timeline}
}

// How many staves a part is on, and whether more than one note sounds at once on one of them.
func TestTexture(t *testing.T) {
	t.Parallel()
	for bar, want := range map[string][]any{
		quarterA + quarterA: {1, false}, quarterA + quarterChord: {1, true}, quarterA + turnBack + secondVoice: {1, true}, quarterRest + turnBack + secondVoice: {1, false},
		quarterA + turnBack + secondStaff: {2, false}, quarterA + quarterChord + turnBack + secondStaff: {2, true}, `<direction><direction-type><words>x</words></direction-type></direction>` + quarterA: {1, false},
	} {
		staves, many := (&divider{draftOf(t, bar)}).texture()
		assert.Equal(t, want, []any{staves, many}, bar)
	}
}

// The notes of a part in the order of time: no rests, no cue notes, of tied ones the first;
// strokes without pitch are strokes.
func TestNoteList(t *testing.T) {
	t.Parallel()
	tied := `<note><pitch><step>A</step><octave>4</octave></pitch><duration>1</duration><tie type="stop"/><voice>1</voice></note>`
	cue := `<note><cue/><pitch><step>A</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice></note>`
	stroke := `<note><unpitched/><duration>1</duration><voice>1</voice></note>`
	s := &divider{draftOf(t, quarterA+tied+quarterRest+stroke+`<backup><duration>4</duration></backup>`+cue+secondVoice)}
	var got []string
	for _, n := range s.noteList() {
		got = append(got, n.pitch+" "+n.Onset.String()+" to "+n.end.String())
	}
	assert.Equal(t, []string{"A4 0 to 1", "F4 1 to 2", "a stroke 3 to 4"}, got)
}

// A note that the line has, or has from its middle on, was not left out; a grace note lasts no
// time.
func TestStays(t *testing.T) {
	t.Parallel()
	note := func(bar int, onset int64, pitch string, end int64) listedNote {
		return listedNote{musicxml.Position{Measure: bar, Onset: musicxml.NewFraction(onset, 1)}, pitch, musicxml.NewFraction(end, 1)}
	}
	long := note(1, 0, "A4", 4)
	for _, row := range []struct {
		after []listedNote
		want  bool
	}{
		{nil, false}, {[]listedNote{note(1, 2, "A4", 4)}, true}, {[]listedNote{note(1, 2, "B4", 4)}, false}, {[]listedNote{note(1, 1, "B4", 2), note(1, 2, "A4", 4)}, true},
		{[]listedNote{note(0, 2, "A4", 4)}, false}, {[]listedNote{note(2, 0, "A4", 4)}, false}, {[]listedNote{note(1, 4, "A4", 5)}, false}, {[]listedNote{note(1, 0, "A4", 4)}, true},
	} {
		assert.Equal(t, row.want, stays(long, row.after), "%v", row.after)
	}
	grace := note(1, 2, "A4", 2)
	assert.True(t, stays(grace, []listedNote{note(1, 2, "B4", 3), grace}))
	assert.False(t, stays(grace, []listedNote{note(1, 2, "B4", 3), note(1, 3, "A4", 4)}))
}

// Bar by bar what went is named, up to six notes; more are counted. What stays is not; nobody
// misses the second of two notes in unison.
func TestReportLeftOut(t *testing.T) {
	t.Parallel()
	at := func(onset int64, pitch string) listedNote {
		return listedNote{musicxml.Position{Onset: musicxml.NewFraction(onset, 1)}, pitch, musicxml.NewFraction(onset+1, 1)}
	}
	six := []listedNote{at(0, "C4"), at(0, "D4"), at(1, "E4"), at(1, "F4"), at(2, "G4"), at(2, "B4")}
	for _, row := range []struct {
		before []listedNote
		want   string
	}{
		{nil, ""}, {[]listedNote{at(0, "A4")}, ""}, {[]listedNote{at(0, "A4"), at(0, "A4")}, ""}, {[]listedNote{at(0, "A4"), at(2, "F4")}, "3: left out F4"},
		{six, "1: left out C4, D4, E4, F4, G4, B4"}, {append(six, at(3, "A4")), "1: left out 7 notes"},
	} {
		d := draftOf(t, quarterA+`<note><rest/><duration>3</duration><voice>1</voice></note>`)
		d.Assignment.Instrument = flute(t)
		(&divider{d}).reportLeftOut(row.before)
		text := ""
		for _, w := range d.Report.Warnings {
			text += w.Beat + ": " + w.Text
		}
		if row.want != "" {
			row.want += ", as written in the score: Flute plays the upper line"
		}
		assert.Equal(t, row.want, text)
	}
}

// Words over a staff of several instruments name one of them, in full or shortened.
func TestShortFor(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		words, name string
		want        bool
	}{
		{"Side Drum", "Side Drum", true}, {"side drum", "Side Drum", true}, {"S. Dr.", "Side Drum", true}, {"Susp. cym.:", "Suspended Cymbal", true}, {"Side", "Side Drum", false},
		{"Side Drum solo", "Side Drum", false}, {"Bass Drum", "Side Drum", false}, {"", "Side Drum", false}, {"", "", false}, {"Sidedrum", "Side", false}, {"Sax Blocks", "Sand Blocks", false}, {"Sa.: Blocks", "Sand Blocks", true},
	} {
		assert.Equal(t, row.want, isShortFor(row.words, row.name), "%q %q", row.words, row.name)
	}
}

// Rests that follow each other become the fewest that show the beats of 4/4 (notation-rules,
// rests: no half rest on the second quarter); one with a pause or in a tuplet stays.
func TestRestsJoined(t *testing.T) {
	t.Parallel()
	paused := `<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type><notations><fermata/></notations></note>`
	triplet := `<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type><time-modification><actual-notes>3</actual-notes><normal-notes>2</normal-notes></time-modification></note>`
	for _, row := range []struct {
		why, bar string
		want     []string
	}{
		{"four", quarterRest + quarterRest + quarterRest + quarterRest, []string{"4 whole"}}, {"two and two notes", quarterRest + quarterRest + quarterA + quarterA, []string{"2 half", "1 quarter", "1 quarter"}},
		{"in the middle", quarterA + quarterRest + quarterRest + quarterA, []string{"1 quarter", "1 quarter", "1 quarter", "1 quarter"}},
		{"behind", quarterA + quarterRest + quarterRest + quarterRest, []string{"1 quarter", "1 quarter", "2 half"}}, {"one", quarterA + quarterRest + quarterA, []string{"1 quarter", "1 quarter", "1 quarter"}},
		{"one with a pause", quarterRest + paused + quarterRest + quarterRest, []string{"1 quarter", "1 quarter", "2 half"}}, {"in a tuplet", triplet + triplet, []string{"1 quarter", "1 quarter"}},
		{"with dots", "<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type><dot/></note>" + quarterRest + quarterRest + quarterRest, []string{"4 whole"}}, {"two runs", quarterRest + quarterRest + quarterA + quarterRest, []string{"2 half", "1 quarter", "1 quarter"}},
		{"in compound time", quarterRest + quarterRest + quarterRest + quarterA + quarterA + quarterA, []string{"3 quarter.", "1 quarter", "1 quarter", "1 quarter"}},
		{"of two voices", quarterRest + `<note><rest/><duration>1</duration><voice>2</voice><type>quarter</type></note>`, []string{"1 quarter", "1 quarter"}},
	} {
		d := draftOf(t, row.bar)
		if bar := d.Part.FindElement("measure"); row.why == "in compound time" {
			bar.FindElement("attributes/divisions").SetText("2")
			bar.FindElement("attributes/time/beats").SetText("6")
			bar.FindElement("attributes/time/beat-type").SetText("8")
			timeline, err := musicxml.NewTimeline(d.Part)
			require.NoError(t, err)
			d.Timeline = timeline
		}
		joinRests(d, &d.Timeline.Measures[0])
		var got []string
		for _, e := range d.Part.FindElements("//note") {
			got = append(got, musicxml.ChildText(e, "duration")+" "+musicxml.ChildText(e, "type")+strings.Repeat(".", len(musicxml.Children(e, "dot"))))
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// Of a chord of percussion each player has the instruments that are his; what is said of
// passages that others play goes, but for what holds for everybody and at both ends of one.
func TestPassagesTaken(t *testing.T) {
	t.Parallel()
	stroke := func(id, chord, beam string) string {
		return `<note>` + chord + `<unpitched/><duration>1</duration><instrument id="` + id + `"/><voice>1</voice><type>quarter</type>` + beam + `</note>`
	}
	words := func(text string) string {
		return `<direction><direction-type><words>` + text + `</words></direction-type></direction>`
	}
	const chord, beam = `<chord/>`, `<beam number="1">begin</beam>`
	at := func(n int64) musicxml.Position { return musicxml.Position{Onset: musicxml.NewFraction(n, 1)} }
	for _, row := range []struct {
		why, bar string
		want     []string
	}{
		{"the upper of a chord", stroke("a", "", beam) + stroke("b", chord, ""), []string{"a"}}, {"the lower", stroke("b", "", beam) + stroke("a", chord, ""), []string{"a"}},
		{"none", stroke("b", "", "") + stroke("b", chord, ""), []string{"rest"}}, {"both", stroke("a", "", beam) + stroke("a", chord, ""), []string{"a beam", "chord a"}},
		{"two of three", stroke("b", "", "") + stroke("a", chord, "") + stroke("a", chord, ""), []string{"a", "chord a"}},
		{"a grace note of another", `<note><grace/><unpitched/><instrument id="b"/><voice>1</voice></note>` + stroke("a", "", ""), []string{"a"}},
		{"an own grace note", `<note><grace/><unpitched/><instrument id="a"/><voice>1</voice></note>` + stroke("a", "", beam), []string{"a", "a beam"}},
		{"behind the passage", stroke("a", "", "") + stroke("a", "", "") + stroke("a", "", ""), []string{"a", "a", "rest"}},
		{"words", words("here") + stroke("a", "", "") + stroke("a", "", "") + words("end") + stroke("b", "", "") + stroke("b", "", "") + words("elsewhere"), []string{"here", "a", "a", "end", "rest"}},
		{"a hairpin of another", words("here") + stroke("b", "", "") + `<direction><direction-type><wedge type="crescendo"/></direction-type></direction>` + stroke("b", "", "") + stroke("b", "", "") + `<direction><direction-type><wedge type="stop"/></direction-type></direction>` + stroke("b", "", ""), []string{"here", "rest", "wedge crescendo", "rest", "rest", "wedge stop", "rest"}},
		{"a hairpin elsewhere", stroke("a", "", "") + stroke("a", "", "") + stroke("b", "", "") + `<direction><direction-type><wedge type="crescendo"/></direction-type></direction>` + stroke("b", "", "") + `<direction><direction-type><wedge type="stop"/></direction-type></direction>`, []string{"a", "a", "rest"}},
		{"a tempo elsewhere", stroke("a", "", "") + stroke("b", "", "") + stroke("b", "", "") + words("Allegro") + stroke("b", "", ""), []string{"a", "rest", "rest", "Allegro", "rest"}},
	} {
		d := draftOf(t, row.bar)
		d.Score = surveyOf()
		d.Assignment.Takes = []assign.Take{{Instrument: "a", From: at(0), To: at(2)}}
		require.NoError(t, TakePassages(d))
		var got []string
		for _, e := range d.Part.FindElements("//measure/*") {
			text := ""
			switch {
			case e.Tag == "direction" && e.FindElement("direction-type/wedge") != nil:
				text = "wedge " + e.FindElement("direction-type/wedge").SelectAttrValue("type", "")
			case e.Tag == "direction":
				text = e.FindElement("direction-type/words").Text()
			case e.Tag != "note":
				continue
			case musicxml.Child(e, "rest") != nil:
				text = "rest"
			default:
				text = instrumentOf(e)
			}
			if musicxml.Child(e, "chord") != nil {
				text = "chord " + text
			}
			if musicxml.Child(e, "beam") != nil {
				text += " beam"
			}
			got = append(got, text)
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// linesOf is a part in shorthand, of a score of one part.
func linesOf(t *testing.T, music string) *draft.Draft {
	t.Helper()
	part := shorthand.Part(t, music)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	d := &draft.Draft{Part: part, Timeline: timeline, Survey: &survey.Part{Staves: 2, Source: []transpose.Stretch{{Staff: 1}, {Staff: 2, Measure: 1}}}, Score: surveyOf()}
	d.Score.Catalogue = instrumentstest.Load(t)
	return d
}

// A part for an instrument of one line or one staff keeps its upper line, where the plan gives
// it to another instrument than the score's; what several players share is left to them.
func TestKeepOneLine(t *testing.T) {
	t.Parallel()
	const chord = "C4+E4:w | G4:w"
	const bars = "E5:w // C3:w | D5:w // C3:w"
	for _, row := range []struct {
		why, to, music string
		change         func(*draft.Draft)
		reduced        bool
		want           string
	}{
		{"a chord for a flute", "flute", chord, nil, true, "E4:w | G4:w"}, {"for its own instrument", "flute", chord, func(d *draft.Draft) { d.Assignment.RecognisedBy = "name" }, false, "C4+E4:w | G4:w"}, {"for who plays chords", "guitar", chord, nil, false, "C4+E4:w | G4:w"},
		{"a line", "flute", "C4:w | G4:w", nil, false, "C4:w | G4:w"}, {"two staves for a flute", "flute", bars, nil, true, "E5:w | D5:w"}, {"two staves for a guitar", "guitar", bars, nil, true, "E5:w | D5:w"}, {"two staves for a harp", "harp", bars, nil, false, "E5:w / C3:w | D5:w / C3:w"},
		{"shared by several", "flute", chord, func(d *draft.Draft) { d.Assignment.Shared = true }, false, "C4+E4:w | G4:w"}, {"one of several", "flute", chord, func(d *draft.Draft) { d.Assignment.Shared, d.Assignment.Player = true, 1 }, true, "E4:w | G4:w"},
	} {
		d := linesOf(t, row.music)
		d.Assignment.Assignment = plan.Assignment{RecognisedBy: assign.ByPlan, Instrument: d.Score.Catalogue.ByID(row.to), Written: d.Score.Catalogue.ByID("piano")}
		if row.change != nil {
			row.change(d)
		}
		reduced, err := KeepOneLine(d)
		require.NoError(t, err, row.why)
		assert.Equal(t, row.reduced, reduced, row.why)
		assert.Equal(t, row.want, shorthand.Read(d.Part), row.why)
		assert.Equal(t, row.reduced, d.Survey.Staves == 1, "%s: on one staff", row.why)
		assert.Equal(t, row.reduced, len(d.Survey.Source) == 1, "%s: with what is said of it", row.why)
		assert.Equal(t, row.reduced, len(d.Report.Warnings) > 0, row.why)
	}
}

// Words by which players of a shared staff are told apart, in a player's own part; bar 2 has
// notes in its first half (part-preparation (a), proof-notes).
func TestDropPlayersWords(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for _, row := range []struct {
		why, bars, want string
		change          func(*draft.Draft)
	}{
		{"the own number", `C5:w | "2." C5:h r:h`, "C5:w | C5:h r:h", nil}, {"both", `C5:w | "a 2" C5:h r:h`, "C5:w | C5:h r:h", nil}, {"another's over a note", `C5:w | "1." C5:h r:h`, `C5:w | "1." C5:h r:h`, nil}, {"another's over a rest", `C5:w | C5:h "1." r:h`, "C5:w | C5:h r:h", nil},
		{"what another is told goes with the number", `C5:w | C5:h "1. dolce" r:h`, "C5:w | C5:h r:h", nil}, {"another's solo", `C5:w | C5:h "1. Solo" r:h`, "C5:w | C5:h r:h", nil}, {"another's change", `C5:w | C5:h "1. nimmt Altflöte" r:h`, "C5:w | C5:h r:h", nil}, {"another's change over a note", `C5:w | "1. prende Flauto contralto" C5:h r:h`, `C5:w | "1. prende Flauto contralto" C5:h r:h`, nil},
		{"the own change", `C5:w | C5:h "2. prend Flûte alto" r:h`, `C5:w | C5:h "prend Flûte alto" r:h`, nil}, {"a change of both", `C5:w | C5:h "1. e 2. to Alto Flute" r:h`, `C5:w | C5:h "to Alto Flute" r:h`, nil},
		{"over the middle of a note", `C5:w | <direction><direction-type><words>1.</words></direction-type><offset>24</offset></direction> C5:h r:h`, `C5:w | "1."@24 C5:h r:h`, nil}, {"with what is played", `C5:w | "2. Solo" C5:h r:h`, `C5:w | "Solo" C5:h r:h`, nil}, {"a bare number", `C5:w | "2" C5:h r:h`, `C5:w | "2" C5:h r:h`, nil}, {"divided", `C5:w | "div. a 2" C5:h r:h`, `C5:w | "div. a 2" C5:h r:h`, nil},
		{"everybody", `C5:w | "tutti" C5:h r:h`, `C5:w | "tutti" C5:h r:h`, nil}, {"in unison", `C5:w | "unis." C5:h r:h`, `C5:w | "unis." C5:h r:h`, nil}, {"other words", `C5:w | "dolce" C5:h r:h`, `C5:w | "dolce" C5:h r:h`, nil}, {"a heading", `C5:w | "2. Allegro" C5:h r:h`, `C5:w | "2. Allegro" C5:h r:h`, nil}, {"a number at the head", `"2." C5:w | C5:w`, `"2." C5:w | C5:w`, nil}, {"both at the head", `"a 2" C5:w | C5:w`, `C5:w | C5:w`, nil}, {"a number in the first bar", `C5:h "2." C5:h | C5:w`, `C5:h C5:h | C5:w`, nil},
		{"two directions", `C5:w | "2." C5:h "dolce" r:h "a 2"`, `C5:w | C5:h "dolce" r:h`, nil}, {"beside others", `C5:w | <direction><direction-type><words>2.</words><words>dolce</words></direction-type><direction-type><words>a 2</words></direction-type></direction> C5:h r:h`, `C5:w | "dolce" C5:h r:h`, nil},
		{"with a sound", `C5:w | <direction><direction-type><words>a 2</words></direction-type><sound dynamics="50"/></direction> C5:h r:h`, `C5:w | sound C5:h r:h`, nil}, {"behind others", `C5:w | "dolce" C5:h "2." r:h`, `C5:w | "dolce" C5:h r:h`, nil},
		{"one of a shared staff", `C5:w | "2." C5:h r:h`, `C5:w | "2." C5:h r:h`, func(d *draft.Draft) { d.Assignment.Player = 1 }}, {"nobody knows", `C5:w | "2." C5:h r:h`, `C5:w | "2." C5:h r:h`, func(d *draft.Draft) { d.Survey.Match.Instrument = nil }}, {"strings", `C5:w | "2." C5:h r:h`, `C5:w | "2." C5:h r:h`, func(d *draft.Draft) { d.Survey.Match.Instrument = d.Score.Catalogue.ByID("violin") }},
		{"of no number", `C5:w | "2." C5:h r:h`, `C5:w | "2." C5:h r:h`, func(d *draft.Draft) { d.Survey.Match.Players = nil }}, {"of two", `C5:w | "2." C5:h r:h`, `C5:w | "2." C5:h r:h`, func(d *draft.Draft) { d.Survey.Match.Players = []int{1, 2} }},
	} {
		d := linesOf(t, row.bars)
		d.Survey.Match = instruments.Match{Instrument: d.Score.Catalogue.ByID("flute"), Players: []int{2}}
		if row.change != nil {
			row.change(d)
		}
		DropPlayersWords(d, lexicon)
		for _, e := range d.Part.FindElements("//direction[sound]") {
			e.CreateElement("direction-type").CreateElement("words").SetText("sound")
		}
		assert.Equal(t, row.want, strings.ReplaceAll(shorthand.Read(d.Part), `"sound"`, "sound"), row.why)
		events := 0
		require.NoError(t, d.Settle())
		for i := range d.Timeline.Measures {
			events += len(d.Timeline.Measures[i].Events)
		}
		assert.Equal(t, len(d.Part.FindElements("measure/*")), events, "%s: it is laid out", row.why)
	}
}

// What one of two players has; who is not one of several, and where both read every note,
// nothing is taken.
func TestTakePlayersMusic(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for _, row := range []struct {
		why, music string
		player     int
		change     func(*draft.Draft)
		want       string
	}{
		{"the first", "E5+C5:w | E5:w / C5:w", 1, nil, "E5:w | E5:w"}, {"the second", "E5+C5:w | E5:w / C5:w", 2, nil, "C5:w | C5:w"}, {"the whole staff", "E5+C5:w | E5:w", 0, nil, "E5+C5:w | E5:w"}, {"both read all", "E5+C5:w | E5:w", 1, func(d *draft.Draft) { d.Assignment.Sharers[0].Instrument = d.Assignment.Instrument }, "E5+C5:w | E5:w"},
		{"called by name", `E5+C5:w | "2. Flute" E5:w`, 1, func(d *draft.Draft) { d.Survey.Match.Instrument = d.Assignment.Instrument }, "E5:w | R"}, {"told to change", `E5+C5:w | "muta in Piccolo" R`, 2, nil, `C5:w | "muta in Piccolo" R`},
	} {
		d := linesOf(t, row.music)
		d.Assignment.Instrument, d.Assignment.Player = d.Score.Catalogue.ByID("flute"), row.player
		d.Assignment.Sharers = []assign.Sharer{{Player: divisi.Player{Number: 1}}, {Player: divisi.Player{Number: 2}}}
		if row.change != nil {
			row.change(d)
		}
		_, err := TakePlayersMusic(d, lexicon)
		require.NoError(t, err, row.why)
		require.NoError(t, d.Settle())
		assert.Equal(t, row.want, shorthand.Read(d.Part), row.why)
		assert.Equal(t, row.why == "the whole staff" || row.why == "both read all", d.Survey.Staves == 2, row.why)
	}
	d := linesOf(t, "E5:w | E5:w / C5:w")
	d.Assignment.Instrument, d.Assignment.Player = d.Score.Catalogue.ByID("flute"), 1
	d.Assignment.Sharers = []assign.Sharer{{Player: divisi.Player{Number: 1}}, {Player: divisi.Player{Number: 2}}}
	_, err = TakePlayersMusic(d, lexicon)
	require.NoError(t, err)
	require.Len(t, d.Report.Warnings, 1, "nothing says who plays in the first bar")
	assert.Equal(t, "1", d.Report.Warnings[0].Measure)
	s := &divider{d}
	assert.Empty(t, s.playerNames())
	d.Survey.Match.Instrument = d.Score.Catalogue.ByID("flute")
	names := s.playerNames()
	assert.Len(t, names, 3*len(pitch.Languages()))
	for _, name := range []string{"Flute", "Flutes", "Fl."} {
		assert.Contains(t, names, name)
	}
	d.Assignment.Instrument = d.Survey.Match.Instrument
	for text, want := range map[string]bool{"muta in Piccolo": true, "to Piccolo": true, "dolce": false} {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromString(`<direction><direction-type><words>solo</words></direction-type><direction-type><words>x</words><words>`+text+`</words></direction-type></direction>`))
		assert.Equal(t, want, s.changesInstrument(doc.Root()), text)
	}
}
