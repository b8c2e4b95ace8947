package parts_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest/shorthand"
)

// What goes with a part to an instrument of another family, and what stays
// (trade/musicxml-coverage.md, sections 1 and 5, column I). All stays where the part stays
// with its instrument, moved or not (columns T and X: the sound is unchanged).
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
		{"bow to pluck", "a guitar has no bow, and other strings", "Violin", "guitar",
			"treble C5" + technical("<up-bow/><string>2</string><open-string/>"), "up-bow string", "open-string", []string{"1:1"}},
		{"bow to bow in a family", "a viola's strings and fingers are others (common practice, no source)", "Violin", "viola",
			"treble C5" + technical("<up-bow/><string>4</string><fingering>1</fingering>"), "string fingering", "up-bow", []string{"1:1"}},
		{"frets to frets", "an electric guitar is tuned as a guitar (tunings.csv)", "Guitar", "electric-guitar",
			"treble C4" + technical("<string>2</string><fret>1</fret>"), "", "string fret", nil},
		{"frets to other frets", "a bass guitar is tuned otherwise", "Guitar", "bass-guitar",
			"treble C4" + technical("<string>2</string><fret>1</fret><hammer-on·type=\"start\"/>"), "string fret", "hammer-on", []string{"1:1"}},
		{"holes and tongue", "the trumpet tongues, but has other valves", "Flute", "trumpet-c",
			"treble C5" + technical("<hole><hole-closed>yes</hole-closed></hole><double-tongue/>"), "hole", "double-tongue", []string{"1:1"}},
		{"brass to reed", "no mute in the bell, no hand either", "Trumpet in C", "oboe",
			"treble C5" + technical("<harmon-mute><harmon-closed>yes</harmon-closed></harmon-mute><brass-bend/><stopped/><double-tongue/>"),
			"harmon-mute brass-bend stopped", "double-tongue", []string{"1:1"}},
		{"frets", "hammer-on, fret and bend are the guitar's", "Guitar", "violin",
			"treble C4" + technical(`<hammer-on·type="start"/><string>2</string><fret>1</fret><bend><bend-alter>1</bend-alter></bend>`) + " C4" + technical(`<hammer-on·type="stop"/>`),
			"hammer-on fret bend string", "", []string{"1:1"}},
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
		{"tuning of the strings", "a flute has none", "Guitar", "flute",
			"treble <attributes><staff-details><staff-tuning line=\"1\"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave></staff-tuning></staff-details></attributes> C5", "staff-details", "", nil},
		{"a capo", "", "Guitar", "flute", "treble <attributes><staff-details><capo>2</capo></staff-details></attributes> C5", "staff-details", "", nil},
		{"frets that are shown", "", "Guitar", "flute", "treble <attributes><staff-details show-frets=\"letters\"/></attributes> C5", "staff-details", "", nil},
		{"the size of a staff", "it is nobody's technique", "Guitar", "flute", "treble <attributes><staff-details><staff-size>90</staff-size></staff-details></attributes> C5", "", "staff-details", nil},
		{"arpeggio", "one line cannot break a chord", "Piano", "flute",
			"treble C5«<arpeggiate/>» C5", "arpeggiate", "", []string{"1:1"}},
		{"its own violin", "", "Violin", "", "treble C5" + technical("<up-bow/><fingering>1</fingering><string>2</string><open-string/><harmonic/>"), "", "up-bow fingering string open-string harmonic", nil},
		{"its own clarinet", "", "Clarinet in Bb", "", "treble C5" + technical("<hole><hole-closed>yes</hole-closed></hole><fingering>1</fingering>"), "", "hole fingering", nil},
		{"its own guitar", "", "Guitar", "", "treble-8vb C4" + technical("<string>2</string><fret>1</fret>") + " <attributes><staff-details><capo>2</capo></staff-details></attributes> C4", "", "string fret capo", nil},
		{"its own horn", "", "Horn in F", "", "treble C4" + technical("<stopped/>"), "", "stopped", nil},
	} {
		made := handedTo(t, scoreOf(t, row.from, music(t, row.music)), row.to, "")
		for _, tag := range strings.Fields(row.gone) {
			assert.Nil(t, made.part.FindElement(".//"+tag), "%s: %s: %s", tag, row.name, row.why)
		}
		for _, tag := range strings.Fields(row.kept) {
			assert.NotNil(t, made.part.FindElement(".//"+tag), "%s: %s: %s", tag, row.name, row.why)
		}
		assert.Equal(t, row.said, warned(made, "foreign-technique"), "%s: %s", row.name, row.why)
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
		{"pizzicato on a plucked instrument", "Violin", "guitar", "treble " + directionOf("[pizz.]") + directionOf("sul pont.") + " C5", nil},
		{"a mute beside what the guitar can do", "Violin", "guitar", "treble " + directionOf("pizz. con sord.") + " C5", []string{"1:1"}},
		{"strings that ring on", "Harp", "guitar", "treble " + directionOf("l.v.") + " C5", nil},
		{"bow to bow", "Violin", "viola", "treble " + directionOf("sul ponticello") + " C5", nil},
		{"mutes of strings and brass", "Violin", "trumpet-c", "treble " + directionOf("con sord.") + " C5", nil},
		{"mute on a flute", "Violin", "flute", "treble " + directionOf("con sord. ma forte") + " C5", []string{"1:1"}},
		{"hand in the bell", "Horn in F", "bassoon", "treble " + directionOf("gestopft und stark") + " C4", []string{"1:1"}},
		{"flutter on strings", "Flute", "violin", "treble " + directionOf("mit Flatterzunge") + " C5", []string{"1:1"}},
		{"bowed tremolo", "Violin", "flute", "treble C5«<ornaments><tremolo>3</tremolo></ornaments>» C5«<ornaments><tremolo>3</tremolo></ornaments>»", []string{"1:1"}},
		{"measured repetition", "Violin", "flute", "treble C5«<ornaments><tremolo>1</tremolo></ornaments>»", nil},
		{"tremolo on sticks", "Violin", "marimba", "treble C5«<ornaments><tremolo>3</tremolo></ornaments>»", nil},
		{"divided strings", "Violin", "flute", "treble " + directionOf("div. e molto espr.") + " C5", []string{"1:1"}},
		{"divided strings to strings", "Violin", "viola", "treble " + directionOf("div. e molto espr.") + " C5", nil},
		{"divided winds", "Flute", "oboe", "treble " + directionOf("div. e molto espr.") + " C5", nil},
		{"words of division elsewhere", "Violin", "flute", "treble " + directionOf("divertissement, unison") + " C5", []string{"1:1"}},
		{"words that only begin like it", "Violin", "flute", "treble " + directionOf("divertissement") + " C5", nil},
		{"a capo in a sentence", "Guitar", "flute", "treble " + directionOf("capo 2 until bar 9") + " C5", []string{"1:1"}},
		{"da capo is none", "Guitar", "flute", "treble " + directionOf("D.C. al Fine") + " C5", nil},
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
		{"Violin", "flute", "div."}, {"Viola", "clarinet-bflat", "unis."}, {"Cello", "bassoon", "div. a 3"}, {"Violin", "flute", "non div."},
		{"Violin", "oboe", "getheilt"}, {"Viola", "flute", "sempre divisés"}, {"Cello", "flute", "div *."},
		{"Violin", "flute", "arco, senza sordini"}, {"Viola", "flute", "ôtez les sourdines"}, {"Violin", "oboe", "am Steg"}, {"Harp", "flute", "laissez vibrer"},
		{"Trumpet in C", "flute", "straight mute"}, {"Flute", "harp", "Flutter-tongue"},
		{"Guitar", "flute", "Capo 2"}, {"Guitar", "flute", "Capo III"}, {"Guitar", "cello", "capo 2nd fret"}, {"Electric Guitar", "flute", "P.M."},
	} {
		made := handedTo(t, scoreOf(t, row.from, music(t, "treble "+directionOf(row.words)+" C5")), row.to, "")
		assert.Nil(t, made.part.FindElement(".//words"), "%s on the %s", row.words, row.to)
		assert.Equal(t, []string{"1:1"}, warned(made, "foreign-technique"), row.words)
		assert.Empty(t, warned(made, "unplayable"), row.words)
	}
}

// Tablature of a guitar goes to who has not its strings as notes on five lines, also where the
// score says no tuning, and where the player reads several staves.
func TestTablatureGivenToAnotherInstrument(t *testing.T) {
	t.Parallel()
	tab := `<attributes><clef><sign>TAB</sign><line>5</line></clef><staff-details><staff-lines>6</staff-lines><staff-tuning line="1"><tuning-step>E</tuning-step><tuning-octave>2</tuning-octave></staff-tuning></staff-details></attributes>`
	made := handedTo(t, scoreOf(t, "Guitar", music(t, tab+" E5«<technical><string>1</string><fret>12</fret></technical>»")), "flute", "")
	assert.Equal(t, "treble E5", shorthand.ReadStaff(made.part), "string 1 is E4 as it sounds (mem-adler), and fret 12 an octave above")
	for _, tag := range []string{"staff-details", "string", "fret"} {
		assert.Nil(t, made.part.FindElement(".//"+tag), tag)
	}
	untuned := `<attributes><clef><sign>TAB</sign><line>5</line></clef><staff-details><staff-lines>6</staff-lines></staff-details></attributes>`
	for _, row := range []struct{ tab, to, want string }{
		{untuned, "flute", "treble E5"}, {untuned, "ukulele", "treble E5"}, {tab, "ukulele", "treble E5"}, {tab, "piano", "treble E5"}, {untuned, "harp", "treble E5"},
	} {
		made := handedTo(t, scoreOf(t, "Guitar", music(t, row.tab+" E5«<technical><string>1</string><fret>12</fret></technical>»")), row.to, "")
		assert.Equal(t, row.want, shorthand.ReadStaff(made.part), row.to)
		for _, tag := range []string{"staff-details", "string", "fret"} {
			assert.Nil(t, made.part.FindElement(".//"+tag), "%s: %s", row.to, tag)
		}
	}
}

// TestTechniqueAmongDynamics: words that stand among dynamics are words all the same.
func TestTechniqueAmongDynamics(t *testing.T) {
	t.Parallel()
	direction := func(inner string) string {
		return "treble <direction><direction-type><dynamics>" + inner + "</dynamics></direction-type></direction> C5"
	}
	made := handedTo(t, scoreOf(t, "Viola", music(t, direction("<other-dynamics>sempre div. e </other-dynamics><p/>"))), "clarinet-bflat", "")
	assert.Nil(t, made.part.FindElement(".//other-dynamics"))
	assert.NotNil(t, made.part.FindElement(".//dynamics/p"))
	assert.Equal(t, []string{"1:1"}, warned(made, "foreign-technique"))
	made = handedTo(t, scoreOf(t, "Viola", music(t, direction("<other-dynamics>div.</other-dynamics>"))), "clarinet-bflat", "")
	assert.Nil(t, made.part.FindElement(".//dynamics"), "an empty one")
	made = handedTo(t, scoreOf(t, "Viola", music(t, direction("<other-dynamics>sempre</other-dynamics><p/>"))), "clarinet-bflat", "")
	assert.NotNil(t, made.part.FindElement(".//other-dynamics"))
}

// TestSyllablesOfAnotherLine: words to sing stay under a line that is played now, and
// are told of once; names of notes or chords under a part that is moved are told of.
func TestSyllablesOfAnotherLine(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, from, to, music string
		syllables, pitches    []string
	}{
		{"a song for an oboe", "Voice", "oboe", "treble C5:q'la' D5:q'la' C5:h'la'", []string{"1:1"}, nil},
		{"a song for another singer", "Soprano", "tenor-voice", "treble C5:q'la' D5:q'la' C5:h'la'", nil, nil},
		{"names of notes, moved", "Voice", "clarinet-bflat", "treble C5:q'C' D5:q'D' E5:h'E'", []string{"1:1"}, []string{"1:1"}},
		{"chords under the clarinet's own notes", "Clarinet in Bb", "", "treble C5:q'C' D5:q'G7/B' E5:h'Am'", nil, []string{"1:1"}},
		{"syllables of notes", "Alto Saxophone", "", "treble C5:q'do' D5:q're' E5:h'mi'", nil, []string{"1:1"}},
		{"names of notes, not moved", "Oboe", "", "treble C5:q'C' D5:q'D' E5:h'E'", nil, nil},
		{"words of a text", "Clarinet in Bb", "", "treble C5:q'A' D5:q'rose' E5:h'is'", nil, nil},
		{"sung on one syllable", "Clarinet in Bb", "", "treble C5:q'la' D5:q'la' E5:h'la'", nil, nil},
		{"two syllables", "Clarinet in Bb", "", "treble C5:h'la' E5:h'la'", nil, nil},
	} {
		made := handedTo(t, scoreOf(t, row.from, music(t, row.music)), row.to, "")
		assert.Equal(t, row.syllables, warned(made, "syllables-left"), row.name)
		assert.Equal(t, row.pitches, warned(made, "text-names-pitch"), row.name)
		assert.Equal(t, strings.Count(row.music, "'")/2, len(made.part.FindElements(".//lyric")), "%s: they stay", row.name)
	}
}
