package parts_test

import (
	"deskpart/musicxml/musicxmltest/shorthand"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What goes with a part to an instrument of another family, and what stays
// (trade/musicxml-coverage.md, sections 1 and 5, column I).
func TestTechniquesOfAnotherInstrument(t *testing.T) {
	t.Parallel()
	technical := func(marks string) string { return "«<technical>" + marks + "</technical>»" }
	for _, row := range []struct {
		name, why, from, to, music string
		gone, kept                 string // element names
		said                       []string
	}{
		{"bow and string", "a flute has neither", "Violin", "flute",
			"treble C5" + technical("<up-bow/><string>2</string><fingering>1</fingering><harmonic/><open-string/>") + " C5" + technical("<snap-pizzicato/>") + " C5 | C5" + technical("<down-bow/>"),
			"up-bow string fingering harmonic open-string snap-pizzicato down-bow notations", "", []string{"1:1", "2:1"}},
		{"bow to bow", "the cello bows too, but the fingering is the violin's", "Violin", "cello",
			"treble C5" + technical("<up-bow/><open-string/><fingering>1</fingering>"), "fingering", "up-bow open-string", []string{"1:1"}},
		{"bow to pluck", "a guitar has strings to name and no bow", "Violin", "guitar",
			"treble C5" + technical("<up-bow/><string>2</string>"), "up-bow", "string", []string{"1:1"}},
		{"holes and tongue", "the trumpet tongues, but has other valves", "Flute", "trumpet-c",
			"treble C5" + technical("<hole><hole-closed>yes</hole-closed></hole><double-tongue/>"), "hole", "double-tongue", []string{"1:1"}},
		{"brass to reed", "no mute in the bell, no hand either", "Trumpet in C", "oboe",
			"treble C5" + technical("<harmon-mute><harmon-closed>yes</harmon-closed></harmon-mute><brass-bend/><stopped/><double-tongue/>"),
			"harmon-mute brass-bend stopped", "double-tongue", []string{"1:1"}},
		{"frets", "hammer-on, fret and bend are the guitar's", "Guitar", "violin",
			"treble C4" + technical(`<hammer-on·type="start"/><string>2</string><fret>1</fret><bend><bend-alter>1</bend-alter></bend>`) + " C4" + technical(`<hammer-on·type="stop"/>`),
			"hammer-on fret bend", "string", []string{"1:1"}},
		{"heel and toe", "", "Organ", "bassoon", "bass C3" + technical("<heel/><toe/>"), "heel toe", "", []string{"1:1"}},
		{"breath to bow", "a violin needs no comma", "Flute", "violin",
			"treble C5«<articulations><breath-mark/><staccato/></articulations>»", "breath-mark", "staccato", []string{"1:1"}},
		{"same family", "a clarinet's fingering on another clarinet: nothing is done", "Clarinet in Bb", "clarinet-a",
			"treble C5" + technical("<fingering>1</fingering>"), "", "fingering", nil},
		{"harp pedals, damp, registration, mute, pedal", "directions go too", "Harp", "horn-f",
			`treble <direction><direction-type><harp-pedals><pedal-tuning><pedal-step>D</pedal-step><pedal-alter>0</pedal-alter></pedal-tuning></harp-pedals></direction-type></direction> ` +
				`<direction><direction-type><damp/></direction-type></direction> <direction><direction-type><pedal type="start"/></direction-type></direction> ` +
				`<direction><direction-type><accordion-registration><accordion-high/></accordion-registration></direction-type></direction> ` +
				`<direction><direction-type><string-mute type="on"/></direction-type></direction> C4`,
			"harp-pedals damp pedal accordion-registration string-mute direction", "", []string{"1:1"}},
		{"a direction that says more", "the dynamics stay", "Violin", "flute",
			`treble <direction><direction-type><string-mute type="on"/></direction-type><direction-type><dynamics><p/></dynamics></direction-type></direction> C5`,
			"string-mute", "dynamics", []string{"1:1"}},
		{"scordatura and tuning", "the strings are another instrument's", "Violin", "flute",
			`treble <direction><direction-type><scordatura><accord string="4"><tuning-step>A</tuning-step><tuning-octave>3</tuning-octave></accord></scordatura></direction-type></direction> C5`,
			"scordatura", "", []string{"1:1"}},
		{"arpeggio", "one line cannot break a chord", "Piano", "flute",
			"treble C5«<arpeggiate/>» C5", "arpeggiate", "", []string{"1:1"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			made := handedTo(t, scoreOf(t, row.from, music(t, row.music)), row.to, "")
			for _, tag := range strings.Fields(row.gone) {
				assert.Nil(t, made.part.FindElement(".//"+tag), "%s: %s", tag, row.why)
			}
			for _, tag := range strings.Fields(row.kept) {
				assert.NotNil(t, made.part.FindElement(".//"+tag), "%s: %s", tag, row.why)
			}
			assert.Equal(t, row.said, warned(made, "foreign-technique"), row.why)
		})
	}
}

// All marks stay where the part stays with its instrument, moved or not
// (musicxml-coverage, section 5, columns T and X: the sound is unchanged).
func TestTechniquesStayWithTheirInstrument(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ part, music, kept string }{
		{"Violin", "treble C5«<technical><up-bow/><fingering>1</fingering><string>2</string><open-string/><harmonic/></technical>»", "up-bow fingering string open-string harmonic"},
		{"Clarinet in Bb", "treble C5«<technical><hole><hole-closed>yes</hole-closed></hole><fingering>1</fingering></technical>»", "hole fingering"},
		{"Guitar", "treble-8vb C4«<technical><string>2</string><fret>1</fret></technical>» <attributes><staff-details><capo>2</capo></staff-details></attributes> C4", "string fret capo"},
		{"Horn in F", "treble C4«<technical><stopped/></technical>»", "stopped"},
	} {
		made := handedTo(t, scoreOf(t, row.part, music(t, row.music)), "", "")
		for _, tag := range strings.Fields(row.kept) {
			assert.NotNil(t, made.part.FindElement(".//"+tag), "%s on the %s", tag, row.part)
		}
	}
}

// What stays on the page and cannot be played is said bar by bar.
func TestUnplayableIsSaid(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, from, to, music string
		said                  []string
	}{
		{"chords on strings", "Piano", "violin", "treble C5 +E5", nil},
		{"pizzicato and more", "Violin", "flute", "treble " + directionOf("pizz. e dolce") + " C5 " + directionOf("arco, marc.") + " C5", []string{"1:1", "1:2"}},
		{"pizzicato on a plucked instrument", "Violin", "guitar", "treble " + directionOf("pizz.") + " C5", nil},
		{"bow to bow", "Violin", "viola", "treble " + directionOf("sul ponticello") + " C5", nil},
		{"mutes of strings and brass", "Violin", "trumpet-c", "treble " + directionOf("con sord.") + " C5", nil},
		{"mute on a flute", "Violin", "flute", "treble " + directionOf("con sord. ma forte") + " C5", []string{"1:1"}},
		{"hand in the bell", "Horn in F", "bassoon", "treble " + directionOf("gestopft und stark") + " C4", []string{"1:1"}},
		{"flutter on strings", "Flute", "violin", "treble " + directionOf("mit Flatterzunge") + " C5", []string{"1:1"}},
		{"bowed tremolo", "Violin", "flute", "treble C5«<ornaments><tremolo>3</tremolo></ornaments>» C5«<ornaments><tremolo>3</tremolo></ornaments>»", []string{"1:1"}},
		{"measured repetition", "Violin", "flute", "treble C5«<ornaments><tremolo>1</tremolo></ornaments>»", nil},
		{"tremolo on sticks", "Violin", "marimba", "treble C5«<ornaments><tremolo>3</tremolo></ornaments>»", nil},
		{"words for anybody", "Violin", "flute", "treble " + directionOf("dolce, espr. marcato") + " C5", nil},
	} {
		made := handedTo(t, scoreOf(t, row.from, music(t, row.music)), row.to, "")
		assert.Equal(t, row.said, warned(made, "unplayable"), row.name)
	}
}

// Words that say another instrument's technique and nothing else go, and are said.
func TestTechniqueWordsGo(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ from, to, words string }{
		{"Violin", "flute", "pizz."}, {"Violin", "flute", "Arco"}, {"Cello", "tuba", "(pizzicato)"}, {"Violin", "oboe", "sul G"},
		{"Viola", "flute", "con sord."}, {"Viola", "flute", "senza sordino"}, {"Violin", "flute", "col legno battuto"},
		{"Horn in F", "bassoon", "gestopft"}, {"Flute", "violin", "Flatterzunge"},
	} {
		made := handedTo(t, scoreOf(t, row.from, music(t, "treble "+directionOf(row.words)+" C5")), row.to, "")
		assert.Nil(t, made.part.FindElement(".//words"), "%s on the %s", row.words, row.to)
		assert.Equal(t, []string{"1:1"}, warned(made, "foreign-technique"), row.words)
		assert.Empty(t, warned(made, "unplayable"), row.words)
	}
}

// Tablature of a guitar goes to a flute as notes on five lines.
func TestTablatureGivenToAnotherInstrument(t *testing.T) {
	t.Parallel()
	tab := `<attributes><clef><sign>TAB</sign><line>5</line></clef><staff-details><staff-lines>6</staff-lines><staff-tuning line="1"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave></staff-tuning></staff-details></attributes>`
	made := handedTo(t, scoreOf(t, "Guitar", music(t, tab+" E5«<technical><string>1</string><fret>12</fret></technical>»")), "flute", "")
	assert.Equal(t, "treble E5", shorthand.ReadStaff(made.part), "string 1 is E4 as it sounds (mem-adler), and fret 12 an octave above")
	for _, tag := range []string{"staff-details", "string", "fret"} {
		assert.Nil(t, made.part.FindElement(".//"+tag), tag)
	}
}
