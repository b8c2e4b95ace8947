package parts_test

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/apart"
	"deskpart/musicxml/parts/partstest"
)

// TestDivisiOnTwoStaves: which bars cannot be read on one staff is by hand, after
// part-preparation, 2. What stands on two staves sounds note for note as the score.
func TestDivisiOnTwoStaves(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why, name, music string
		alone            bool // without winds
		want             string
	}{
		{why: "two voices that do not cross stay on one staff", name: "Violoncello", music: "bass E3:h G3:h / C3:w | C3:w"},
		{why: "chords stay", name: "Viola", music: "C4+E4:w | C4+F4:w"},
		{why: "voices that cross", name: "Violoncello", music: "bass C3:w | E3:h C3:h / D3:w | C3:w", want: "2 to 2 div. unis."},
		{why: "as long as they are divided", name: "Violoncello", music: "bass E3:h C3:h / D3:w | G3:w / C3:w | C3:w", want: "1 to 2 div. unis."},
		{why: "the score says it itself", name: "Violoncello", music: `bass "div." E3:h C3:h / D3:w | "unis." C3:w`, want: "1 to 1"},
		{why: "the score says it behind a heading, in German", name: "Violoncello", music: `bass "Var. 2 geteilt" E3:h C3:h / D3:w | "zus." C3:w`, want: "1 to 1"},
		{why: "the score says it in German, shortened", name: "Violoncello", music: `bass "get." E3:h C3:h / D3:w | "zus." C3:w`, want: "1 to 1"},
		{why: "the score says it and how", name: "Violoncello", music: `bass C3:w | "div. a 2" E3:h C3:h / D3:w | F3:h D3:h / E3:w | "a 2" C3:w`, want: "2 to 3"},
		{why: "the score says something else, in English", name: "Violoncello", music: `bass "get ready" E3:h C3:h / D3:w | C3:w`, want: "1 to 1 div. unis."},
		{why: "three of unlike rhythm", name: "Violins I", music: "E5:h F5:h / C5:w / G4 A4 B4 A4 | C5:w", want: "1 to 1 div. unis."},
		{why: "three of one rhythm", name: "Violins I", music: "E5:h F5:h / C5:h C5:h / G4:h A4:h | C5:w"},
		{why: "a voice with a gap is no second line", name: "Violoncello", music: "bass E3:h C3:h / _:h D3:h | C3:w"},
		{why: "who plays alone plays double stops", name: "Violoncello", alone: true, music: "bass E3:h C3:h / D3:w | C3:w"},
		{why: "no section", name: "Violoncello solo", music: "bass E3:h C3:h / D3:w | C3:w"},
		{why: "winds have a player for each", name: "Bassoon", music: "bass E3:h C3:h / D3:w | C3:w"},
	} {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			entries := []shorthand.Entry{{Name: c.name, Music: c.music}}
			if !c.alone {
				entries = append(entries, shorthand.Entry{Name: "Flute", Music: "C5:w"})
			}
			score, err := musicxml.Read(shorthand.Score(t, entries...), musicxml.ReadOptions{})
			require.NoError(t, err)
			holdDivided(t, score, 0, c.want)
		})
	}
}

// TestDivisiOfRealScores: the cellos of a symphony, whose voices cross in the 27th variation
// alone.
func TestDivisiOfRealScores(t *testing.T) {
	t.Parallel()
	score := readScore(t, musicxmltest.SharedFiles(t, "scores/written/Brahms_Op.98_4.mxl")[0])
	for i, p := range score.ScoreParts() {
		want := ""
		if p.Name == "Violoncello" {
			want = "217 to 224 unis."
		}
		holdDivided(t, score, i, want)
	}
}

// holdDivided makes a part and holds it against the score: on two staves where wanted, the
// same notes at the same times, and without what was added once it is taken apart.
func holdDivided(t *testing.T, score *musicxml.Score, part int, want string) {
	t.Helper()
	o := parts.DefaultOptions()
	o.Input, o.RestBars = parts.Written, 0
	job := partstest.Job(t, score, o)
	made, err := job.Make(part)
	require.NoError(t, err)
	root := made.Document.Root()
	field := root.FindElement("part-list/score-part/identification/miscellaneous/miscellaneous-field[@name='divisi on two staves']")
	if want == "" {
		assert.Nil(t, field)
		return
	}
	require.NotNil(t, field, "bars %s on two staves", want)
	assert.Equal(t, want, field.Text())
	assert.Equal(t, "2", root.FindElement("part/measure/attributes/staves").Text())
	source, err := score.ReadPart(part, nil)
	require.NoError(t, err)
	assert.Equal(t, pitchesInTime(t, source), pitchesInTime(t, root.SelectElement("part")), "note for note")
	file, err := musicxml.Read(musicxml.Append(nil, made.Document, musicxml.NoteALine), musicxml.ReadOptions{})
	require.NoError(t, err)
	pieces, err := apart.Pieces(file)
	require.NoError(t, err)
	require.Len(t, pieces, 1)
	taken, err := pieces[0].Score.ReadPart(0, nil)
	require.NoError(t, err)
	assert.Equal(t, pitchesInTime(t, source), pitchesInTime(t, taken), "taken apart")
	assert.Len(t, taken.FindElements("measure/direction/direction-type/dynamics"), len(source.FindElements("measure/direction/direction-type/dynamics")))
}

// pitchesInTime lists the notes of a part by bar, time, length and pitch.
func pitchesInTime(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return told(t, part, func(bar int, ev *musicxml.Event) []string {
		if ev.Kind != musicxml.Note || ev.Element.SelectElement("pitch") == nil {
			return nil
		}
		return []string{fmt.Sprintf("%d %s %s %s", bar, ev.Onset, ev.Duration, letters(ev.Element))}
	})
}
