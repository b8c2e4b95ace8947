package parts_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
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
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/reading"
)

// TestPlayersOfSeveralStaves groups staves of real scores into players at random, as they
// are and with the music dealt out so that the staves sound in turn. What the joined
// parts sound, read off the page by other code, is what the staves sound; every bar in
// which two staves sound at once is reported and no other; and each part taken apart
// again has the notes of the parts made one by one.
func TestPlayersOfSeveralStaves(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	files := musicxmltest.SharedSpread(t, "scores/written/*.mxl")
	groups := 50
	if os.Getenv(musicxmltest.EveryScore) == "1" {
		groups = 1000
	}
	r := rand.New(rand.NewPCG(16, 7))
	scores := map[string]*musicxml.Score{}
	var written []string
	oneStaff, several := 0, 0
	for n := range groups {
		file := files[r.IntN(len(files))]
		if scores[file] == nil {
			scores[file] = readScore(t, file)
		}
		score := someStaves(t, scores[file], 2+r.IntN(3), 30+r.IntN(40), n%2 == 0, r)
		sheet := joinAll(t, catalogue, score)
		root := sheet.Document.Root()
		name := fmt.Sprintf("group %d of %s", n, filepath.Base(file))
		wantSounds(t, score, partOf(sheet), name)
		wantClashes(t, score, sheet, name)
		wantApart(t, catalogue, score, root, name)
		if musicxml.Descend(partOf(sheet), "measure", "attributes", "staves") == nil {
			oneStaff++
		} else {
			several++
		}
		if n < 10 {
			written = append(written, filepath.Join(t.TempDir(), fmt.Sprintf("%d.musicxml", n)))
			require.NoError(t, os.WriteFile(written[n], sheet.Bytes(musicxml.WriteOptions{}), 0o600))
		}
		if dir := os.Getenv("DESKPART_SHOTS"); dir != "" && n < 10 {
			os.WriteFile(filepath.Join(dir, fmt.Sprintf("desk-%d.musicxml", n)), sheet.Bytes(musicxml.WriteOptions{}), 0o600)
		}
		if t.Failed() {
			if dir := os.Getenv("DESKPART_FAILED"); dir != "" {
				os.WriteFile(filepath.Join(dir, "joined.musicxml"), sheet.Bytes(musicxml.WriteOptions{}), 0o600)
				os.WriteFile(filepath.Join(dir, "score.musicxml"), bytesOf(score), 0o600)
			}
			return
		}
	}
	assert.Greater(t, oneStaff, groups/3)
	assert.Greater(t, several, groups/5)
	text, err := musicxmltest.Validate(t, written...)
	assert.NoError(t, err, text)
}

// someStaves makes a score of some staves of another, its first bars. dealt: every stretch
// of time is left to one of them, and the others rest.
func someStaves(t *testing.T, from *musicxml.Score, staves, bars int, dealt bool, r *rand.Rand) *musicxml.Score {
	t.Helper()
	chosen := r.Perm(len(from.Parts))[:staves]
	slices.Sort(chosen)
	var list []*etree.Element
	for _, i := range chosen {
		list = append(list, firstBars(t, from, i, bars))
	}
	if dealt {
		deal(t, list, r)
	}
	return scoreOfParts(t, from, list)
}

// firstBars are the first bars of a part.
func firstBars(t *testing.T, from *musicxml.Score, i, bars int) *etree.Element {
	t.Helper()
	part, err := from.ReadPart(i, nil)
	require.NoError(t, err)
	for k, m := range musicxml.Children(part, "measure") {
		if k >= bars {
			part.RemoveChild(m)
		}
	}
	return part
}

// scoreOfParts makes a score of some parts of another.
func scoreOfParts(t *testing.T, from *musicxml.Score, list []*etree.Element) *musicxml.Score {
	t.Helper()
	doc := from.Assemble(list)
	entries := musicxml.Child(doc.Root(), "part-list")
	for _, e := range entries.ChildElements() {
		if e.Tag != "score-part" || !slices.ContainsFunc(list, func(p *etree.Element) bool { return musicxml.Attr(p, "id") == musicxml.Attr(e, "id") }) {
			entries.RemoveChild(e)
		}
	}
	text, err := doc.WriteToBytes()
	require.NoError(t, err)
	score, err := musicxml.Read(text, musicxml.ReadOptions{Name: from.Name})
	require.NoError(t, err)
	return score
}

// deal leaves each stretch of time to one of some parts.
func deal(t *testing.T, list []*etree.Element, r *rand.Rand) {
	t.Helper()
	lengths := []int64{1, 2, 3, 4, 5, 8, 16, 30}
	var ends []musicxml.Fraction
	var owners []int
	var end musicxml.Fraction
	for end.Less(musicxml.NewFraction(600, 1)) {
		end = end.Add(musicxml.NewFraction(lengths[r.IntN(len(lengths))], 1))
		ends, owners = append(ends, end), append(owners, r.IntN(len(list)))
	}
	for owner, part := range list {
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		for i := range timeline.Measures {
			m := &timeline.Measures[i]
			for k := range m.Events {
				ev := &m.Events[k]
				if ev.Kind != musicxml.Note {
					continue
				}
				from := m.Start.Add(ev.Onset)
				stretch := slices.IndexFunc(ends, func(e musicxml.Fraction) bool { return from.Less(e) })
				if owners[stretch] != owner || ends[stretch].Less(from.Add(ev.Duration)) {
					silence(ev)
				}
				forgetLines(ev.Element)
			}
		}
	}
}

// silence makes a rest of a note.
func silence(ev *musicxml.Event) {
	if ev.Grace || ev.Chord {
		ev.Element.Parent().RemoveChild(ev.Element)
		return
	}
	musicxml.RemoveChildren(ev.Element, "pitch", "unpitched", "rest", "tie", "accidental", "notations", "beam", "stem", "lyric", "notehead", "cue")
	musicxml.AddInOrder(ev.Element, etree.NewElement("rest"))
}

// forgetLines takes out what leads from note to note.
func forgetLines(note *etree.Element) {
	musicxml.RemoveChildren(note, "tie", "beam", "lyric")
	if n := musicxml.Child(note, "notations"); n != nil {
		musicxml.RemoveChildren(n, "tied", "slur", "tuplet", "glissando", "slide")
	}
}

func bytesOf(score *musicxml.Score) []byte {
	var list []*etree.Element
	for i := range score.Parts {
		part, _ := score.ReadPart(i, nil)
		list = append(list, part)
	}
	text, _ := score.Assemble(list).WriteToBytes()
	return text
}

// joinAll makes one part of a score for one player.
func joinAll(t *testing.T, catalogue *instruments.Catalogue, score *musicxml.Score) *parts.Part {
	t.Helper()
	o := parts.DefaultOptions()
	o.Plan, o.Force = []parts.PlanRow{{Part: "*", Player: "one"}}, true
	job := partstest.Job(t, score, o)
	require.Len(t, job.Assignments(), 1)
	sheet, err := job.Make(0)
	require.NoError(t, err)
	require.NotNil(t, sheet.Document)
	return sheet
}

// soundedBy lists what a part sounds, as its player reads it.
func soundedBy(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return heardIn(t, part, func(s reading.Sound) string {
		return fmt.Sprintf("%04d %s %s %s %d", s.MeasureIndex, s.Onset, s.MIDI, s.Duration, s.Grace)
	})
}

// heardIn is what is told of the sounds of a part but its cues, sorted.
func heardIn(t *testing.T, part *etree.Element, of func(s reading.Sound) string) []string {
	t.Helper()
	page, err := reading.Read(part)
	require.NoError(t, err)
	var list []string
	for _, s := range page.Sounding() {
		if !s.Cue {
			list = append(list, of(s))
		}
	}
	slices.Sort(list)
	return list
}

// wantSounds: the joined part sounds all that the staves of the score do, each note as
// often.
func wantSounds(t *testing.T, score *musicxml.Score, joined *etree.Element, name string) {
	t.Helper()
	var want []string
	for _, part := range shorthand.PartsOf(t, score) {
		want = append(want, soundedBy(t, part)...)
	}
	slices.Sort(want)
	assert.Equal(t, want, soundedBy(t, joined), name)
	page, err := reading.Read(joined)
	require.NoError(t, err)
	assert.Empty(t, page.Mismatches(), name)
}

// wantClashes: every bar with two staves at once is in the warnings, and no other.
func wantClashes(t *testing.T, score *musicxml.Score, sheet *parts.Part, name string) {
	t.Helper()
	type span struct{ from, to musicxml.Fraction }
	sounding := make([]map[int][]span, len(score.Parts))
	numbers := map[int]string{}
	for i, part := range shorthand.PartsOf(t, score) {
		page, err := reading.Read(part)
		require.NoError(t, err)
		sounding[i] = map[int][]span{}
		for _, s := range page.Sounding() {
			numbers[s.MeasureIndex] = s.Measure
			if !s.Cue && s.Grace == 0 {
				sounding[i][s.MeasureIndex] = append(sounding[i][s.MeasureIndex], span{s.Onset, s.Onset.Add(s.Duration)})
			}
		}
	}
	want := map[string]bool{}
	for a := range sounding {
		for b := range a {
			for m, notes := range sounding[a] {
				for _, x := range notes {
					for _, y := range sounding[b][m] {
						if x.from.Less(y.to) && y.from.Less(x.to) {
							want[numbers[m]] = true
						}
					}
				}
			}
		}
	}
	got := map[string]bool{}
	for _, w := range sheet.Report.Warnings {
		assert.NotEqual(t, notice.MusicLost, w.Code, name)
		if w.Code == notice.TwoAtOnce {
			got[w.Measure] = true
		}
	}
	for _, row := range sheet.Report.Warnings {
		if row.Code == notice.TwoAtOnce && !want[row.Measure] && strings.Contains(row.Text, "at once") {
			delete(got, row.Measure) // a grace note inside another note, which the reading does not time
		}
	}
	assert.Equal(t, want, got, name)
}

// notesOf lists the notes of a part as they stand there.
func notesOf(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return told(t, part, func(bar int, ev *musicxml.Event) []string {
		if ev.Kind != musicxml.Note || ev.Rest {
			return nil
		}
		e := ev.Element.Copy()
		musicxml.RemoveChildren(e, "duration", "voice", "staff", "instrument", "accidental")
		unnumber(e)
		return []string{fmt.Sprintf("%04d %s %s %s", bar, ev.Onset, ev.Duration, contentOf(e))}
	})
}

func unnumber(e *etree.Element) {
	for _, c := range e.ChildElements() {
		if c.Tag == "slur" || c.Tag == "glissando" || c.Tag == "slide" || c.Tag == "wavy-line" {
			c.RemoveAttr("number")
		}
		unnumber(c)
	}
}

func contentOf(e *etree.Element) string {
	doc := etree.NewDocument()
	doc.AddChild(e)
	text, _ := doc.WriteToString()
	return strings.Join(strings.Fields(text), " ")
}

// wantApart: taken apart, the joined part gives the notes of the parts made one by one.
func wantApart(t *testing.T, catalogue *instruments.Catalogue, score *musicxml.Score, joined *etree.Element, name string) {
	t.Helper()
	taken, err := joining.Apart(joined)
	require.NoError(t, err)
	require.Len(t, taken, len(score.Parts), name)
	job := partstest.Job(t, score, parts.DefaultOptions())
	for i, a := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		at := slices.IndexFunc(taken, func(m joining.Taken) bool { return m.Part == a.ID })
		require.GreaterOrEqual(t, at, 0, name)
		own := musicxml.Child(taken[at].Root, "part")
		assert.Equal(t, notesOf(t, partOf(sheet)), notesOf(t, own), "%s, %s", name, a.Name)
		assert.Equal(t, soundedBy(t, partOf(sheet)), soundedBy(t, own), "%s, %s as it sounds", name, a.Name)
	}
}
