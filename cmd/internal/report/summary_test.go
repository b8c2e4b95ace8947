package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/transpose/pitch"
)

func TestSummary(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why string
		make      func(*report.Summary)
		want      string
		person    bool
	}{
		{"nothing", "an empty run", func(*report.Summary) {}, "0 scores, 0 parts; 0 files written\n", false},
		{"one", "one of each", func(s *report.Summary) { s.Files, s.Parts, s.Written = 1, 1, 1 }, "1 score, 1 part; 1 file written\n", false},
		{"done before", "nothing written", func(s *report.Summary) { s.Files, s.Parts, s.Unchanged = 2, 30, 2 },
			"2 scores, 30 parts; 0 files written, 2 scores already done\n", false},
		{"warnings", "the most frequent first, then by name", func(s *report.Summary) {
			s.Files, s.Parts, s.Written = 2, 30, 32
			s.Warn("below-range")
			s.Warn("assumed-key")
			s.Warn("above-range")
			s.Warn("above-range")
		}, "2 scores, 30 parts; 32 files written\n4 warnings:\n      2  above-range  a note lies above the instrument's range\n      1  assumed-key  the part's name does not say the instrument's key, so the usual one was taken\n      1  below-range  a note lies below the instrument's range\n", false},
		{"rejected", "equal reasons together", func(s *report.Summary) {
			s.Files = 3
			s.Reject("not-xml")
			s.Reject("not-xml")
			s.Reject("opus")
		}, "3 scores, 0 parts; 0 files written\n3 rejected files:\n      2  not-xml  the file breaks the rules of XML\n      1  opus     the file is a list of scores and no score\n", true},
		{"read only", "a run that only looks counts no files written", func(s *report.Summary) { s.Files, s.Parts, s.ReadOnly = 1, 17, true },
			"1 score, 17 parts\n", false},
		{"stopped", "what is left is said", func(s *report.Summary) { s.Files, s.Left, s.Stopped = 3, 97, "stopped by interrupt" },
			"3 scores, 0 parts; 0 files written, 97 scores not come to\n", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var s report.Summary
			c.make(&s)
			var b strings.Builder
			require.NoError(t, s.WriteText(&b, nil))
			assert.Equal(t, c.want, b.String(), c.why)
			assert.Equal(t, c.person, s.NeedsPerson(), c.why)
		})
	}
}

func TestJSONLine(t *testing.T) {
	t.Parallel()
	line, err := report.JSONLine(map[string]string{"name": "B♭ <1>\n"})
	require.NoError(t, err)
	assert.Equal(t, `{"name":"B♭ <1>\n"}`+"\n", string(line))
	line, err = report.JSONLine(report.Summary{Files: 1})
	require.NoError(t, err)
	assert.Equal(t, `{"files":1,"parts":0,"written":0,"unchanged":0,"left":0,"warnings":{},"rejected":{}}`+"\n", string(line))
	_, err = report.JSONLine(func() {})
	assert.Error(t, err)
}

func TestSummaryInGerman(t *testing.T) {
	t.Parallel()
	said := textstest.In(t, pitch.German)
	s := report.Summary{Files: 1, Parts: 2, Written: 3, Unchanged: 1}
	s.Warn("above-range")
	s.Reject("not-xml")
	var b strings.Builder
	require.NoError(t, s.WriteText(&b, said))
	assert.Equal(t, `1 Partitur, 2 Stimmen; 3 Dateien geschrieben, 1 Partitur schon gemacht
1 Warnung:
      1  above-range  eine Note liegt über dem Umfang des Instruments
1 abgelehnte Datei:
      1  not-xml  die Datei verletzt die Regeln von XML
`, b.String())
}
