package verify_test

import (
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
	"deskpart/transpose/verify"
)

// theme is two bars and an upbeat to a third, for a clarinet in B flat, with one
// of everything that a fault can strike. It is invented.
const theme = `<part id="P1">
<measure number="7"><attributes><divisions>4</divisions><key><fifths>2</fifths><mode>major</mode></key><time><beats>4</beats><beat-type>4</beat-type></time>
<clef><sign>G</sign><line>2</line></clef><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>
<harmony><root><root-step>D</root-step></root><kind>major</kind><bass><bass-step>F</bass-step><bass-alter>1</bass-alter></bass></harmony>
<direction><direction-type><dynamics><p/></dynamics></direction-type></direction>
<note><pitch><step>D</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>quarter</type><stem>down</stem></note>
<note><pitch><step>G</step><alter>1</alter><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>quarter</type><accidental>sharp</accidental><stem>up</stem></note>
<note><grace/><pitch><step>B</step><octave>4</octave></pitch><voice>1</voice><type>eighth</type></note>
<note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration><tie type="start"/><voice>1</voice><type>quarter</type><notations><tied type="start"/></notations></note>
<note><pitch><step>A</step><octave>4</octave></pitch><duration>4</duration><tie type="stop"/><voice>1</voice><type>quarter</type><notations><tied type="stop"/></notations></note>
</measure>
<measure number="8"><attributes><key><fifths>-1</fifths></key></attributes>
<note><pitch><step>B</step><alter>-1</alter><octave>4</octave></pitch><duration>8</duration><voice>1</voice><type>half</type></note>
<note><chord/><pitch><step>D</step><octave>5</octave></pitch><duration>8</duration><voice>1</voice><type>half</type></note>
<note><pitch><step>E</step><alter>-1</alter><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>quarter</type><accidental cautionary="yes">flat</accidental>
<notations><ornaments><trill-mark/><accidental-mark>natural</accidental-mark></ornaments></notations></note>
<note><rest/><duration>4</duration><voice>1</voice><type>quarter</type></note>
<barline location="right"><repeat direction="backward"/></barline>
</measure>
</part>`

func parse(t *testing.T, text string) *etree.Element {
	t.Helper()
	doc, err := musicxml.ParseDocument([]byte(text), musicxml.ReadOptions{})
	require.NoError(t, err)
	return doc.Root()
}

// note returns the k-th note of a bar, both counted from 0.
func note(part *etree.Element, bar, k int) *etree.Element {
	return part.SelectElements("measure")[bar].SelectElements("note")[k]
}

func set(part *etree.Element, path, text string) { part.FindElement(path).SetText(text) }

func remove(e *etree.Element) { e.Parent().RemoveChild(e) }

// faults are single mistakes, each with the place at which it is to be found.
// Whoever finds it must say that place.
var faults = []struct {
	name, why     string
	measure, beat string
	plant         func(part *etree.Element)
}{
	{"letter", "wrong line or space", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "pitch/step", "E") }},
	{"octave", "right letter, wrong octave", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "pitch/octave", "4") }},
	{"alter lost", "a sharp note played natural", "7", "2", func(p *etree.Element) { remove(note(p, 0, 1).FindElement("pitch/alter")) }},
	{"alter changed", "a flat for a sharp", "7", "2", func(p *etree.Element) { set(note(p, 0, 1), "pitch/alter", "-1") }},
	{"alter gained", "a natural note played sharp", "7", "1", func(p *etree.Element) {
		note(p, 0, 0).SelectElement("pitch").InsertChildAt(1, parseElement("<alter>1</alter>"))
	}},
	{"quarter tone", "a fraction of a semitone", "7", "2", func(p *etree.Element) { set(note(p, 0, 1), "pitch/alter", "0.5") }},
	{"enharmonic", "the same sound, another letter", "7", "2", func(p *etree.Element) {
		set(note(p, 0, 1), "pitch/step", "A")
		set(note(p, 0, 1), "pitch/alter", "-1")
	}},
	{"grace note", "a grace note at another pitch", "7", "3", func(p *etree.Element) { set(note(p, 0, 2), "pitch/step", "C") }},
	{"chord note", "the upper note of a chord", "8", "1", func(p *etree.Element) { set(note(p, 1, 1), "pitch/step", "C") }},
	{"chord note lost", "one note of a chord missing", "8", "1", func(p *etree.Element) { remove(note(p, 1, 1)) }},
	{"note lost", "a note missing", "7", "4", func(p *etree.Element) { remove(note(p, 0, 4)) }},
	{"note doubled", "a note too many", "8", "1", func(p *etree.Element) {
		n := note(p, 1, 1)
		n.Parent().InsertChildAt(n.Index(), n.Copy())
	}},
	{"rest for note", "silence in place of a note", "7", "1", func(p *etree.Element) {
		n := note(p, 0, 0)
		n.InsertChildAt(0, parseElement("<rest/>"))
		remove(n.SelectElement("pitch"))
	}},
	{"duration", "a note too short", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "duration", "2") }},
	{"note value", "a quarter printed as a half", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "type", "half") }},
	{"dot", "a dot gained", "7", "1", func(p *etree.Element) {
		n := note(p, 0, 0)
		n.InsertChildAt(n.SelectElement("type").Index()+1, parseElement("<dot/>"))
	}},
	{"tie lost", "a tie's start missing", "7", "3", func(p *etree.Element) { remove(note(p, 0, 3).SelectElement("tie")) }},
	{"tied lost", "a tie not drawn", "7", "3", func(p *etree.Element) { remove(note(p, 0, 3).FindElement("notations/tied")) }},
	{"tie end", "a tie's end turned to a start", "7", "4", func(p *etree.Element) { note(p, 0, 4).SelectElement("tie").CreateAttr("type", "start") }},
	{"sign lost", "an accidental not printed", "7", "2", func(p *etree.Element) { remove(note(p, 0, 1).SelectElement("accidental")) }},
	{"sign of another kind", "a natural for a sharp", "7", "2", func(p *etree.Element) { set(note(p, 0, 1), "accidental", "natural") }},
	{"sign gained", "an accidental that was not there", "8", "1", func(p *etree.Element) {
		n := note(p, 1, 1)
		n.InsertChildAt(n.SelectElement("type").Index()+1, parseElement("<accidental>natural</accidental>"))
	}},
	{"courtesy lost", "a cautionary sign turned plain", "8", "3", func(p *etree.Element) { note(p, 1, 2).SelectElement("accidental").RemoveAttr("cautionary") }},
	{"ornament's sign", "the accidental of a trill", "8", "3", func(p *etree.Element) { set(note(p, 1, 2), "notations/ornaments/accidental-mark", "flat") }},
	{"ornament lost", "a trill missing", "8", "3", func(p *etree.Element) { remove(note(p, 1, 2).FindElement("notations/ornaments/trill-mark")) }},
	{"signature", "another key signature", "8", "1", func(p *etree.Element) { set(p, "measure[2]/attributes/key/fifths", "0") }},
	{"signature lost", "a change of key missing", "8", "1", func(p *etree.Element) { remove(p.FindElement("measure[2]/attributes/key")) }},
	{"mode", "minor for major", "7", "1", func(p *etree.Element) { set(p, "measure[1]/attributes/key/mode", "minor") }},
	{"clef", "bass clef for treble", "7", "1", func(p *etree.Element) { set(p, "measure[1]/attributes/clef/sign", "F") }},
	{"clef's line", "another line of the clef", "7", "1", func(p *etree.Element) { set(p, "measure[1]/attributes/clef/line", "1") }},
	{"metre", "3/4 for 4/4", "7", "1", func(p *etree.Element) { set(p, "measure[1]/attributes/time/beats", "3") }},
	{"transposition", "another interval said", "7", "1", func(p *etree.Element) { set(p, "measure[1]/attributes/transpose/chromatic", "-3") }},
	{"chord symbol's root", "another root", "7", "1", func(p *etree.Element) { set(p, "measure[1]/harmony/root/root-step", "E") }},
	{"chord symbol's bass", "the bass's sharp missing", "7", "1", func(p *etree.Element) { remove(p.FindElement("measure[1]/harmony/bass/bass-alter")) }},
	{"chord symbol's kind", "minor for major", "7", "1", func(p *etree.Element) { set(p, "measure[1]/harmony/kind", "minor") }},
	{"dynamics", "a mark of loudness changed", "7", "1", func(p *etree.Element) {
		d := p.FindElement("measure[1]/direction/direction-type/dynamics")
		remove(d.SelectElement("p"))
		d.CreateElement("f")
	}},
	{"stem", "a stem turned", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "stem", "up") }},
	{"repeat", "a repeat turned round", "8", "", func(p *etree.Element) { p.FindElement("measure[2]/barline/repeat").CreateAttr("direction", "forward") }},
	{"bar number", "a bar numbered otherwise", "8", "1", func(p *etree.Element) { p.FindElement("measure[2]").CreateAttr("number", "9") }},
	{"voice", "a note given to another voice", "7", "1", func(p *etree.Element) { set(note(p, 0, 0), "voice", "2") }},
}

func parseElement(text string) *etree.Element {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		panic(err)
	}
	e := doc.Root()
	e.Remove()
	return e
}

// TestEveryPlantedFaultIsFound plants each fault in a copy and compares.
func TestEveryPlantedFaultIsFound(t *testing.T) {
	require.GreaterOrEqual(t, len(faults), 30)
	for _, fault := range faults {
		t.Run(fault.name, func(t *testing.T) {
			source, err := musicxml.NewTimeline(parse(t, theme))
			require.NoError(t, err)
			faulty := parse(t, theme)
			fault.plant(faulty)
			found := verify.Compare(source, faulty)
			require.NotEmpty(t, found, fault.why)
			for _, f := range found {
				assert.Equal(t, fault.measure, f.Measure, "%s: %s", fault.why, f.Text)
				assert.Equal(t, fault.beat, f.Beat, "%s: %s", fault.why, f.Text)
			}
			assert.LessOrEqual(t, len(found), 2, "%s: a single fault makes no noise: %v", fault.why, found)
		})
	}
}

// TestNothingIsFoundWhereNothingIs is the other half of the test above.
func TestNothingIsFoundWhereNothingIs(t *testing.T) {
	source, err := musicxml.NewTimeline(parse(t, theme))
	require.NoError(t, err)
	assert.Empty(t, verify.Compare(source, parse(t, theme)))
	respaced := parse(t, strings.ReplaceAll(theme, "><", "> <"))
	assert.Empty(t, verify.Compare(source, respaced), "white space between elements says nothing")
}

// TestFaultsOfSoundAreHeard: the faults that change what is heard, or what a
// player reads, are found by the separate reader too, at the same place.
func TestFaultsOfSoundAreHeard(t *testing.T) {
	heard := map[string]bool{"letter": true, "octave": true, "alter lost": true, "alter changed": true, "alter gained": true,
		"quarter tone": true, "grace note": true, "chord note": true, "chord note lost": true, "note lost": true,
		"note doubled": true, "rest for note": true, "duration": true, "transposition": true}
	misread := map[string]bool{"sign lost": true, "sign of another kind": true, "signature": true}
	source, err := reading.Read(parse(t, theme))
	require.NoError(t, err)
	require.Empty(t, source.Mismatches(), "the theme's own page is right")
	for _, fault := range faults {
		if !heard[fault.name] && !misread[fault.name] {
			continue
		}
		t.Run(fault.name, func(t *testing.T) {
			faulty := parse(t, theme)
			fault.plant(faulty)
			page, err := reading.Read(faulty)
			require.NoError(t, err)
			var places []string
			for _, d := range reading.Compare(source.Sounding(), page.Sounding()) {
				places = append(places, d.Measure+" "+d.Beat)
			}
			for _, m := range page.Mismatches() {
				places = append(places, m.Measure+" "+m.Beat)
			}
			require.NotEmpty(t, places, fault.why)
			if !strings.HasPrefix(fault.name, "sign") && fault.name != "transposition" {
				bar, _ := strconv.Atoi(fault.measure)
				assert.True(t, strings.HasPrefix(places[0], strconv.Itoa(bar)+" "+fault.beat), "%s: %v", fault.why, places)
			}
		})
	}
}
