package parts_test

import (
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

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
	for _, path := range musicxmltest.SharedSample(t, few, every) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
			if err != nil {
				t.Skip(err)
			}
			o := parts.DefaultOptions()
			o.Players = true
			surveyed, err := parts.Survey(score, theCatalogue(t), o)
			if err != nil {
				t.Skip(err)
			}
			job, err := surveyed.Assign()
			require.NoError(t, err)
			reports := make([]parts.Report, len(job.Assignments()))
			for i, a := range job.Assignments() {
				source, err := score.ReadPart(a.Part, nil)
				require.NoError(t, err)
				sheet, err := job.Make(i)
				require.NoError(t, err)
				reports[i] = sheet.Report
				if a.Player == 0 && manyAtOnce(source) {
					giveAway(t, job, i, source)
				}
			}
			assert.Empty(t, job.Silent(reports), "the players together")
		})
	}
}

// giveAway gives one part to every soloist.
func giveAway(t *testing.T, job *parts.Job, i int, source *etree.Element) {
	t.Helper()
	want, err := sounding.Read(source)
	require.NoError(t, err)
	own := faultsOf(t, source)
	a := job.Assignment(i)
	for _, to := range soloists {
		given, err := job.Give(i, parts.PlanRow{Instrument: to, Octave: "auto"})
		require.NoError(t, err)
		sheet, err := given.Make(i)
		require.NoError(t, err)
		got, err := sounding.Read(sheet.Document.Root().SelectElement("part"))
		require.NoError(t, err)
		assert.Empty(t, want.Missing(got), "%s (%s) for %s", a.Name, a.ID, to)
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
	for _, w := range audit.Examine(audit.Part{Root: root, Catalogue: theCatalogue(t)}) {
		found[fault{w.Code, w.Measure}] = true
	}
	return found
}

func isOfAudit(code notice.Code) bool {
	for _, c := range audit.Codes {
		if c == code {
			return true
		}
	}
	return false
}

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
