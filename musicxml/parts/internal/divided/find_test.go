package divided

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
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
)

// draftOf is a part of a string section beside winds.
func draftOf(t *testing.T, music string) *draft.Draft {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	part := shorthand.Part(t, music)
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	d := &draft.Draft{Part: part, Timeline: timeline, Survey: &survey.Part{Staves: 1}}
	d.Score = &survey.Score{Parts: []survey.Part{{}, {Match: instruments.Match{Instrument: catalogue.ByID("violin")}}, {Match: instruments.Match{Instrument: catalogue.ByID("flute")}}}}
	d.Assignment.Name, d.Assignment.Instrument = "Violins I", catalogue.ByID("violin")
	return d
}

// Bowed strings divide where there are winds, or where the words of the score say so; one
// player, a desk and what a plan gives to somebody else do not (trade/part-preparation, 2).
func TestIsDivided(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	none := func(*draft.Draft) {}
	alone := func(d *draft.Draft) { d.Score.Parts = d.Score.Parts[:2] }
	for _, row := range []struct {
		why, music string
		change     func(*draft.Draft)
		want       bool
	}{
		{"a section", "C5:w", none, true}, {"without winds", "C5:w", alone, false}, {"without winds, with the word", `C5:w | "div." D5:w`, alone, true},
		{"without winds, with another word", `C5:w | "pizz." D5:w`, alone, false}, {"behind a title", `C5:w <direction><direction-type><rehearsal>B</rehearsal><words>geteilt</words></direction-type></direction>`, alone, true},
		{"nobody knows which", "C5:w", func(d *draft.Draft) { d.Assignment.Instrument = nil }, false},
		{"a flute", "C5:w", func(d *draft.Draft) { d.Assignment.Instrument = catalogue.ByID("flute") }, false},
		{"a musical saw", "C5:w", func(d *draft.Draft) { d.Assignment.Instrument = catalogue.ByID("musical-saw") }, false},
		{"a guitar", "C5:w", func(d *draft.Draft) { d.Assignment.Instrument = catalogue.ByID("guitar") }, false},
		{"one of two players", "C5:w", func(d *draft.Draft) { d.Assignment.Player = 1 }, false}, {"a desk", "C5:w", func(d *draft.Draft) { d.Assignment.Desk = "1" }, false},
		{"on one staff with others", "C5:w", func(d *draft.Draft) { d.Assignment.OneStaff = "1,2" }, false}, {"on two staves already", "C5:w", func(d *draft.Draft) { d.Survey.Staves = 2 }, false},
		{"for another instrument", "C5:w", func(d *draft.Draft) {
			d.Assignment = assign.Assignment{Assignment: plan.Assignment{RecognisedBy: assign.ByPlan, Instrument: catalogue.ByID("viola"), Written: catalogue.ByID("violin")}}
		}, false},
		{"a soloist", "C5:w", func(d *draft.Draft) { d.Assignment.Name = "Solo Violin" }, false}, {"a soloist, shouted", "C5:w", func(d *draft.Draft) { d.Assignment.Name = "VIOLINO SOLO" }, false},
	} {
		d := draftOf(t, row.music)
		row.change(d)
		assert.Equal(t, row.want, isDivided(d), row.why)
	}
}

// Which bars go on two staves, by hand: those around one that cannot be read, as long as every
// voice is complete.
func TestPassages(t *testing.T) {
	t.Parallel()
	const crossing, plain, unison = "E3:h C3:h / D3:w", "E3:w / C3:w", "C3:w"
	for _, row := range []struct{ why, music, want string }{
		{"one bar", unison + " | " + crossing + " | " + unison, "1-1"}, {"the last", unison + " | " + crossing, "1-1"}, {"with what is plain before and after", plain + " | " + crossing + " | " + plain + " | " + unison, "0-2"},
		{"two passages", crossing + " | " + unison + " | " + crossing + " | " + crossing, "0-0 2-3"}, {"one of the two rests behind", crossing + " | C3:w / r:w", "0-0"}, {"plain alone", plain + " | " + plain, ""},
		{"a sign of bars repeated ends it", crossing + ` | <attributes><measure-style><measure-repeat·type="start">1</measure-repeat></measure-style></attributes> ` + crossing + ` | <attributes><measure-style><measure-repeat·type="stop"/></measure-style></attributes> ` + crossing, "0-0 2-2"},
		{"the same note", "E3:w / E3:w", ""}, {"a step lower", "D3:w / E3:w", "0-0"}, {"a semitone lower", "E3:w / F3:w", "0-0"}, {"lower behind the other", "r:h C3:h / D3:h B2:h", ""}, {"lower before the other", "C3:h E3:h / B2:h D3:h", ""},
		{"lower in the middle", "E3:q C3:q E3:h / D3:w", "0-0"}, {"over an upper that is held", "D3:w / C3:q E3:q C3:h", "0-0"},
		{"the lowest of a chord", "C4+G4:w / E4:w", "0-0"}, {"the lowest of a chord, written behind", "G4+C4:w / E4:w", "0-0"}, {"the highest of a chord", "E4:w / C4+F4:w", "0-0"}, {"the highest of a chord, written before", "E4:w / F4+C4:w", "0-0"},
		{"chords apart", "E4+G4:w / C4+D4:w", ""}, {"the second of two chords", "E4+G4:h C4+G4:h / D4:w", "0-0"}, {"under a rest", "r:h C3:h / D3:w", "0-0"}, {"a grace note below", "g!A2:e E3:w / C3:w", ""},
		{"a third voice that crosses", "G4:w / E4:w / F4:w", "0-0"}, {"a first voice that crosses the third", "C4:w / G4:w", "0-0"}, {"three of which the first differs", "G4:h A4:h / E4:h E4:h / C4:q D4:hd", "0-0"}, {"the lower two alike, the first not", "G4:q A4:hd / E4:h E4:h / C4:h C4:h", "0-0"}, {"three of which the first rests sooner", "G4:h r:h / E4:h E4:h / C4:h C4:h", "0-0"}, {"three in one rhythm", "G4:w / E4:w / C4:w", ""},
		{"three of which the first has more", "G4:h G4:h / E4:w / C4:w", "0-0"}, {"a stroke above", "u!D4:w / C3:w", ""}, {"three of which one has more notes", "G4:w / E4:h E4:h / C4:w", "0-0"}, {"three of which one begins later", "G4:w / r:h E4:h / C4:w", "0-0"}, {"three of which one ends earlier", "G4:w / E4:w / C4:h r:h", "0-0"}, {"the second note comes later", "G4:h A4:h / E4:hd E4:q / C4:h C4:h", "0-0"},
		{"a whole rest is no voice", "C3:w / r:w", ""}, {"one of three rests", "C3:w / D3:w / r:w", "0-0"}, {"it rests between", "C3:w / r:w / D3:w", "0-0"}, {"a gap before", "_:h C3:h / D3:w", ""}, {"a gap behind", "C3:h / D3:w", ""}, {"a gap between", "C3:q _:q C3:h / D3:w", ""}, {"the other has a gap", "C3:w / D3:h", ""}, {"one voice", "C3:w", ""},
		{"one is a cue", "C3:w / D3:h <note><cue/><pitch><step>D</step><octave>3</octave></pitch><duration>48</duration><voice>2</voice></note>", ""}, {"on two staves", "C3:w // D3:w", ""},
		{"strokes have no height", "C3:w / u!D4:w", ""}, {"loud and soft", "<direction><direction-type><dynamics><f/></dynamics></direction-type><voice>1</voice></direction> E3:w << <direction><direction-type><dynamics><p/></dynamics></direction-type><voice>2</voice></direction> C3:w", "0-0"},
	} {
		var found []string
		for _, p := range passages(draftOf(t, strings.ReplaceAll(row.music, "·", " ")).Timeline) {
			found = append(found, strconv.Itoa(p.First)+"-"+strconv.Itoa(p.Last))
		}
		assert.Equal(t, row.want, strings.Join(found, " "), row.why)
	}
}

// Dynamics at more than one voice tell that several players are on the staff.
func TestSeveralSay(t *testing.T) {
	t.Parallel()
	mark := func(kind, voice string) string {
		return `<direction><direction-type><` + kind + `/></direction-type>` + voice + `</direction>`
	}
	const one, two = `<voice>1</voice>`, `<voice>2</voice>`
	for bar, want := range map[string]bool{
		mark("dynamics", one) + mark("dynamics", two): true, mark("dynamics", one) + mark("dynamics", one): false, mark("dynamics", "") + mark("dynamics", two): false, mark("dynamics", one): false,
		mark("dynamics", one) + mark("words", two): false, mark("words", one) + mark("words", two): false, mark("dynamics", one) + mark("words", "") + mark("dynamics", two): true, "": false,
		mark("dynamics", one) + mark("dynamics", "") + mark("dynamics", two): true, mark("dynamics", one) + mark("dynamics", "") + mark("dynamics", one): false, `<barline/>` + mark("dynamics", one) + `<barline/>` + mark("dynamics", two): true,
	} {
		doc := etree.NewDocument()
		assert.NoError(t, doc.ReadFromString(`<part><measure>`+bar+`</measure></part>`))
		timeline, err := musicxml.NewTimeline(doc.Root())
		assert.NoError(t, err)
		assert.Equal(t, want, severalSay(&timeline.Measures[0]), bar)
	}
}
