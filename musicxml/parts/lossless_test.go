package parts_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/audit"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/sounding"
)

// soloists are given every part with chords or several voices: four that sound one note
// at a time, and one that reads one staff and plays double stops.
var soloists = []string{"clarinet-bflat", "alto-saxophone", "horn-f", "flute", "violin"}

// TestNothingFallsSilent gives every part to each of the soloists, and divides every
// shared staff among its players: wherever the score sounds, the part does, or one of
// the players. What the parts say then is what an audit of the score says too.
func TestNothingFallsSilent(t *testing.T) {
	few := []string{"scores/songs/[1-4]_*.mxl", "scores/quartets/sq7093885.mxl", "scores/leadsheets/F*.mxl", "scores/written/Bach_BWV.232_01.mxl",
		"testsuite/xmlFiles/[034]*.xml"}
	given := &figures{}
	t.Cleanup(func() {
		t.Logf("%d parts with chords or several voices, given away %d times; %d of %d notes left out, named in %d bars", given.parts, given.times, given.leftOut, given.notes, given.bars)
	})
	musicxmltest.EachFile(t, musicxmltest.SharedSample(t, few, every), func(t *testing.T, path string) {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			t.Skip(err)
		}
		playersSound(t, score)
		whole := jobOrSkip(t, score, parts.DefaultOptions())
		for i, a := range whole.Assignments() {
			source, err := score.ReadPart(a.Part, nil)
			require.NoError(t, err)
			if manyAtOnce(source) {
				given.giveAway(t, whole, i, source)
			}
		}
	})
}

// jobOrSkip is partstest.Job for scores of which some cannot be read.
func jobOrSkip(t *testing.T, score *musicxml.Score, o parts.Options) *parts.Job {
	t.Helper()
	surveyed, err := parts.Survey(score, instrumentstest.Load(t), o)
	if err != nil {
		t.Skip(err)
	}
	job, err := surveyed.Assign()
	require.NoError(t, err)
	return job
}

// playersSound divides every shared staff among its players.
func playersSound(t *testing.T, score *musicxml.Score) {
	t.Helper()
	o := parts.DefaultOptions()
	o.Players = true
	job := jobOrSkip(t, score, o)
	reports := make([]parts.Report, len(job.Assignments()))
	for i := range reports {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		reports[i] = sheet.Report
	}
	assert.Empty(t, job.Silent(reports), "the players together")
}

// figures of what was given away.
type figures struct {
	sync.Mutex
	parts, times, notes, leftOut, bars int
}

// count notes down what a soloist has of a part: where it is less than the score has,
// that is said.
func (f *figures) count(t *testing.T, source *etree.Element, sheet *parts.Part, who string) {
	t.Helper()
	all := sounded(t, source)
	out, bars := 0, 0
	for _, w := range sheet.Report.Warnings {
		if w.Code == notice.LeftOut {
			bars++
			out += leftOut(w.Text)
		}
	}
	if has := sounded(t, sheet.Document.Root().SelectElement("part")); has < all {
		assert.Positive(t, out, "%s: %d of %d notes and nothing is said", who, has, all)
	}
	f.Lock()
	defer f.Unlock()
	f.times, f.notes, f.leftOut, f.bars = f.times+1, f.notes+all, f.leftOut+out, f.bars+bars
}

// sounded counts the notes of a part that sound. Two that are one sound, a unison of two
// voices or a head that stands twice, count once: one player can only play it once.
func sounded(t *testing.T, part *etree.Element) (n int) {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	for i := range timeline.Measures {
		seen := map[string]bool{}
		for k := range timeline.Measures[i].Events {
			ev := &timeline.Measures[i].Events[k]
			pitch := ev.Element.SelectElement("pitch")
			if pitch == nil || ev.Cue {
				continue
			}
			at := fmt.Sprint(ev.Onset, musicxml.ChildText(pitch, "step"), musicxml.ChildText(pitch, "alter"), musicxml.ChildText(pitch, "octave"))
			if ev.Grace || !seen[at] {
				n++
			}
			seen[at] = seen[at] || !ev.Grace
		}
	}
	return n
}

// leftOut counts the notes that a warning names: "left out C4, E4, as …", "left out 7 notes, …".
func leftOut(text string) (n int) {
	names, _, _ := strings.Cut(strings.TrimPrefix(text, "left out "), ", as written")
	if _, err := fmt.Sscanf(names, "%d notes", &n); err == nil {
		return n
	}
	return len(strings.Split(names, ", "))
}

// giveAway gives one part to every soloist.
func (f *figures) giveAway(t *testing.T, job *parts.Job, i int, source *etree.Element) {
	t.Helper()
	want, err := sounding.Read(source)
	require.NoError(t, err)
	own := faultsOf(t, source)
	a := job.Assignment(i)
	f.Lock()
	f.parts++
	f.Unlock()
	for _, to := range soloists {
		given, err := job.Give(i, parts.PlanRow{Instrument: to, Octave: "auto"})
		require.NoError(t, err)
		sheet, err := given.Make(i)
		require.NoError(t, err)
		got, err := sounding.Read(sheet.Document.Root().SelectElement("part"))
		require.NoError(t, err)
		assert.Empty(t, want.Missing(got), "%s (%s) for %s", a.Name, a.ID, to)
		f.count(t, source, sheet, fmt.Sprintf("%s (%s) for %s", a.Name, a.ID, to))
		for _, w := range sheet.Report.Warnings {
			assert.NotEqual(t, notice.MusicLost, w.Code, "%s (%s) for %s: %s", a.Name, a.ID, to, w.Text)
			if isOfAudit(w.Code) {
				assert.Contains(t, own, fault{w.Code, w.Measure}, "%s (%s) for %s, measure %s, beat %s: %s", a.Name, a.ID, to, w.Measure, w.Beat, w.Text)
			}
		}
	}
}

// fault is something that an audit finds, at its bar.
type fault struct {
	code    notice.Code
	measure string
}

// faultsOf audits a part as the score has it.
func faultsOf(t *testing.T, source *etree.Element) map[fault]bool {
	t.Helper()
	root := etree.NewElement("score-partwise")
	root.AddChild(source.Copy())
	found := map[fault]bool{}
	for _, w := range audit.Examine(audit.Part{Root: root, Catalogue: instrumentstest.Load(t)}) {
		found[fault{w.Code, w.Measure}] = true
	}
	return found
}

func isOfAudit(code notice.Code) bool { return slices.Contains(audit.Codes, code) }

// manyAtOnce reports whether a part has chords, or notes of several voices or staves.
func manyAtOnce(part *etree.Element) bool {
	voices := map[string]bool{}
	for _, n := range part.FindElements("measure/note") {
		if n.SelectElement("chord") != nil {
			return true
		}
		if n.SelectElement("rest") == nil {
			voices[musicxml.ChildText(n, "voice")+"/"+musicxml.ChildText(n, "staff")] = true
		}
	}
	return len(voices) > 1
}
