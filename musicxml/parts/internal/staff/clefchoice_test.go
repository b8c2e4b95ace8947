package staff

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
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
	catalogue, err := instruments.Load()
	require.NoError(t, err)
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
