package fit_test

import (
	"cmp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
)

// Worked by hand: the intervals from trade/transpositions.csv, the ranges from the
// rows of trade/ranges.csv that are named.
func TestReassign(t *testing.T) {
	t.Parallel()
	type changes = []fit.OctaveChange
	for _, test := range []struct {
		name, why string
		part      scoredPart
		to        string
		octave    string // default: 0
		level     instruments.Level
		notes     string // as the new player reads them
		key       int
		clef      string // default: treble; "any" is not looked at
		start     int    // octave at the start
		changes   changes
		outside   []string
	}{
		{name: "bassoon to euphonium in treble clef", why: "Euphonium in Bb (treble clef) sounds a major ninth lower: C3 is read D4, C major D major",
			part: scoredPart{"Bassoon", "", 0, "C3 E3 G3"}, to: "Euphonium t.c.", notes: "D4 F#4 A4", key: 2},
		{name: "flute to clarinet in B flat", why: "a major second higher, two sharps more",
			part: scoredPart{"Flute", "", 0, "C5 E5 G5"}, to: "clarinet-bflat", notes: "D5 F#5 A5", key: 2},
		{name: "three flats to one", why: "E flat major is F major to a clarinet in B flat",
			part: scoredPart{"Flute", "", -3, "Eb5 G5 Bb5"}, to: "clarinet-bflat", notes: "F5 A5 C6", key: -1},
		{name: "horn in F to alto saxophone", why: "written C4 sounds F3 (a fifth lower), which the alto in Eb, a major sixth lower, reads as D4; F major is D major",
			part: scoredPart{"Horn in F", "-4 -7 0", 0, "C4 E4 G4"}, to: "alto sax", notes: "D4 F#4 A4", key: 2},
		{name: "tuba to double bass", why: "D1 (Tuba, rk-tables: D1 to F4) is read an octave higher (Double bass with low C extension: from C1)",
			part: scoredPart{"Tuba", "", 0, "D1 F1 A1"}, to: "double bass", notes: "D2 F2 A2", clef: "bass"},
		{name: "oboe to trumpet in B flat", why: "a major second higher",
			part: scoredPart{"Oboe", "", 2, "D5 F#5 A5"}, to: "trumpet in Bb", notes: "E5 G#5 B5", key: 4},
		{name: "cello to bassoon", why: "both at sounding pitch; C2 is the cello's lowest note, the bassoon has Bb1 (gehrkens-mnt)",
			part: scoredPart{"Violoncello", "", 0, "C2 G2 C3"}, to: "bassoon", octave: "auto", notes: "C2 G2 C3", clef: "bass"},
		{name: "double bass to tuba", why: "written E2 sounds E1 (Double bass, gehrkens-mnt: E2 to A4 written, E1 to A3 sounding), where the tuba reads it",
			part: scoredPart{"Double Bass", "0 0 -1", 0, "E2 G2 C3"}, to: "tuba", notes: "E1 G1 C2", clef: "bass"},
		{name: "trombone to horn in F", why: "Bb2 sounds a fifth lower than written F3; B flat major is F major",
			part: scoredPart{"Trombone", "", -2, "Bb2 D3 F3"}, to: "horn in F", notes: "F3 A3 C4", key: -1, clef: "any"},
		{name: "alto to tenor saxophone", why: "written A4 sounds C4, which the tenor, a major ninth lower, reads as D5; E flat major is F major",
			part: scoredPart{"Alto Saxophone", "-5 -9 0", 0, "A4 B4 C5"}, to: "tenor sax", notes: "D5 E5 F5", key: -1},
		{name: "bass clarinet to bassoon", why: "Bass clarinet in Bb (treble clef) sounds a major ninth lower: written C4 is Bb2",
			part: scoredPart{"Bass Clarinet in Bb", "-1 -2 -1", 2, "C4 D4 E4"}, to: "bassoon", notes: "Bb2 C3 D3", clef: "bass"},
		{name: "piccolo to flute", why: "the piccolo sounds an octave higher than it reads",
			part: scoredPart{"Piccolo", "0 0 1", 0, "C5 E5 G5"}, to: "flute", notes: "C6 E6 G6"},
		{name: "flute to piccolo", why: "and the other way round",
			part: scoredPart{"Flute", "", 0, "C6 E6 G6"}, to: "piccolo", notes: "C5 E5 G5"},
		{name: "cornet to soprano cornet", why: "written G4 sounds F4, which the soprano cornet in Eb, a minor third higher, reads as D4; F major is D major",
			part: scoredPart{"Cornet in Bb", "-1 -2 0", 1, "G4 A4 B4"}, to: "soprano cornet", notes: "D4 E4 F#4", key: 2},
		{name: "english horn to oboe", why: "written C5 sounds F4",
			part: scoredPart{"English Horn", "-4 -7 0", 0, "C5 D5 E5"}, to: "oboe", notes: "F4 G4 A4", key: -1},
		{name: "clarinet in A to clarinet in B flat", why: "C on the A clarinet is A, which the other reads as B; C major becomes B major",
			part: scoredPart{"Clarinet in A", "-2 -3 0", 0, "C5 D5 E5"}, to: "clarinet in Bb", notes: "B4 C#5 D#5", key: 5},
		{name: "seven sharps are five flats", why: "E major would be C sharp major to the alto saxophone, past six sharps: D flat major; Ab6 lies above F6 (Alto saxophone in Eb, mem-adler) and F#6",
			part: scoredPart{"Violin", "", 4, "E5 G#5 B5"}, to: "alto sax", notes: "Db6 F6 Ab6", key: -5, outside: []string{"Ab6"}},
		{name: "euphonium in bass clef to treble clef", why: "the same instrument in its other notation",
			part: scoredPart{"Euphonium", "", -2, "Bb2 C3 D3"}, to: "euphonium t.c.", notes: "C4 D4 E4"},
		{name: "bassoon to baritone saxophone", why: "an octave and a major sixth higher on paper: C3 is A4",
			part: scoredPart{"Bassoon", "", 0, "C3 E3 G3"}, to: "baritone sax", notes: "A4 C#5 E5", key: 3},
		{name: "viola too low for the clarinet", why: "C3 is the viola's lowest note; the clarinet in Bb has written E3, sounding D3 (rk-tables)",
			part: scoredPart{"Viola", "", 0, "C3 D3 E3 F3"}, to: "clarinet in Bb", notes: "D3 E3 F#3 G3", key: 2, outside: []string{"D3"}},
		{name: "viola an octave higher", why: "the nearest octave in which the clarinet has every note",
			part: scoredPart{"Viola", "", 0, "C3 D3 E3 F3"}, to: "clarinet in Bb", octave: "auto", notes: "D4 E4 F#4 G4", key: 2, start: 1},
		{name: "trumpet too high for the horn", why: "written C6 sounds Bb5; the horn in F ends at written C6, sounding F5 (rk-tables)",
			part: scoredPart{"Trumpet in Bb", "-1 -2 0", 0, "C6 D6"}, to: "horn in F", notes: "F6 G6", key: -1, outside: []string{"F6", "G6"}},
		{name: "trumpet an octave lower", why: "the nearest octave in which the horn has every note",
			part: scoredPart{"Trumpet in Bb", "-1 -2 0", 0, "C6 D6"}, to: "horn in F", octave: "auto", notes: "F5 G5", key: -1, start: -1},
		{name: "violin's lowest notes on the flute", why: "G3 is the violin's lowest note (gehrkens-mnt), B3 the flute's (rk-tables)",
			part: scoredPart{"Violin", "", 0, "G3 A3 B3 C4"}, to: "flute", octave: "auto", notes: "G4 A4 B4 C5", start: 1},
		{name: "flute's highest notes on the oboe", why: "C7 is the flute's (rk-tables), the oboe ends at F6 or A6",
			part: scoredPart{"Flute", "", 0, "B6 C7"}, to: "oboe", octave: "auto", notes: "B5 C6", start: -1},
		{name: "young flautists", why: "Flute (grade 2): C4 to E flat 6 (pearson-grades)",
			part: scoredPart{"Violin", "", 0, "E6 F6 G6 C6"}, to: "flute", octave: "auto", level: "school", notes: "E5 F5 G5 C5", start: -1},
		{name: "cello's lowest notes on the trombone", why: "Trombone (tenor), gehrkens-mnt: from E2; C2 is lower",
			part: scoredPart{"Violoncello", "", 0, "C2 D2"}, to: "trombone", octave: "auto", notes: "C3 D3", clef: "bass", start: 1},
		{name: "another octave after a rest", why: "the high phrase keeps its octave, the low one cannot",
			part: scoredPart{"Violoncello", "", 0, "E4 F4 G4 A4 | R | C2 D2 C2 D2"}, to: "trombone", octave: "auto", notes: "E4 F4 G4 A4 C3 D3 C3 D3", clef: "any",
			changes: changes{{Measure: "3", Beat: "1", Octave: 1}}},
		{name: "another octave after a slur", why: "D5 and E5 would be D6 and E6, past F5 (mem-adler); the slur's end is a place to breathe",
			part: scoredPart{"Violoncello", "", 0, "D5( E5) C2( D2)"}, to: "trombone", octave: "auto", notes: "D5 E5 C3 D3", clef: "any",
			changes: changes{{Measure: "1", Beat: "3", Octave: 1}}},
		{name: "never inside a slur", why: "two notes stay out of range rather than break it",
			part: scoredPart{"Violoncello", "", 0, "D5( E5 C2 D2)"}, to: "trombone", octave: "auto", notes: "D5 E5 C2 D2", clef: "any", outside: []string{"C2", "D2"}},
		{name: "another octave after a breath", why: "a breath mark is a place to breathe",
			part: scoredPart{"Violoncello", "", 0, "D5 E5«<articulations><breath-mark/></articulations>» C2 D2"}, to: "trombone", octave: "auto", notes: "D5 E5 C3 D3", clef: "any",
			changes: changes{{Measure: "1", Beat: "3", Octave: 1}}},
		{name: "never inside a beam", why: "a breath mark within a beam is no place to change",
			part: scoredPart{"Violoncello", "", 0, "D5{ E5«<articulations><breath-mark/></articulations>» C2 D2}"}, to: "trombone", octave: "auto", notes: "D5 E5 C2 D2", clef: "any", outside: []string{"C2", "D2"}},
		{name: "never inside a tie", why: "the tied note keeps its octave over the breath mark",
			part: scoredPart{"Violoncello", "", 0, "D2( D2~) | D2^ D2"}, to: "trombone", octave: "auto", notes: "D3 D3 D3 D3", clef: "bass", start: 1},
		{name: "at a barline, rather than notes that no player has", why: "G6 and A6 are past the trumpet's D6, and G2 would be below its E3 (rk-tables): the octave changes where the bar begins",
			part: scoredPart{"Violin", "", 0, "G3 A3 G3 A3 | G6 A6 G6 F6"}, to: "trumpet in Bb", octave: "auto", notes: "A3 B3 A3 B3 A5 B5 A5 G5", key: 2,
			changes: changes{{Measure: "2", Beat: "1", Octave: -1}}},
		{name: "before a slur, rather than notes that no player has", why: "the same in the middle of a bar",
			part: scoredPart{"Violin", "", 0, "G3 A3 G6( A6)"}, to: "trumpet in Bb", octave: "auto", notes: "A3 B3 A5 B5", key: 2,
			changes: changes{{Measure: "1", Beat: "3", Octave: -1}}},
		{name: "never between two notes of a phrase", why: "neither a barline nor a slur: the first two notes are the fewer ones to lose",
			part: scoredPart{"Violin", "", 0, "G3 G6 A6 G6"}, to: "trumpet in Bb", octave: "auto", notes: "A2 A5 B5 A5", key: 2, start: -1, outside: []string{"A2"}},
		{name: "double bass on the trombone", why: "E2 sounds E1, an octave below the trombone's lowest note (gehrkens-mnt): an octave higher it reads the same notes and sounds as it reads",
			part: scoredPart{"Double Bass", "0 0 -1", 0, "E2 F2 G2 A2"}, to: "trombone", octave: "auto", notes: "E2 F2 G2 A2", clef: "bass", start: 1},
		{name: "piccolo on the flute, an octave lower", why: "the same notes on paper, and no transposition any more",
			part: scoredPart{"Piccolo", "0 0 1", 0, "A6 G6 F6"}, to: "flute", octave: "-1", notes: "A6 G6 F6", start: -1},
		{name: "an octave that was asked for", why: "--octave -1",
			part: scoredPart{"Bassoon", "", 0, "C3 E3 G3"}, to: "tuba", octave: "-1", notes: "C2 E2 G2", clef: "bass", start: -1},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			level := cmp.Or(test.level, instruments.Professional)
			r := open(t, scoreText(t, test.part), level).reassign(t, 0, test.to, cmp.Or(test.octave, "0"), level)
			assert.Equal(t, test.notes, writtenNotes(r.Document), test.why)
			assert.Equal(t, test.key, r.Key, test.why)
			if test.clef != "any" {
				assert.Equal(t, cmp.Or(test.clef, "treble"), r.Clef, test.why)
			}
			assert.Equal(t, test.start, r.Octave, test.why)
			if test.changes == nil {
				test.changes = changes{}
			}
			assert.Equal(t, test.changes, r.Changes, test.why)
			var outside []string
			for _, n := range r.Outside {
				outside = append(outside, n.Pitch)
			}
			assert.Equal(t, test.outside, outside, test.why)
		})
	}
}

// A one-line instrument gets the upper line; what goes is said, and so are the
// marks of another instrument.
func TestReassignReduces(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		why, to, notes string
		part           scoredPart
		said           string
	}{
		{"double stops: the upper note is kept", "flute", "E5 F5 G5 A5 G5", scoredPart{"Violin", "", 0, "E5+G4 F5 G5+B4 A5 | C5+E5+G5 R"},
			"1:1 left out G4, B4, as written in the score: Flute plays the upper line; 2:1 left out C5, E5, as written in the score: Flute plays the upper line"},
		{"strings to strings: double stops stay", "viola", "E5+G4 F5", scoredPart{"Violin", "", 0, "E5+G4 F5"}, ""},
		{"plucked and bowed: words that say only that go", "flute", "E5 F5", scoredPart{"Violin", "", 0, `"pizz." E5 "arco" F5`},
			"1:1 left out what Flute does not have: pizz., arco"},
		{"changes of the old instrument: they mean nothing to the new player", "flute", "Bb4 C5 Bb4 C5", scoredPart{"Clarinet in Bb", "-1 -2 0", 0, `C5 D5 r r | "muta in A" R | R | "in A" C5 D5`},
			`2:1 left out "muta in A", which is for the player of the score's instrument; 4:1 left out "in A", which is for the player of the score's instrument`},
		{"two flutes on a staff: the first player's part", "oboe", "E5 F5", scoredPart{"Flutes 1 & 2", "", 0, "E5+C5 F5+D5"}, ""},
	} {
		t.Run(test.why, func(t *testing.T) {
			t.Parallel()
			r := open(t, scoreText(t, test.part), "professional").reassign(t, 0, test.to, "0", "professional")
			assert.Equal(t, test.notes, writtenNotes(r.Document), test.why)
			var said []string
			for _, u := range r.Unplayable {
				said = append(said, u.Measure+":"+u.Beat+" "+u.Text)
			}
			assert.Equal(t, test.said, strings.Join(said, "; "))
			assert.Empty(t, r.Document.FindElements("//words"), test.why)
		})
	}
}

// The sheet is that of the new instrument: names, sound and program of the
// catalogue (MIDI program 71 is the bassoon, General MIDI).
func TestReassignNamesTheInstrument(t *testing.T) {
	t.Parallel()
	score := strings.Replace(string(scoreText(t, scoredPart{"Euphonium 2", "", 0, "C3"})), "</score-part>",
		`<midi-instrument id="I1"><midi-program>59</midi-program></midi-instrument></score-part>`, 1)
	r := open(t, []byte(score), "professional").reassign(t, 0, "bassoon", "auto", "professional")
	entry := r.Document.FindElement("//score-part")
	assert.Equal(t, "Bassoon 2", musicxml.ChildText(entry, "part-name"))
	assert.Equal(t, "wind.reed.bassoon", musicxml.ChildText(entry.SelectElement("score-instrument"), "instrument-sound"))
	assert.Equal(t, "71", musicxml.ChildText(entry.SelectElement("midi-instrument"), "midi-program"))
	assert.Nil(t, r.Document.FindElement("//transpose"))
	assert.Equal(t, []string{"at the octave of the score", "it sounded C3 alone", "it now sounds C3 alone", "all of it comfortable for Bassoon"}, r.Text)
}

func TestReassignRefuses(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct {
		part     scoredPart
		to, want string
	}{
		{scoredPart{"Flute", "", 0, "C5"}, "snare-drum", "Snare Drum has no pitch, so that no part can be rewritten for it"},
		{scoredPart{"Percussion", "", 0, "u!C5"}, "flute", `part "Percussion" (P1) is percussion without pitch, which Flute cannot read`},
	} {
		o := open(t, scoreText(t, test.part), "professional")
		_, err := fit.Reassign(o.job, 0, c.ByID(test.to), "auto", "", "professional", nil)
		assert.EqualError(t, err, test.want)
	}
}
