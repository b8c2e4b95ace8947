package musicxml

import (
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
)

// TestRenewEqualsLayOut edits the measures of real parts at random, as often as
// not several at once, and holds a renewed timeline against one laid out afresh.
func TestRenewEqualsLayOut(t *testing.T) {
	t.Parallel()
	for seed, path := range musicxmltest.SharedSpread(t, "scores/*/*.mxl", "testsuite/xmlFiles/*.xml") {
		score, err := Read([]byte(scoreText(t, path)), ReadOptions{})
		if err != nil {
			continue
		}
		part, err := score.ReadPart(len(score.Parts)-1, nil)
		if err != nil {
			continue
		}
		var timeline Timeline
		if timeline.LayOut(part) != nil {
			continue
		}
		random := rand.New(rand.NewPCG(uint64(seed), 1))
		for round := range 40 {
			for range 1 + random.IntN(4) {
				editMeasures(random, part)
			}
			want, wantErr := NewTimeline(part)
			err := timeline.Renew(part)
			if wantErr != nil {
				require.Error(t, err, "%s, round %d", path, round)
				break
			}
			require.NoError(t, err, "%s, round %d", path, round)
			require.Equal(t, len(want.Measures), len(timeline.Measures))
			for i := range want.Measures {
				g, w := timeline.Measures[i], want.Measures[i]
				require.Equal(t, len(w.Events), len(g.Events), "%s, round %d, bar %d", path, round, i)
				for k := range w.Events {
					require.True(t, w.Events[k] == g.Events[k], "%s, round %d, bar %d, event %d", path, round, i, k)
				}
				g.Events, w.Events = nil, nil
				g.Element, w.Element = nil, nil
				require.Equal(t, w, g, "%s, round %d, bar %d", path, round, i)
			}
		}
	}
}

// editMeasures adds, takes out or moves a child of a random measure, or a measure,
// or changes how time is counted from one on.
func editMeasures(random *rand.Rand, part *etree.Element) {
	measures := Children(part, "measure")
	if len(measures) == 0 {
		return
	}
	m := measures[random.IntN(len(measures))]
	at := random.IntN(len(m.Child) + 1)
	switch random.IntN(8) {
	case 0:
		if at < len(m.Child) {
			m.RemoveChildAt(at)
		}
	case 1:
		if at < len(m.Child) {
			m.InsertChildAt(random.IntN(len(m.Child)), m.Child[at])
		}
	case 2:
		m.InsertChildAt(at, etree.NewElement("direction"))
	case 3:
		if notes := Children(m, "note"); len(notes) > 0 {
			m.InsertChildAt(at, notes[random.IntN(len(notes))].Copy())
		}
	case 4:
		attributes := etree.NewElement("attributes")
		attributes.CreateElement("divisions").SetText(strconv.Itoa(1 + random.IntN(3)))
		m.InsertChildAt(at, attributes)
	case 5:
		if attributes := Child(m, "attributes"); attributes != nil {
			SetChildText(attributes, "divisions", strconv.Itoa(1+random.IntN(5)))
			SetChildText(SetChildText(attributes, "time", ""), "beats", strconv.Itoa(2+random.IntN(5)))
		}
	case 6:
		part.InsertChildAt(m.Index(), m.Copy())
	case 7:
		m.CreateAttr("number", strconv.Itoa(random.IntN(100)))
	}
}

// Where the next element stands: behind a note, but not behind a chord's further notes or a
// grace note; forward, back; anything else takes no time (MusicXML 4.0, chord, grace, backup).
func TestAfter(t *testing.T) {
	t.Parallel()
	f := NewFraction
	for _, row := range []struct {
		ev   Event
		want Fraction
	}{
		{Event{Kind: Note, Onset: f(1, 1), Duration: f(2, 1)}, f(3, 1)}, {Event{Kind: Note, Onset: f(1, 1), Duration: f(1, 2), Chord: true}, f(7, 1)},
		{Event{Kind: Note, Onset: f(1, 1), Grace: true}, f(7, 1)}, {Event{Kind: Forward, Onset: f(1, 1), Duration: f(2, 1)}, f(3, 1)},
		{Event{Kind: Backup, Onset: f(3, 1), Duration: f(2, 1)}, f(1, 1)}, {Event{Kind: Direction, Onset: f(3, 1)}, f(7, 1)}, {Event{Kind: Attributes}, f(7, 1)},
	} {
		assert.Equal(t, row.want, row.ev.After(f(7, 1)), "%+v", row.ev)
	}
}
