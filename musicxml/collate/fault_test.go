package collate_test

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/collate"
	"deskpart/musicxml/parts"
)

func itoa(n int) string { return strconv.Itoa(n) }

// The parts of testdata/tide-tables.musicxml, by their places.
const (
	flute = iota
	clarinet
	horn
	violin
	soprano
	drums
)

// faults are faults such as copyists and printers make, each planted in one part
// of testdata/tide-tables.musicxml. want is what must be found, and nothing else:
// bar, beat (- where the bar as a whole is meant) and kind; says are words that
// must be in the text. Both are read off the score by hand.
//
// The clarinet in A reads a minor third higher: in bar 1 F4 G4 A4 C5, in bar 10
// (four flats) Ab4 Bb4 C5 Db5.
var faults = []struct {
	name, why string
	part      int
	plant     func(p planted)
	want      []string
	says      []string
}{
	{"wrong note", "one note on another line", clarinet,
		func(p planted) { p.pitch(1, 3, "B", "-1", "4") }, []string{"1 3 pitch"}, []string{"Bb4 stands", "A4 should"}},
	{"wrong octave", "the right letter in another octave", clarinet,
		func(p planted) { p.pitch(2, 2, "C", "", "4") }, []string{"2 3 pitch"}, []string{"C4 stands", "C5 should"}},
	{"accidental lost in pitch", "B natural sounds B flat", clarinet,
		func(p planted) {
			p.pitch(6, 4, "B", "-1", "4")
			p.lose(p.note(6, 4).SelectElement("accidental"))
		}, []string{"6 3 pitch"}, []string{"Bb4 stands", "B4 should"}},
	{"accidental not printed", "the pitch is right in the file and read wrong off the page", clarinet,
		func(p planted) { p.lose(p.note(6, 4).SelectElement("accidental")) }, []string{"6 3 pitch"}, []string{"Bb4", "signature", "B4 should"}},
	{"accidental too many", "a sign that the score has not makes D flat of D", clarinet,
		func(p planted) {
			p.pitch(2, 1, "D", "-1", "5")
			p.insert(p.note(2, 1).SelectElement("notations"), "<accidental>flat</accidental>")
		}, []string{"2 1 pitch"}, nil},
	{"a bar an octave low", "four notes with one cause", clarinet,
		func(p planted) {
			for n, step := range []string{"G", "B", "D", "F"} {
				p.pitch(7, n+1, step, map[string]string{"B": "-1"}[step], []string{"3", "3", "4", "4"}[n])
			}
		}, []string{"7 1 pitch"}, []string{"4 notes", "an octave too low"}},
	{"missing bar", "the copyist's eye leapt", clarinet,
		func(p planted) { p.lose(p.bar(3)) }, []string{"3 - bars"}, []string{"bar 3 is missing"}},
	{"missing bar, counted on", "the same, the bars numbered without it", clarinet,
		func(p planted) { p.lose(p.bar(3)); p.renumber() }, []string{"3 - bars"}, []string{"missing"}},
	{"two missing bars", "neighbours are one difference", clarinet,
		func(p planted) { p.lose(p.bar(7)); p.lose(p.bar(6)) }, []string{"6 - bars"}, []string{"bars 6 to 7 are missing"}},
	{"missing bar of rest", "a player counts one bar too few", horn,
		func(p planted) { p.lose(p.bar(3)); p.renumber() }, []string{"4 - bars"}, []string{"missing"}},
	{"doubled bar", "a bar copied twice", clarinet,
		func(p planted) { p.doubleBar(6) }, []string{"6 - bars"}, []string{"twice"}},
	{"doubled bar, counted on", "the same, and numbered", violin,
		func(p planted) { p.doubleBar(7); p.renumber() }, []string{"8 - bars"}, []string{"twice"}},
	{"bar too many", "a bar that is nowhere in the score", violin,
		func(p planted) {
			p.doubleBar(4)
			m := p.bar(5)
			m.CreateAttr("number", "4a")
			m.FindElement("note/pitch/step").SetText("C")
			m.FindElement("note/duration").SetText("16")
		}, []string{"4a - bars"}, []string{"not in the score"}},
	{"wrong key", "the signature of the score in place of the player's", clarinet,
		func(p planted) { p.set(p.bar(1), "attributes/key/fifths", "2") }, []string{"1 1 key"}, []string{"2 sharps stands", "1 flat should"}},
	{"tones that are not the key's", "E flat for B flat", clarinet,
		func(p planted) {
			k := p.find(1, "attributes/key")
			p.lose(k.SelectElement("fifths"))
			k.CreateElement("key-step").SetText("E")
			k.CreateElement("key-alter").SetText("-1")
		}, []string{"1 1 key"}, []string{"of its own (E -1) stands", "1 flat should"}},
	{"change of key lost", "the old signature goes on", violin,
		func(p planted) { p.lose(p.find(10, "attributes/key")) }, []string{"10 1 key"}, []string{"2 sharps stands", "1 flat should"}},
	{"key signature lost", "nothing at the start of the line", violin,
		func(p planted) {
			p.lose(p.find(1, "attributes/key"))
		}, []string{"1 1 key"}, []string{"no key signature stands", "2 sharps should"}},
	{"change of key too early", "a bar before its time", violin,
		func(p planted) {
			k := p.find(10, "attributes/key")
			p.lose(k)
			p.insert(p.note(9, 1), "<attributes><key><fifths>-1</fifths></key></attributes>")
		}, []string{"9 1 key"}, []string{"1 flat stands", "2 sharps should"}},
	{"wrong metre", "3/4 printed as 6/8", clarinet,
		func(p planted) {
			p.set(p.bar(12), "attributes/time/beats", "6")
			p.set(p.bar(12), "attributes/time/beat-type", "8")
		}, []string{"12 1 metre"}, []string{"6/8 stands, 3/4 should"}},
	{"change of metre lost", "4/4 goes on over bars of three", soprano,
		func(p planted) { p.lose(p.find(12, "attributes/time")) }, []string{"12 1 metre"}, []string{"4/4 stands, 3/4 should"}},
	{"missing tie", "both ends of the tie", clarinet,
		func(p planted) {
			p.lose(p.note(4, 1).SelectElement("tie"))
			p.lose(p.note(4, 1).SelectElement("notations"))
			p.lose(p.note(5, 1).SelectElement("tie"))
			p.lose(p.note(5, 1).SelectElement("notations"))
		}, []string{"4 1 rhythm"}, []string{"tie from F4", "missing"}},
	{"tie begun and not ended", "one end of the tie", clarinet,
		func(p planted) {
			p.lose(p.note(12, 1).SelectElement("tie"))
			p.lose(p.note(12, 1).SelectElement("notations"))
		}, []string{"12 1 rhythm"}, []string{"tie to Db5"}},
	{"tie too many", "two equal notes tied", clarinet,
		func(p planted) {
			p.insert(p.note(9, 1).SelectElement("voice"), `<tie type="start"/>`)
			p.insert(p.note(9, 2).SelectElement("voice"), `<tie type="stop"/>`)
		}, []string{"9 1 rhythm"}, []string{"tie from F5", "should not"}},
	{"note too short", "an eighth for a quarter; those behind it come early", clarinet,
		func(p planted) { p.set(p.note(1, 2), "duration", "2"); p.set(p.note(1, 2), "type", "eighth") }, []string{"1 2 rhythm"}, []string{"G4 lasting 1/2"}},
	{"rhythm changed within the bar", "dotted quarter and eighth for two quarters", violin,
		func(p planted) { p.set(p.note(2, 1), "duration", "6"); p.set(p.note(2, 2), "duration", "2") },
		[]string{"2 1 rhythm", "2 2 rhythm"}, nil},
	{"note lost", "the bar is too short and the rest of it early", clarinet,
		func(p planted) { p.lose(p.note(6, 2)) }, []string{"6 1.5 missing"}, []string{"D5 is missing"}},
	{"rest for a note", "silence where something sounds", clarinet,
		func(p planted) {
			n := p.note(7, 3)
			p.lose(n.SelectElement("pitch"))
			p.insert(n.SelectElement("duration"), "<rest/>")
		}, []string{"7 3 missing"}, []string{"D5 is missing"}},
	{"note too many", "a note in the rest", clarinet,
		func(p planted) {
			n := p.note(8, 2)
			p.lose(n.SelectElement("rest"))
			p.insert(n.SelectElement("duration"), "<pitch><step>A</step><octave>4</octave></pitch>")
		}, []string{"8 4 extra"}, []string{"A4 stands"}},
	{"chord note lost", "the upper note of a double stop", violin,
		func(p planted) { p.lose(p.note(1, 4)) }, []string{"1 3 missing"}, []string{"F#4 is missing"}},
	{"chord note wrong", "one note of a double stop", violin,
		func(p planted) { p.pitch(1, 2, "B", "", "4") }, []string{"1 1 pitch"}, []string{"B4 stands", "A4 should"}},
	{"a bar emptied", "rests in place of a bar of notes", violin,
		func(p planted) {
			for range 7 {
				p.lose(p.note(5, 2))
			}
			n := p.note(5, 1)
			p.lose(n.SelectElement("pitch"))
			p.insert(n.SelectElement("duration"), "<rest/>")
			p.set(n, "duration", "16")
		}, []string{"5 1 missing"}, []string{"8 notes", "D4 first"}},
	{"other music in a bar", "a bar of another part", violin,
		func(p planted) {
			for n, step := range []string{"C", "G", "B", "E", "F", "C", "B", "E"} {
				p.pitch(5, n+1, step, "", "5")
			}
		}, []string{"5 1 pitch"}, []string{"8 of 8 notes"}},
	{"rest lost", "a bar that does not fill its metre", clarinet,
		func(p planted) { p.lose(p.note(8, 2)) }, []string{"8 1 rhythm"}, []string{"3 quarter notes"}},
	{"rehearsal mark shifted", "letter A a bar late", clarinet,
		func(p planted) { p.moveTo(p.direction(5, "rehearsal"), 6) }, []string{"5 1 rehearsal"}, []string{"A", "bar 6"}},
	{"rehearsal mark lost", "no letter B", horn,
		func(p planted) { p.lose(p.direction(10, "rehearsal")) }, []string{"10 1 rehearsal"}, []string{"B is missing"}},
	{"rehearsal mark misread", "C for B", soprano,
		func(p planted) { p.set(p.direction(10, "rehearsal"), "direction-type/rehearsal", "C") }, []string{"10 1 rehearsal"}, []string{"C stands", "B should"}},
	{"tempo lost", "words and metronome mark", violin,
		func(p planted) { p.lose(p.direction(1, "metronome")) }, []string{"1 1 tempo", "1 1 tempo"}, []string{"Andante", "quarter = 72"}},
	{"metronome mark misread", "76 for 72", clarinet,
		func(p planted) { p.set(p.bar(1), "direction/direction-type/metronome/per-minute", "76") }, []string{"1 1 tempo"}, []string{"76 stands", "72 should"}},
	{"rit. lost", "a change of tempo that only the flute has in the score", horn,
		func(p planted) { p.lose(p.direction(14, "words")) }, []string{"14 1 tempo"}, []string{"rit.", "missing"}},
	{"rit. a bar late", "a change of tempo elsewhere", clarinet,
		func(p planted) { p.moveTo(p.direction(14, "words"), 15) }, []string{"14 1 tempo"}, []string{"bar 15"}},
	{"repeat lost", "no sign at the end of the first ending", clarinet,
		func(p planted) { p.lose(p.find(8, "barline/repeat")) }, []string{"8 - repeats"}, []string{"repeat sign (end) is missing"}},
	{"repeat's start lost", "no sign where the repeat begins", soprano,
		func(p planted) { p.lose(p.find(5, "barline/repeat")) }, []string{"5 1 repeats"}, []string{"repeat sign (start) is missing"}},
	{"ending changed", "a first ending numbered 2", clarinet,
		func(p planted) {
			for _, e := range p.bar(8).FindElements("barline/ending") {
				e.CreateAttr("number", "2")
			}
		}, []string{"8 1 repeats"}, []string{"ending 2 stands, ending 1 should"}},
	{"ending lost", "both ends of the second ending", violin,
		func(p planted) { p.loseAll(9, "barline/ending") }, []string{"9 1 repeats"}, []string{"ending 2 is missing"}},
	{"double bar lost", "the bar line before letter B", violin,
		func(p planted) { p.lose(p.find(9, "barline/bar-style")) }, []string{"9 - repeats"}, []string{"double bar line is missing"}},
	{"segno too many", "a road sign that the score has not", violin,
		func(p planted) {
			p.insert(p.note(6, 1), "<direction><direction-type><segno/></direction-type></direction>")
		}, []string{"6 1 repeats"}, []string{"segno stands"}},
	{"dynamics misread", "p for f", clarinet,
		func(p planted) {
			e := p.find(8, "direction/direction-type/dynamics")
			p.lose(e.SelectElement("f"))
			e.CreateElement("p")
		}, []string{"8 1 dynamics"}, []string{"p stands, f should"}},
	{"dynamics lost", "no p at the start", flute,
		func(p planted) { p.lose(p.direction(1, "dynamics")) }, []string{"1 1 dynamics"}, []string{"p is missing"}},
	{"dynamics late", "f a beat late", clarinet,
		func(p planted) {
			d := p.direction(8, "dynamics")
			p.lose(d)
			m := p.bar(8)
			m.InsertChildAt(p.note(8, 2).Index(), d)
		}, []string{"8 1 dynamics"}, []string{"beat 4", "beat 1"}},
	{"hairpin lost", "both its ends", clarinet,
		func(p planted) { p.lose(p.direction(7, "wedge")); p.lose(p.direction(7, "wedge")) }, []string{"7 1 dynamics"}, []string{"crescendo hairpin is missing"}},
	{"hairpin turned", "diminuendo for crescendo", clarinet,
		func(p planted) { p.find(7, "direction/direction-type/wedge").CreateAttr("type", "diminuendo") }, []string{"7 1 dynamics"}, []string{"diminuendo hairpin stands"}},
	{"articulation lost", "no staccato", clarinet,
		func(p planted) { p.lose(p.note(3, 1).SelectElement("notations")) }, []string{"3 1 articulation"}, []string{"staccato is missing"}},
	{"articulation changed", "a tenuto for an accent", clarinet,
		func(p planted) {
			e := p.note(2, 1).FindElement("notations/articulations")
			p.lose(e.SelectElement("accent"))
			e.CreateElement("tenuto")
		}, []string{"2 1 articulation"}, []string{"tenuto stands", "accent should"}},
	{"ornament lost", "no trill", clarinet,
		func(p planted) { p.lose(p.note(14, 1).SelectElement("notations")) }, []string{"14 1 articulation"}, []string{"the trill with a sign for a major second above is missing"}},
	{"bow mark lost", "no up bow", violin,
		func(p planted) { p.lose(p.note(2, 1).SelectElement("notations")) }, []string{"2 1 articulation"}, []string{"up bow is missing"}},
	{"slur lost", "both its ends", clarinet,
		func(p planted) {
			p.lose(p.note(1, 1).SelectElement("notations"))
			p.lose(p.note(1, 4).SelectElement("notations"))
		}, []string{"1 1 slur"}, []string{"the slur is missing"}},
	{"slur too short", "it ends a note early", clarinet,
		func(p planted) {
			n := p.note(1, 4).SelectElement("notations")
			p.lose(n)
			p.note(1, 3).AddChild(n)
		}, []string{"1 4 slur"}, []string{"end of the slur on beat 3", "on beat 4"}},
	{"fermata lost", "the end plays on", violin,
		func(p planted) { p.lose(p.note(16, 1).SelectElement("notations")) }, []string{"16 1 fermata"}, []string{"fermata is missing"}},
	{"fermata too many", "a pause that nobody has", violin,
		func(p planted) { p.add(p.note(4, 1), "<notations><fermata/></notations>") }, []string{"4 1 fermata"}, []string{"should not"}},
	{"words lost", "no dolce", clarinet,
		func(p planted) { p.lose(p.direction(13, "words")) }, []string{"13 1 text"}, []string{"dolce", "missing"}},
	{"words changed", "another expression", clarinet,
		func(p planted) { p.set(p.direction(13, "words"), "direction-type/words", "marcato") }, []string{"13 1 text"}, []string{"marcato", "dolce"}},
	{"words too many", "solo, which the score does not say", violin,
		func(p planted) {
			p.insert(p.note(6, 1), "<direction><direction-type><words>Solo</words></direction-type></direction>")
		}, []string{"6 1 text"}, []string{"Solo", "should not"}},
	{"a syllable changed", "a misprint in the text", soprano,
		func(p planted) { p.set(p.note(5, 1), "lyric/text", "Balls") }, []string{"5 1 lyrics"}, []string{"Balls", "Bells"}},
	{"chord symbol changed", "minor for major", violin,
		func(p planted) { p.set(p.bar(1), "harmony/kind", "minor") }, []string{"1 1 chord"}, []string{"D minor stands", "D major should"}},
	{"figures changed", "a six that is a seven", violin,
		func(p planted) { p.set(p.bar(1), "figured-bass/figure/figure-number", "7") }, []string{"1 1 chord"}, []string{"the figures 7 4 stands", "the figures 6 4 should"}},
	{"a trill's sign lost", "B natural, in the clarinet D natural, is no longer told from the signature's", clarinet,
		func(p planted) { p.lose(p.find(14, "note/notations/ornaments/accidental-mark")) }, []string{"14 1 articulation"},
		[]string{"the trill stands, the trill with a sign for a major second above should"}},
	{"a trill's sign is another", "D flat for D natural", clarinet,
		func(p planted) { p.set(p.note(14, 1), "notations/ornaments/accidental-mark", "flat") }, []string{"14 1 articulation"},
		[]string{"a minor second above stands", "a major second above should"}},
	{"a trill's sign too many", "D flat where the signature has D", flute,
		func(p planted) {
			p.add(p.find(14, "note/notations/ornaments"), "<accidental-mark>flat</accidental-mark>")
		}, []string{"14 1 articulation"}, []string{"a minor second above stands"}},
	{"a trill's line", "a line that the score has not", flute,
		func(p planted) {
			p.add(p.find(14, "note/notations/ornaments"), `<wavy-line type="start"/>`)
			p.add(p.find(14, "note/notations/ornaments"), `<wavy-line type="stop"/>`)
		}, []string{"14 1 articulation"}, []string{"the wavy line stands"}},
	{"an editor's accidental too many", "right, and not the score's", violin,
		func(p planted) {
			p.add(p.note(7, 1), "<notations><accidental-mark>natural</accidental-mark></notations>")
		},
		[]string{"7 1 articulation"}, []string{"accidental over the note stands"}},
	{"an editor's accidental that is wrong", "a sharp over G", violin,
		func(p planted) {
			p.add(p.note(7, 1), "<notations><accidental-mark>sharp</accidental-mark></notations>")
		},
		[]string{"7 1 articulation"}, []string{"an accidental over the note that is not the note's stands"}},
	{"an editor's accidental for a note's own", "a flat over B natural, which is read as B flat: said once", clarinet,
		func(p planted) {
			p.lose(p.note(6, 4).SelectElement("accidental"))
			p.add(p.note(6, 4), "<notations><accidental-mark>flat</accidental-mark></notations>")
		}, []string{"6 3 pitch"}, []string{"Bb4"}},
	{"another notehead", "a cross", violin,
		func(p planted) { p.insert(p.note(2, 1).SelectElement("notations"), "<notehead>x</notehead>") },
		[]string{"2 1 articulation"}, []string{"a x notehead stands, a plain notehead should"}},
	{"a value misprinted", "an eighth that lasts a quarter", violin,
		func(p planted) { p.set(p.note(2, 2), "type", "eighth") }, []string{"2 2 rhythm"}, []string{"C#5 printed as 1/2"}},
	{"a long grace note", "the stroke through its stem is lost", flute,
		func(p planted) { p.find(10, "note/grace").RemoveAttr("slash") }, []string{"10 1 rhythm"}, []string{"grace note G5 without a stroke"}},
	{"slashes for notes", "a bar in which the player makes something up", violin,
		func(p planted) {
			p.insert(p.note(3, 1), `<attributes><measure-style><slash type="start"/></measure-style></attributes>`)
			p.insert(p.note(4, 1), `<attributes><measure-style><slash type="stop"/></measure-style></attributes>`)
		}, []string{"3 1 text"}, []string{"slashes stands"}},
	{"a repeat sign for a bar", "of another bar", violin,
		func(p planted) {
			p.insert(p.note(6, 1), `<attributes><measure-style><measure-repeat type="start">1</measure-repeat></measure-style></attributes>`)
			p.insert(p.note(7, 1), `<attributes><measure-style><measure-repeat type="stop"/></measure-style></attributes>`)
		}, []string{"6 1 repeats"}, []string{"the bar repeat sign stands"}},
	{"another drum", "right on the staff and struck on the other instrument", drums,
		func(p planted) {
			p.note(3, 2).SelectElement("instrument").CreateAttr("id", p.note(3, 1).SelectElement("instrument").SelectAttrValue("id", ""))
		},
		[]string{"3 2 pitch"}, []string{"on the bass drum stands, one on the snare drum should"}},
	{"an arpeggio downward", "the arrow of another arpeggio", violin,
		func(p planted) {
			for n := range 2 {
				p.note(1, n+1).FindElement("notations/arpeggiate").CreateAttr("direction", "down")
			}
		}, []string{"1 1 articulation"}, []string{"arpeggio sign down stands"}},
	{"a note that rings on", "a tie that leads nowhere", violin,
		func(p planted) { p.add(p.note(7, 1), `<notations><tied type="let-ring"/></notations>`) }, []string{"7 1 articulation"}, []string{"tie that rings on stands"}},
	{"a longer pause", "a square fermata", violin,
		func(p planted) { p.set(p.note(16, 1), "notations/fermata", "square") }, []string{"16 1 fermata"}, []string{"the square fermata stands, the fermata should"}},
	{"from nothing", "a circle at the point of a hairpin", clarinet,
		func(p planted) { p.find(7, "direction/direction-type/wedge").CreateAttr("niente", "yes") }, []string{"7 1 dynamics"}, []string{"crescendo hairpin with niente stands"}},
	{"strings tuned otherwise", "a direction that changes what sounds", violin,
		func(p planted) {
			p.insert(p.note(6, 1), `<direction><direction-type><scordatura><accord string="4"><tuning-step>A</tuning-step><tuning-octave>3</tuning-octave></accord></scordatura></direction-type></direction>`)
		}, []string{"6 1 text"}, []string{"the scordatura stands"}},
	{"hummed", "no word is sung", soprano,
		func(p planted) {
			l := p.note(5, 1).SelectElement("lyric")
			p.lose(l.SelectElement("text"))
			p.lose(l.SelectElement("syllabic"))
			l.CreateElement("humming")
		}, []string{"5 1 lyrics"}, []string{"humming", "Bells"}},
	{"bars numbered otherwise", "the count begins at 2", clarinet,
		func(p planted) {
			for i, m := range p.part.SelectElements("measure") {
				m.CreateAttr("number", itoa(i+2))
			}
		}, []string{"1 - bars"}, []string{"numbered 2"}},
	{"a transposition that is none of the violin's", "chord symbols go with it", violin,
		func(p planted) {
			p.add(p.bar(1).SelectElement("attributes"), "<transpose><diatonic>1</diatonic><chromatic>2</chromatic></transpose>")
		}, []string{" - pitch"}, []string{"the whole part a major second too high"}},
	{"wrong transposition", "the page is right for the clarinet in A, but the file says B flat", clarinet,
		func(p planted) {
			p.set(p.bar(1), "attributes/transpose/diatonic", "-1")
			p.set(p.bar(1), "attributes/transpose/chromatic", "-2")
		}, []string{" - pitch"}, []string{"the whole part a minor second too high"}},
}

func TestEveryPlantedFaultIsFound(t *testing.T) {
	path := filepath.Join("testdata", "tide-tables.musicxml")
	score := readScore(t, path)
	s := collator(t, score)
	require.GreaterOrEqual(t, len(faults), 40)
	seen := map[string]bool{}
	for _, fault := range faults {
		require.False(t, seen[fault.name], "two faults of one name: %s", fault.name)
		seen[fault.name] = true
		t.Run(fault.name, func(t *testing.T) {
			require.NotEmpty(t, fault.why)
			files := extract(t, score, parts.DefaultOptions())
			fault.plant(planted{t, files[fault.part].doc.FindElement("score-partwise/part")})
			results, err := s.Collate(readFiles(t, files...), collate.Options{Complete: true}, nil)
			require.NoError(t, err)
			var found, texts []string
			for i, r := range results {
				if i != fault.part {
					assert.Empty(t, r.Differences, "%s has no fault", r.Part)
				}
				for _, d := range r.Differences {
					beat := d.Beat
					if beat == "" {
						beat = "-"
					}
					found = append(found, fmt.Sprintf("%s %s %s", d.Measure, beat, d.Kind))
					texts = append(texts, d.Text)
				}
			}
			assert.Equal(t, fault.want, found, "%s: %q", fault.why, texts)
			for _, words := range fault.says {
				assert.Contains(t, strings.Join(texts, "; "), words)
			}
		})
	}
}
