package parts_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// spread are scores of each kind: an orchestra in written and in concert pitch, a
// quartet, songs, lead sheets, and all files of the test suite.
var spread = []string{
	"scores/written/Haydn_104_1.mxl", "scores/concert/Brahms_Op.90_3.concert.mxl", "scores/quartets/sq7093885.mxl",
	"scores/songs/*.mxl", "scores/leadsheets/*.mxl", "testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml",
}

// Under DESKPART_EVERY_SCORE=1 the tests read every shared score, not only a few:
//
//	DESKPART_EVERY_SCORE=1 go test ./musicxml/parts -run Accept
var (
	scores = []string{"scores/*/*.mxl"}
	every  = []string{"scores/*/*.mxl", "testsuite/xmlFiles/*.xml", "testsuite/xmlFiles/*.musicxml", "testsuite/xmlFiles/*.mxl"}
)

// TestAcceptance checks what must hold of every part file (coverage section 15,
// part-preparation table (a)), by code apart from the copyist.
func TestAcceptance(t *testing.T) {
	for _, file := range musicxmltest.SharedSample(t, spread, every) {
		t.Run(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)), func(t *testing.T) {
			t.Parallel()
			accept(t, file, parts.DefaultOptions())
		})
	}
}

// TestAcceptanceOfPlayersAndCues checks parts taken from shared staves, with cues.
func TestAcceptanceOfPlayersAndCues(t *testing.T) {
	few := []string{"scores/concert/Brahms_Op.90_3.concert.mxl", "scores/written/Bach_BWV.232_01.mxl"}
	for _, file := range musicxmltest.SharedSample(t, few, scores) {
		t.Run(strings.TrimSuffix(filepath.Base(file), filepath.Ext(file)), func(t *testing.T) {
			t.Parallel()
			o := parts.DefaultOptions()
			o.Players, o.Cues, o.Language = true, 8, "de"
			accept(t, file, o)
		})
	}
}

// accept makes all parts of a score and checks each.
func accept(t *testing.T, file string, o parts.Options) {
	t.Helper()
	score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
	if err != nil {
		t.Skipf("refused: %v", err)
	}
	facts, err := partstest.Read(score)
	if err != nil {
		t.Skipf("refused: %v", err)
	}
	job := partstest.Job(t, score, o)
	assignments := job.Assignments()
	for i, a := range assignments {
		sheet, err := job.Make(i)
		require.NoError(t, err, a.Label)
		acceptSheet(t, facts, a, sheet, o)
		acceptAudit(t, score, a, sheet)
	}
}

// acceptAudit: what the audit finds in a part it finds in the score, at the same bar.
func acceptAudit(t *testing.T, score *musicxml.Score, a parts.Assignment, sheet *parts.Part) {
	t.Helper()
	var own map[fault]bool
	for _, w := range sheet.Report.Warnings {
		if !isOfAudit(w.Code) {
			continue
		}
		if own == nil {
			source, err := score.ReadPart(a.Part, nil)
			require.NoError(t, err)
			own = faultsOf(t, source)
		}
		if !own[fault{w.Code, w.Measure}] {
			t.Errorf("%s: measure %s, beat %s: %s (%s)", a.Label, w.Measure, w.Beat, w.Text, w.Code)
		}
	}
}

// acceptSheet checks one part against the score's facts.
func acceptSheet(t *testing.T, facts *partstest.Facts, a parts.Assignment, sheet *parts.Part, o parts.Options) {
	t.Helper()
	warned := map[string]bool{}
	for _, w := range sheet.Report.Warnings {
		if w.Code == "pause-elsewhere" {
			warned[w.Measure] = true
		}
	}
	for _, fault := range facts.Check(partstest.Part{Index: a.Part, Document: sheet.Document, Player: a.Player > 0,
		RestBars: o.RestBars, Harp: a.Instrument != nil && a.Instrument.Kind == "harp", Warned: warned}) {
		t.Errorf("%s: %s", a.Label, fault)
	}
}
