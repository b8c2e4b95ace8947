package staff

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/survey"
)

// The editions of ../shared/scores have 229 clef changes in the parts of cellos,
// violas, bassoons, double basses and horns (OpenScore corpora, CC0). Chosen
// afresh from the notes alone, 19 notes in 20 get the editors' clef, with fewer
// changes: editors change for two ledger lines, here for more than three. Nowhere
// is a bar and more left above three ledger lines where another clef of the
// instrument needs three at most.
func TestClefChoiceAgainstEditions(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	var all choiceCount
	for _, path := range musicxmltest.SharedFiles(t, "scores/written/*.mxl", "scores/quartets/*.mxl") {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		require.NoError(t, err)
		facts := survey.NewScore(score, catalogue, survey.Auto)
		parts, timelines := make([]*etree.Element, len(score.Parts)), make([]*musicxml.Timeline, len(score.Parts))
		for i := range score.Parts {
			parts[i], err = score.ReadPart(i, nil)
			require.NoError(t, err)
			timelines[i], err = musicxml.NewTimeline(parts[i])
			require.NoError(t, err)
			facts.Parts[i], err = facts.Read(i, timelines[i])
			require.NoError(t, err)
		}
		facts.Recognise()
		for i := range score.Parts {
			in := facts.Parts[i].Match.Instrument
			// Trombones are left out: the editions write two of them in alto clef for
			// the name's sake, which says nothing of their notes.
			if in == nil || len(in.Clefs) < 2 || in.Staves > 1 || in.Flags.Voice || in.Family == "trombone" {
				continue
			}
			all.add(t, &draft.Draft{Score: facts, Part: parts[i], Timeline: timelines[i]}, in)
		}
	}
	t.Logf("%d of %d notes in the editors' clef; %d changes, the editors %d; high stretches %d", all.same, all.notes, all.changes, all.edition, all.high)
	assert.Greater(t, all.notes, 30000)
	assert.Greater(t, float64(all.same), 0.94*float64(all.notes))
	assert.Less(t, all.changes, all.edition)
	assert.Zero(t, all.high)
}

// choiceCount adds up what the choice of clefs came to.
type choiceCount struct{ notes, same, changes, edition, high int }

func (a *choiceCount) add(t *testing.T, s *draft.Draft, in *instruments.Instrument) {
	p := new(Page)
	require.NoError(t, p.Read(s))
	st := p.staff(1)
	inTime := p.InTime(1)
	c := chooser{page: p, staff: st, inTime: inTime, reads: []clefRange{{clefs: in.Clefs}},
		passages: p.Passages(inTime, s.Timeline.Measures),
		keeps:    func(instruments.Clef) bool { return false }}
	chosen := c.choose()
	var before instruments.Clef
	high := 0 // quarter notes in a row above three ledger lines for no need
	for k, clef := range chosen {
		if k > 0 && clef != chosen[k-1] {
			a.changes++
		}
		for _, i := range inTime[c.passages[k].First:c.passages[k].Last] {
			n := &p.Notes[i]
			edition := st.clefAt(n)
			edition.OctaveChange = 0
			if a.notes++; edition == clef {
				a.same++
			}
			if before != edition && before != (instruments.Clef{}) {
				a.edition++
			}
			before = edition
			if needlesslyHigh(n, clef, in.Clefs, st.lowered(n)) {
				if high += weight(n); high == 5 {
					a.high++
					t.Logf("%s, measure %s: %s clef", s.Score.Music.Name, s.Timeline.Measures[n.measure].Number, clef.Name())
				}
			} else {
				high = 0
			}
		}
	}
}

func needlesslyHigh(n *Note, clef instruments.Clef, own []instruments.Clef, lowered int) bool {
	lines := func(c instruments.Clef) int { return LedgerLines(n.place - BottomLine(c) - 7*lowered) }
	if lines(clef) <= 3 {
		return false
	}
	for _, other := range own {
		if lines(other) <= 3 {
			return true
		}
	}
	return false
}

// BottomLine against the clefs' letters: the bottom line of treble is E4, of bass
// G2, of alto F3, of tenor D3, of soprano C4 (trade/notation-rules.md, section 8).
func TestBottomLines(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]string{"treble": "E4", "treble-8vb": "E3", "treble-8va": "E5", "bass": "G2", "alto": "F3",
		"tenor": "D3", "soprano": "C4", "mezzo": "A3", "baritone": "B2", "percussion": "E4"} {
		clef, ok := instruments.ParseClef(name)
		require.True(t, ok, name)
		place := BottomLine(clef)
		assert.Equal(t, want, "CDEFGAB"[place%7:place%7+1]+string(rune('0'+place/7)), name)
	}
}

func TestLedgerLines(t *testing.T) {
	t.Parallel()
	for position, want := range map[int]int{0: 0, 8: 0, -1: 0, 9: 0, -2: 1, -3: 1, 10: 1, 11: 1, -4: 2, 12: 2, -8: 4, 16: 4, 17: 4} {
		assert.Equal(t, want, LedgerLines(position), "position %d: a space beside a line has none of its own", position)
	}
}

func clefsOf(t *testing.T, names ...string) (clefs []instruments.Clef) {
	t.Helper()
	for _, name := range names {
		clef, ok := instruments.ParseClef(name)
		require.True(t, ok, name)
		clefs = append(clefs, clef)
	}
	return clefs
}

// What ledger lines cost: none or one are free, from the third on each costs six more, as often
// as a note has quarters, at most four.
func TestCostOfLedgers(t *testing.T) {
	t.Parallel()
	for music, want := range map[string]int{
		"E4 F5 C4 A5": 0, "B3 C6": 0 + 1, "A3 E6": 1 + 3, "G3:h": 2 * 1, "F3 G6": 3 + 9, "D3 B6": 9 + 15, "B2 D7": 15 + 21, "G2 F7": 21 + 27, "E2 A7": 27 + 27, "A7:w": 4 * 27, "A3:hd": 3 * 1, "E6:e E6:e": 3 + 3, "A3:w~ | A3:w^": 8, "r u!E7 E7*:h": 0,
		shift("down", "") + "E7 " + shift("stop", ""): 3, shift("up", "") + "E3 " + shift("stop", ""): 0,
	} {
		p, _ := pageOf(t, music)
		c := chooser{page: p, staff: p.staff(1), inTime: p.InTime(1)}
		assert.Equal(t, want, c.ledgers(&Passage{Last: len(c.inTime)}, TrebleClef), music)
	}
	p, _ := pageOf(t, "A3 A3 E6")
	c := chooser{page: p, staff: p.staff(1), inTime: p.InTime(1)}
	assert.Equal(t, 1, c.ledgers(&Passage{First: 1, Last: 2}, TrebleClef), "of a passage alone")
	for i := 4; i < len(ledgerCost); i++ {
		assert.Equal(t, 6, ledgerCost[i]-ledgerCost[i-1])
	}
	for duration, want := range map[string]int{"s": 1, "e": 1, "q": 1, "qd": 1, "h": 2, "hd": 3, "w": 4, "wd": 4} {
		p, _ := pageOf(t, "6/4 C5:"+duration)
		assert.Equal(t, want, weight(&p.Notes[0]), duration)
	}
}

// Which clefs come into question for each passage, and what each costs there.
func TestWeigh(t *testing.T) {
	t.Parallel()
	bass, tenor, percussion := clefsOf(t, "bass")[0], clefsOf(t, "tenor")[0], instruments.Clef{Sign: "percussion"}
	none := func(instruments.Clef) bool { return false }
	for _, row := range []struct {
		why, music string
		reads      []clefRange
		shared     [][]instruments.Clef
		keeps      func(instruments.Clef) bool
		clefs      []instruments.Clef
		want       [][]int // of each passage; -1: never
	}{
		{"two clefs, the usual one first", "bass E4 F4 G4:h", []clefRange{{clefs: []instruments.Clef{bass, tenor}}}, nil, none, []instruments.Clef{bass, tenor, TrebleClef}, [][]int{{1, 1, -1}, {1, 1, -1}, {2 * 3, 1, -1}}},
		{"after a change of instrument", "bass E4:h C4:h | E4:w", []clefRange{{clefs: []instruments.Clef{bass}}, {Position: musicxml.Position{Measure: 1}, clefs: []instruments.Clef{TrebleClef, bass}}}, nil, none, []instruments.Clef{bass, TrebleClef}, [][]int{{2, -1}, {0, -1}, {4 + 1, 0}}},
		{"the score has one where it begins", "bass E4:w | E4:w | E4:w", []clefRange{{clefs: []instruments.Clef{bass}}, {Position: musicxml.Position{Measure: 1}, clefs: []instruments.Clef{TrebleClef, bass}, said: true}}, nil, none, []instruments.Clef{bass, TrebleClef}, [][]int{{4, -1}, {-1, 0}, {5, 0}}},
		{"the score has one at the start", "bass E4:w | E4:w", []clefRange{{clefs: []instruments.Clef{TrebleClef, bass}, said: true}}, nil, none, []instruments.Clef{TrebleClef, bass}, [][]int{{0, -1}, {0, 5}}},
		{"a clef without letters stays", "bass E4:w | <attributes><clef><sign>percussion</sign></clef></attributes> E4:w", []clefRange{{clefs: []instruments.Clef{bass}}}, nil, func(c instruments.Clef) bool { return c == percussion }, []instruments.Clef{bass, TrebleClef, percussion}, [][]int{{4, -1, -1}, {-1, -1, 0}}},
		{"shared among players", "bass E4:w | E4:w | E4:w", []clefRange{{clefs: []instruments.Clef{bass}}}, [][]instruments.Clef{{tenor}, nil, {bass, tenor}}, none, []instruments.Clef{bass, tenor, TrebleClef}, [][]int{{-1, 0, -1}, {4, -1, -1}, {4, 1, -1}}},
	} {
		p, d := pageOf(t, row.music)
		inTime := p.InTime(1)
		c := chooser{page: p, staff: p.staff(1), inTime: inTime, reads: row.reads, shared: row.shared, keeps: row.keeps, passages: p.Passages(inTime, d.Timeline.Measures)}
		c.gather()
		assert.Equal(t, row.clefs, c.clefs, row.why)
		c.cost = make([]int, len(c.passages)*len(c.clefs))
		var got [][]int
		for i := range c.passages {
			c.weigh(i)
			costs := []int{}
			for _, cost := range c.costs(i) {
				if cost == Never {
					cost = -1
				}
				costs = append(costs, cost)
			}
			got = append(got, costs)
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// What the player reads on a staff: plan, instrument, changes, what a concert score says of the
// part.
func TestClefsRead(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	treble, bass, alto := clefsOf(t, "treble"), clefsOf(t, "bass"), clefsOf(t, "alto")
	viola := clefsOf(t, "alto", "treble")
	change := func(id string) draft.InstrumentChange {
		return draft.InstrumentChange{Position: musicxml.Position{Measure: 1}, Instrument: catalogue.ByID(id)}
	}
	at := func(measure int, clefs []instruments.Clef, said bool) clefRange {
		return clefRange{Position: musicxml.Position{Measure: measure}, clefs: clefs, said: said}
	}
	says := func(staff int, clef instruments.Clef) partClef {
		return partClef{musicxml.Position{Measure: 2}, staff, clef}
	}
	for _, row := range []struct {
		why, instrument, plan, by string
		changes                   []draft.InstrumentChange
		part                      []partClef
		want                      []clefRange
		said                      bool
	}{
		{"of the instrument", "viola", "", "name", nil, nil, []clefRange{at(0, viola, false)}, false}, {"of the plan", "viola", "bass", "name", []draft.InstrumentChange{change("flute")}, nil, []clefRange{at(0, bass, false)}, true}, {"nobody knows", "", "", "name", nil, nil, nil, false},
		{"of several staves", "piano", "", "name", nil, nil, nil, false}, {"without pitch", "snare-drum", "", "name", nil, nil, nil, false}, {"after a change", "viola", "", "name", []draft.InstrumentChange{change("flute")}, nil, []clefRange{at(0, viola, false), at(1, treble, false)}, false},
		{"changes that have none", "viola", "", "name", []draft.InstrumentChange{change("piano"), change("snare-drum"), change("flute")}, nil, []clefRange{at(0, viola, false), at(1, treble, false)}, false},
		{"the part's", "viola", "", "for-part", nil, []partClef{says(0, bass[0])}, []clefRange{at(0, viola, false), at(2, bass, true)}, true}, {"the part's, which it reads", "viola", "", "for-part", nil, []partClef{says(0, alto[0])}, []clefRange{at(0, viola, false), at(2, clefsOf(t, "alto", "alto", "treble"), true)}, true},
		{"of another staff", "viola", "", "for-part", nil, []partClef{says(2, bass[0]), says(1, bass[0])}, []clefRange{at(0, viola, false), at(2, bass, true)}, true}, {"told by its name", "viola", "", "name", nil, []partClef{says(0, bass[0])}, []clefRange{at(0, viola, false)}, false}, {"nobody knows whose", "", "", "for-part", nil, []partClef{says(0, bass[0])}, []clefRange{at(2, bass, true)}, true},
	} {
		p, d := pageOf(t, "C5:w | C5:w | C5:w")
		d.Assignment.Instrument, d.Assignment.Clef, d.Assignment.RecognisedBy, d.Changes, p.partClefs = catalogue.ByID(row.instrument), row.plan, row.by, row.changes, row.part
		reads, said := (&layout{d, p}).clefsRead(1)
		assert.Equal(t, row.want, reads, row.why)
		assert.Equal(t, row.said, said, row.why)
		var all []instruments.Clef
		for _, r := range row.want {
			all = append(all, r.clefs...)
		}
		assert.Equal(t, all, p.ClefsRead(d), row.why)
		p.Staves[0].lines = 4
		assert.Nil(t, p.ClefsRead(d), row.why)
	}
	p, d := pageOf(t, "C5:w // C4:w")
	d.Assignment.Clef = "bass"
	assert.Nil(t, p.ClefsRead(d), "on two staves")
	p.Forget()
	assert.Empty(t, p.Staves)
	assert.Empty(t, p.Notes)
}

// The clefs of the part, worked by hand: what is wanted is set, what stands where it is wanted
// stays, what nobody wants goes with its <attributes>; foreign ones are exchanged and told of.
func TestClefsSet(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const small = `<attributes><clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef></attributes> `
	const tab, old = `<attributes><clef><sign>TAB</sign><line>5</line></clef></attributes> `, `<attributes><clef><sign>C</sign><line>2</line></clef></attributes> `
	for _, row := range []struct{ why, instrument, from, clef, music, want, said string }{
		{"an edition stays", "cello", "", "", "bass C3:w | tenor C4:w", "bass C3 | tenor C4", ""}, {"without a clef, that is read", "viola", "", "", "C5:w", "C5", ""}, {"without a clef that is read", "bassoon", "", "", "C3:w | C3:w", "bass C3 | C3", ""},
		{"none at first", "bassoon", "", "", "C3:w | bass C3:w", "bass C3 | C3", ""}, {"none at first, another later", "bassoon", "", "", "C3:w | tenor C4:w", "bass C3 | tenor C4", ""}, {"none at first, a foreign one later", "bassoon", "", "", "C3:w | soprano C3:w", "bass C3 | C3", "2:1 the score's soprano clef is none that Vc reads; bass clef was taken"},
		{"a foreign one", "cello", "", "", "alto C3:w | C3:w", "bass C3 | C3", "1:1 the score's alto clef is none that Vc reads; bass clef was taken"}, {"one that nobody has a name for", "cello", "", "", old + "C3:w", "bass C3", "1:1 the score's mezzo clef is none that Vc reads; bass clef was taken"}, {"the usual is in force again", "cello", "", "", "bass C3:w | alto C3:w | tenor G4:w", "bass C3 | C3 | tenor G4", "2:1 the score's alto clef is none that Vc reads; bass clef was taken"},
		{"another is worth it", "cello", "", "", "soprano C5:w | C5:w", "treble C5 | C5", "1:1 the score's soprano clef is none that Vc reads; treble clef was taken"}, {"another is not", "cello", "", "", "soprano F4:w", "bass F4", "1:1 the score's soprano clef is none that Vc reads; bass clef was taken"}, {"until the next", "cello", "", "", "soprano C3:w | bass C5:w | C5:w | C5:w", "bass C3 | C5 | C5 | C5", "1:1 the score's soprano clef is none that Vc reads; bass clef was taken"},
		{"under an octave line", "cello", "", "", "soprano " + shift("down", "") + "C5:w | C5:w " + shift("stop", ""), "bass C5 | C5", "1:1 the score's soprano clef is none that Vc reads; bass clef was taken1:1 an octave line; players of Cello read the ledger lines"},
		{"a small eight", "flute", "", "", small + "C5:w", "treble-8vb C5", ""}, {"tablature of the same", "guitar", "", "", tab + "C4:w", "TAB C4", ""}, {"tablature of another", "flute", "guitar", "", tab + "C5:w", "treble C5", ""}, {"tablature for who has the strings", "electric-guitar", "guitar", "", tab + "C5:w", "TAB C5", ""}, {"tablature for who has others", "ukulele", "guitar", "", tab + "C5:w", "treble C5", ""}, {"tablature for who reads any clef", "piano", "guitar", "", tab + "C5:w", "treble C5", ""},
		{"the plan says it", "cello", "", "alto", "bass C4:w | tenor C4:w", "alto C4 | C4", ""}, {"the plan says it in the middle of a bar", "cello", "", "alto", "bass C4:h tenor C4:h | C4:w", "alto C4 C4 | C4", ""}, {"the plan says two", "cello", "", "bass; treble", "bass C3:h r:h | C6:w | C6:w | C3:w", "bass C3 r | treble C6 | C6 | bass C3", ""}, {"within a bar, after a rest", "cello", "", "bass; treble", "bass C2:h r C6:q | C6:w | C6:w", "bass C2 r treble C6 | C6 | C6", ""},
		{"the plan, of rests alone", "cello", "", "alto", "bass R | R", "alto r | r", ""}, {"the plan, of one note", "cello", "", "bass; treble", "bass C6:w", "treble C6", ""}, {"for another", "viola", "cello", "", "bass C4:w | C4:w", "alto C4 | C4", ""}, {"at the end of a bar", "viola", "cello", "alto; treble", "alto C3:w treble | C7:w | C7:w", "alto C3 treble | C7 | C7", ""},
		{"farther away than is counted", "cello", "", "", "soprano C9:w", "bass C9", "1:1 the score's soprano clef is none that Vc reads; bass clef was taken"},
		{"two that are no longer needed", "cello", "", "", "tenor C4:w | soprano C3:w | bass C3:w", "tenor C4 | bass C3 | C3", "2:1 the score's soprano clef is none that Vc reads; bass clef was taken"},
		{"as dear to stay as to change", "cello", "", "bass; treble", "bass D3:q A3:q C4:q C4:q | C6:w", "treble D3 A3 C4 C4 | C6", ""}, // ledger lines 9 + 1, four notes in the uncommon clef 4, a change at the bar line 14
		{"dearer to stay than to change", "cello", "", "bass; treble", "bass D3:q A3:q A3:q C4:q | C6:w", "bass D3 A3 A3 C4 | treble C6", ""},
		{"on two staves", "cello", "", "alto", "bass 2bass C4:w // C4:w", "alto 2alto C4 << C4", ""}, {"on one line", "cello", "", "alto", "<attributes><staff-details><staff-lines>1</staff-lines></staff-details></attributes> bass C4:w", "bass C4", ""}, {"nobody knows", "", "", "", "soprano C4:w", "soprano C4", ""},
	} {
		p, d := pageOf(t, row.music)
		in := catalogue.ByID(row.instrument)
		d.Assignment.Instrument, d.Assignment.Written, d.Assignment.Clef, d.Assignment.Label, d.Assignment.RecognisedBy = in, in, row.clef, "Vc", "name"
		if row.from != "" {
			d.Assignment.Written, d.Assignment.RecognisedBy = catalogue.ByID(row.from), assign.ByPlan
		}
		require.NoError(t, p.ChooseClefs(d), row.why)
		assert.Equal(t, row.want, shorthand.ReadStaff(d.Part), row.why)
		said := ""
		for _, w := range d.Report.Warnings {
			said += w.Measure + ":" + w.Beat + " " + w.Text
		}
		assert.Equal(t, row.said, said, row.why)
		for _, e := range d.Part.FindElements("//attributes") {
			assert.NotEmpty(t, e.ChildElements(), row.why)
		}
		fresh, err := musicxml.NewTimeline(d.Part)
		require.NoError(t, err)
		require.NoError(t, d.Settle())
		for i := range fresh.Measures {
			assert.Len(t, d.Timeline.Measures[i].Events, len(fresh.Measures[i].Events), "%s: it is laid out", row.why)
		}
	}
	assert.Equal(t, []string{"C (line 7)", "percussion", "treble"}, []string{clefName(instruments.Clef{Sign: "C", Line: 7}), clefName(instruments.Clef{Sign: "percussion"}), clefName(TrebleClef)})
}

// A change in mid-bar stands before the first note of its moment on its staff, in <attributes>
// that are there already.
func TestAttributesBefore(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, music string
		staff      int
		before     string // the note behind it
		there      bool
	}{
		{"between notes", "C5:h D5:h", 1, "D", false}, {"where some are", "C5:h [key 1] D5:h", 1, "D", true}, {"before words", `C5:h "x" D5:h`, 1, "D", false}, {"of the second staff", "C5:h D5:h // E4:h F4:h", 2, "F", false}, {"before a chord", "C5:h D5+E5:h", 1, "D", false}, {"no note begins there", "C5:w", 1, "", false}, {"in the second voice", "C5:w / E4:h F4:h", 1, "F", false},
	} {
		p, d := pageOf(t, row.music)
		e := (&layout{d, p}).attributesBefore(row.staff, musicxml.Position{Onset: musicxml.NewFraction(2, 1)})
		if row.before == "" {
			assert.Nil(t, e, row.why)
			continue
		}
		siblings := e.Parent().ChildElements()
		assert.Equal(t, row.before, musicxml.Text(musicxml.Descend(siblings[slices.Index(siblings, e)+1], "pitch", "step")), row.why)
		assert.Equal(t, row.there, len(e.ChildElements()) > 0, row.why)
	}
}

// Which clef holds for a note: a grace note before it at the same moment is in the old one; what
// is written out of order is put in order.
func TestClefAt(t *testing.T) {
	t.Parallel()
	for music, want := range map[string]string{
		"C5:h bass C3:h": "treble bass", "C5:h g!D5:e bass C3:h": "treble treble bass", "C5:h bass g!D3:e C3:h": "treble bass bass", "C5:h bass C3:h << C4:q E4:q tenor C3:h": "treble tenor treble treble tenor", "C5:hd bass C3:q << C4:q tenor C3:hd": "treble bass treble tenor",
		"C5:w <backup><duration>48</duration></backup> bass C3:h":                                                                           "treble bass",
		`<attributes><clef><sign>F</sign><line>4</line></clef><clef additional="yes"><sign>C</sign><line>3</line></clef></attributes> C3:w`: "bass",
	} {
		p, _ := pageOf(t, music)
		var got []string
		for i := range p.Notes {
			got = append(got, p.staff(1).clefAt(&p.Notes[i]).Name())
		}
		assert.Equal(t, want, strings.Join(got, " "), music)
	}
	p, _ := pageOf(t, "r:w // r:w")
	assert.Len(t, p.Staves, 2, "rests have a staff")
	note := Note{Pitch: etree.NewElement("pitch")}
	assert.True(t, note.head())
	for _, n := range []Note{{}, {Pitch: note.Pitch, hidden: true}, {Pitch: note.Pitch, Event: musicxml.Event{Rest: true}}} {
		assert.False(t, n.head())
	}
	clef := etree.NewElement("clef")
	for _, c := range []instruments.Clef{{Sign: "G", Line: 2, OctaveChange: -1}, {Sign: "percussion"}, {Sign: "G", Line: 1}, {Sign: "F", Line: 4}} {
		writeClef(clef, c)
		assert.Equal(t, c, ReadClef(clef), "one after the other")
	}
}

// Players who share a staff: each passage in the clefs that they read there, joined where one
// would stand straight from note to note.
func TestShare(t *testing.T) {
	t.Parallel()
	bass, tenor := clefsOf(t, "bass")[0], clefsOf(t, "tenor")[0]
	reads := func(clefs ...instruments.Clef) (r Reading) {
		for i, c := range clefs {
			r = append(r, readNote{musicxml.Position{Onset: musicxml.NewFraction(int64(i), 1)}, c})
		}
		return r
	}
	names := map[instruments.Clef]string{bass: "b", tenor: "t"}
	for _, row := range []struct {
		why, music string
		readings   []Reading
		want       string
	}{
		{"all read one", "C4 D4 E4 F4", []Reading{reads(bass, bass, bass, bass), reads(bass, bass, bass, bass)}, "0-1b 1-2b 2-3b 3-4b"}, {"all change", "C4 D4 E4 F4", []Reading{reads(bass, bass, tenor, tenor)}, "0-1b 1-2b 2-3t 3-4t"},
		{"each his own", "C4 D4 E4 F4", []Reading{reads(bass, bass, bass, bass), reads(tenor, tenor, tenor, tenor)}, "0-4bt"}, {"one changes", "C4 D4 E4 F4", []Reading{reads(bass, bass, bass, bass), reads(bass, bass, tenor, bass)}, "0-1b 1-4bt"}, {"after a rest", "C4 r E4 F4", []Reading{reads(bass, bass, bass, bass), reads(tenor, tenor, tenor, tenor)}, "0-1bt 1-3bt"},
		{"nobody reads it", "C4 D4:hd", nil, "0-2"}, {"in the next bar", "C4:w | D4:w", []Reading{reads(bass), {{musicxml.Position{Measure: 1}, tenor}}}, "0-1b 1-2t"},
	} {
		p, d := pageOf(t, row.music)
		inTime := p.InTime(1)
		c := chooser{page: p, passages: p.Passages(inTime, d.Timeline.Measures)}
		c.share(row.readings)
		var got []string
		for i, passage := range c.passages {
			text := fmt.Sprintf("%d-%d", passage.First, passage.Last)
			for _, clef := range c.shared[i] {
				text += names[clef]
			}
			got = append(got, text)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.why)
	}
}

// Whether another voice is seen beside a note while it sounds.
func TestBeside(t *testing.T) {
	t.Parallel()
	note := func(voice string, staff int, from, length int64, hidden bool) *Note {
		return &Note{Event: musicxml.Event{Voice: voice, Staff: staff, Onset: musicxml.NewFraction(from, 1), Duration: musicxml.NewFraction(length, 1)}, hidden: hidden}
	}
	for _, row := range []struct {
		why  string
		n    *Note
		want bool
	}{
		{"together", note("2", 1, 2, 1, false), true}, {"before, into it", note("2", 1, 0, 3, false), true}, {"before, up to it", note("2", 1, 0, 2, false), false}, {"in it", note("2", 1, 3, 1, false), true}, {"behind it", note("2", 1, 4, 1, false), false}, {"a grace note there", note("2", 1, 2, 0, false), true}, {"a grace note behind", note("2", 1, 4, 0, false), false},
		{"hidden", note("2", 1, 2, 1, true), false}, {"of its voice", note("1", 1, 2, 1, false), false}, {"on another staff", note("2", 2, 2, 1, false), false},
	} {
		assert.Equal(t, row.want, row.n.beside(note("1", 1, 2, 2, false)), row.why)
	}
}

// What a player reads is asked of a staff of five lines alone, of a part that has no other: a
// bassoonist reads bass and tenor clef (trade/ranges, clefs).
func TestClefsReadOnOneStaff(t *testing.T) {
	t.Parallel()
	catalogue, err := instruments.Load()
	require.NoError(t, err)
	for music, want := range map[string][]string{"C3:w": {"bass", "tenor"}, "C3:w // C3:w": nil, "<attributes><staff-details><staff-lines>1</staff-lines></staff-details></attributes> C3:w": nil} {
		p, d := pageOf(t, music)
		d.Score, d.Survey, d.Assignment.Instrument = &survey.Score{}, &survey.Part{}, catalogue.ByID("bassoon")
		var got []string
		for _, c := range p.ClefsRead(d) {
			got = append(got, c.Name())
		}
		assert.Equal(t, want, got, music)
	}
}

// A clef says its line and its octave, or none (MusicXML 4.0, clef).
func TestWriteClef(t *testing.T) {
	t.Parallel()
	const tenorVoice = `<clef number="1"><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`
	for _, row := range []struct {
		from string
		clef instruments.Clef
		want string
	}{
		{tenorVoice, instruments.Clef{Sign: "percussion"}, `<clef number="1"><sign>percussion</sign></clef>`}, {tenorVoice, instruments.Clef{Sign: "F", Line: 4}, `<clef number="1"><sign>F</sign><line>4</line></clef>`},
		{`<clef><sign>percussion</sign></clef>`, instruments.Clef{Sign: "G", Line: 2, OctaveChange: -1}, `<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`},
	} {
		e := musicxmltest.Element(t, row.from)
		writeClef(e, row.clef)
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		require.NoError(t, err)
		assert.Equal(t, row.want, text)
	}
}
