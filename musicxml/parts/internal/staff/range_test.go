package staff

import (
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// Syllables that name notes or chords are an analysis; the same one again and again is sung,
// and so are words among which a name stands by chance (at least three, two different, eight
// of ten).
func TestSyllablesNamePitches(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		music string
		want  bool
	}{
		{"C5'C' D5'D' E5'E'", true}, {"C5'C' D5'D'", false}, {"C5'la' D5'la' E5'la'", false}, {"C5'do' D5're' E5'mi' F5'fa'", true}, {"C5'Am' D5'F♯' E5'B♭7' F5'Hm'", true},
		{"C5'C' D5'D' E5'E' F5'C' | G5'day'", true}, {"C5'C' D5'D' E5'E' F5'my'", false}, {"C5'C' D5'D' E5'C'", true}, {"C5'C' C5'C' C5'C'", false}, {"C5'C' D5'D' E5'E' F5'F' C5'C' C5'C' C5'C' C5'C' C5'a' C5'b'", true}, {"C5'C' D5'D' E5'E' F5'F' C5'C' C5'C' C5'C' C5'a' C5'b'", false}, {"C5'a' D5'day' E5'C'", false}, {"C5 D5", false},
	} {
		_, d := pageOf(t, row.music)
		var under syllables
		for i := range d.Timeline.Measures {
			for k := range d.Timeline.Measures[i].Events {
				under.add(&d.Timeline.Measures[i], &d.Timeline.Measures[i].Events[k])
			}
		}
		assert.Equal(t, row.want, under.namePitches(), row.music)
		if row.want {
			first := strings.Split(row.music, "'")[1]
			assert.Equal(t, `"`+first+`" and other syllables under the notes name pitches and were left as they are, while the part was moved`, under.first.Text)
			assert.Equal(t, []string{"1", "1"}, []string{under.first.Measure, under.first.Beat})
		}
	}
}

// Notes against the range of who plays (ranges.csv: a professional's violin from G3, a
// clarinet in B flat reads from E3): once a bar, with the pitch as it is read and the limit as
// it is read; what sounds by another transposition than the instrument's is not known.
func TestRange(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const bflat = "[transpose -1 -2] "
	for _, row := range []struct {
		why, instrument, music string
		want                   []string
	}{
		{"within", "violin", "G3 A3 B3 C4", nil}, {"below", "violin", "C5 F3 E3 G3 | G3 F#3:hd", []string{"1:2 written F3 lies below the range of Violin, which ends at written G3", "2:2 written F#3 lies below the range of Violin, which ends at written G3"}},
		{"the lowest note as it is read", "clarinet-bflat", bflat + "E3:h D3:h", []string{"1:3 written D3 lies below the range of Clarinet in B♭, which ends at written E3"}},
		{"another transposition", "clarinet-bflat", "[transpose -2 -3] E3:h D3:h", nil}, {"none", "clarinet-bflat", "D3:w", nil},
		{"a second one that is the instrument's", "clarinet-bflat", "[transpose -2 -3] D3:w | " + bflat + "D3:w", []string{"2:1 written D3 lies below the range of Clarinet in B♭, which ends at written E3"}},
		{"above, once a bar", "flute", "D7 Eb7 F7 D7 | r:h E7:h", []string{"1:2 written Eb7 lies above the range of Flute, which ends at written D7", "2:3 written E7 lies above the range of Flute, which ends at written D7"}}, {"a cue", "violin", "C5:h <note><cue/><pitch><step>C</step><octave>2</octave></pitch><duration>48</duration><voice>1</voice></note>", nil}, {"a hidden note", "violin", "C5:h C2*:h", nil},
		{"what nobody knows the range of", "percussion", "C0:w", nil},
		{"rests and strokes", "violin", "r:h u!F3:h", nil}, {"a harmonic", "violin", "C3:w«<technical><harmonic/></technical>»", nil},
		{"the highest of a chord", "violin", "G3+F3:w", []string{"1:1 written F3 lies below the range of Violin, which ends at written G3"}},
	} {
		p, d := pageOf(t, row.music)
		in := catalogue.ByID(row.instrument)
		require.NotNil(t, in)
		d.Assignment.Instrument, d.Survey = in, &survey.Part{}
		require.NoError(t, p.CheckRange(d, instruments.Professional))
		var got []string
		for _, w := range d.Report.Warnings {
			got = append(got, w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// What is held against the range, by the staff's own transposition at the place.
func TestHeldAgainst(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	clarinet, bass := catalogue.ByID("clarinet-bflat"), catalogue.ByID("double-bass")
	bflat, octave := transpose.Transposition{Diatonic: -1, Chromatic: -2}, transpose.Transposition{OctaveChange: -1}
	at := func(measure, staff int, to transpose.Transposition) transpose.Stretch {
		return transpose.Stretch{Measure: measure, Staff: staff, To: to}
	}
	note := &Note{Event: musicxml.Event{Staff: 1}, measure: 2, Sound: 60}
	for _, row := range []struct {
		why   string
		c     compassRead
		said  []transpose.Stretch
		sound int
		known bool
	}{
		{"nothing is known", compassRead{instrument: clarinet}, nil, 0, false}, {"nothing is said", compassRead{instrument: clarinet, known: true}, nil, 0, false},
		{"said", compassRead{instrument: clarinet, known: true}, []transpose.Stretch{at(0, 0, bflat)}, 58, true}, {"on the staff", compassRead{instrument: clarinet, known: true}, []transpose.Stretch{at(2, 1, bflat)}, 58, true},
		{"on another", compassRead{instrument: clarinet, known: true}, []transpose.Stretch{at(0, 2, bflat)}, 0, false}, {"later", compassRead{instrument: clarinet, known: true}, []transpose.Stretch{at(3, 0, bflat)}, 0, false},
		{"an octave", compassRead{instrument: bass, known: true}, []transpose.Stretch{at(0, 0, octave)}, 48, true}, {"two octaves", compassRead{instrument: bass, known: true}, []transpose.Stretch{at(0, 0, transpose.Transposition{OctaveChange: -2})}, 36, true}, {"an octave that is not said", compassRead{instrument: bass, known: true}, nil, 60, true},
		{"no octave at all", compassRead{instrument: bass, known: true}, []transpose.Stretch{at(0, 0, bflat)}, 0, false},
		{"as it is read", compassRead{instrument: bass, known: true, written: true}, nil, 60, true}, {"and said", compassRead{instrument: bass, known: true, written: true}, []transpose.Stretch{at(0, 0, octave)}, 60, false},
	} {
		sound, known := row.c.heldAgainst(note, row.said)
		assert.Equal(t, []any{row.sound, row.known}, []any{sound, known}, row.why)
	}
	for _, row := range []struct {
		why                   string
		instrument            *instruments.Instrument
		inWritten, inSounding int
		transposed            transpose.Transposition
		other                 bool
		known, read           bool
	}{
		{"nobody knows", nil, 0, 0, transpose.Transposition{}, false, false, false}, {"without pitch", catalogue.ByID("snare-drum"), 0, 0, transpose.Transposition{}, false, false, false},
		{"a clarinet", clarinet, 0, 0, transpose.Transposition{}, false, true, false}, {"a bass as its player reads it", bass, 5, 5, transpose.Transposition{}, false, true, true},
		{"one that lies as it sounds", bass, 4, 5, transpose.Transposition{}, false, true, false}, {"one that says its octave", bass, 5, 5, octave, false, true, false},
		{"one that is taken up later", bass, 4, 5, transpose.Transposition{}, true, true, true},
	} {
		d := &draft.Draft{Survey: &survey.Part{InWritten: row.inWritten, InSounding: row.inSounding}}
		if d.Assignment.Instrument = row.instrument; row.other {
			d.Assignment.Instrument = clarinet
		}
		d.Report.Transpose = row.transposed
		c := (&rangeCheck{d, instruments.Professional}).compassOf(row.instrument)
		assert.Equal(t, []bool{row.known, row.read}, []bool{c.known, c.written}, row.why)
	}
}

// The notes of a staff in the order of time, whatever the order of the voices.
func TestInTime(t *testing.T) {
	t.Parallel()
	for music, want := range map[string]string{
		"C5:h D5:h / E4:q F4:q G4:h": "C5 E4 F4 D5 G4", "C5:h D5:h | E5:h F5:h": "C5 D5 E5 F5", "C5:h D5:h / E4:w | G5:h A5:h / F4:w": "C5 E4 D5 G5 F4 A5", "C5:h r:h / r:h E4:h": "C5 E4",
		"C5:h <note><rest><display-step>B</display-step><display-octave>4</display-octave></rest><duration>48</duration><voice>1</voice></note>": "C5",
		"C5+E5:h D5:h / G4:w | F5:w": "C5 E5 G4 D5 F5", "r:w | C5:h D5:h / E4:h F4:h | G5:w": "C5 E4 D5 F4 G5",
	} {
		p, _ := pageOf(t, music)
		var got []string
		for _, k := range p.InTime(1) {
			got = append(got, musicxml.ChildText(p.Notes[k].Pitch, "step")+musicxml.ChildText(p.Notes[k].Pitch, "octave"))
		}
		assert.Equal(t, want, strings.Join(got, " "), music)
	}
}

// What stands over the notes and names a pitch: words, a rehearsal mark of several words, a
// footnote, a notation without a name.
func TestPitchText(t *testing.T) {
	t.Parallel()
	words := func(tag, text string) string {
		return `<direction><direction-type><` + tag + `>` + text + `</` + tag + `></direction-type></direction>`
	}
	for music, want := range map[string]string{
		words("words", "in C") + " C5:w": "in C", words("words", "sul G") + " C5:w": "", words("words", "D major") + " C5:w": "D major", words("words", "dolce") + " C5:w": "",
		words("rehearsal", "B2") + " C5:w": "", words("rehearsal", "Trio in F major") + " C5:w": "Trio in F major", words("other-direction", "F sharp") + " C5:w": "F sharp",
		words("words", "dolce</words><words>concert C") + " C5:w": "concert C",
	} {
		_, d := pageOf(t, music)
		assert.Equal(t, want, pitchText(d.Timeline.Measures[0].Events[1].Element), music)
	}
}

// The usual clef at the start is that of the last instrument that begins there.
func TestFirstClefOfAStaff(t *testing.T) {
	t.Parallel()
	bass := instruments.Clef{Sign: "F", Line: 4}
	begin := clefRange{clefs: []instruments.Clef{TrebleClef, bass}}
	assert.Equal(t, TrebleClef, firstClef([]clefRange{begin}))
	assert.Equal(t, bass, firstClef([]clefRange{begin, {clefs: []instruments.Clef{bass}}}))
	assert.Equal(t, TrebleClef, firstClef([]clefRange{begin, {Position: musicxml.Position{Measure: 1}, clefs: []instruments.Clef{bass}}}))
	of := func(clefs ...instruments.Clef) *staff {
		st := &staff{}
		for i, c := range clefs {
			st.clefs = append(st.clefs, clefChange{Position: musicxml.Position{Measure: i}, clef: c})
		}
		return st
	}
	change := func(measure int, clefs ...instruments.Clef) []clefRange {
		return []clefRange{begin, {Position: musicxml.Position{Measure: measure}, clefs: clefs}}
	}
	for _, row := range []struct {
		why   string
		st    *staff
		reads []clefRange
		want  bool
	}{
		{"it reads the clef", of(TrebleClef), change(1, TrebleClef), false}, {"it does not", of(bass), change(1, TrebleClef), true}, {"the score changes with it", of(bass, TrebleClef), change(1, TrebleClef), false},
		{"too late", of(bass, bass, TrebleClef), change(1, TrebleClef), true}, {"no clef is the treble clef", of(), change(1, TrebleClef), false}, {"which a bass does not read", of(), change(1, bass), true},
		{"tablature names no letters", of(instruments.Clef{Sign: "TAB", Line: 5}), change(1, TrebleClef), false}, {"nobody changes", of(bass), []clefRange{begin}, false},
	} {
		assert.Equal(t, row.want, row.st.foreignAtChange(row.reads), row.why)
	}
	assert.Equal(t, "bass", clefName(bass))
}

// How many lines a staff has; five where the score says nothing that can be (MusicXML 4.0,
// staff-lines).
func TestStaffLines(t *testing.T) {
	t.Parallel()
	for details, want := range map[string][]int{
		"": {5}, "<staff-details><staff-lines>1</staff-lines></staff-details>": {1}, "<staff-details><staff-lines>0</staff-lines></staff-details>": {0}, "<staff-details><staff-lines>x</staff-lines></staff-details>": {5},
		"<staff-details><staff-lines>-1</staff-lines></staff-details>": {5}, "<staff-details><staff-lines>100</staff-lines></staff-details>": {5}, `<staff-details number="2"><staff-lines>6</staff-lines></staff-details>`: {5, 6},
	} {
		p, _ := pageOf(t, "<attributes>"+details+"</attributes> C5:w")
		var got []int
		for i := range p.Staves {
			got = append(got, p.Staves[i].lines)
		}
		assert.Equal(t, want, got, details)
	}
}

// Off a shared staff marks no longer stand below; an accidental there belongs to the lower
// auxiliary note (MusicXML 4.0, accidental-mark).
func TestRaise(t *testing.T) {
	t.Parallel()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(`<ornaments><trill-mark placement="below"/><turn placement="above"/><accidental-mark placement="below">sharp</accidental-mark><mordent/></ornaments>`))
	raise(doc.Root())
	text, err := doc.WriteToString()
	require.NoError(t, err)
	assert.Equal(t, `<ornaments><trill-mark/><turn placement="above"/><accidental-mark placement="below">sharp</accidental-mark><mordent/></ornaments>`, text)
}
