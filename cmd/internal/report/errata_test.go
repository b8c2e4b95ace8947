package report_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/collate"
)

// The layout is the project's own: no published form of errata was readable
// (trade/part-preparation.md, section 9); its columns are those named there.
var errata = []collate.Result{
	{File: "flute.xml", Part: "Flute"},
	{File: "horn.xml", Part: "Horn in F", Remarks: []string{"written without key signature"}, Differences: []collate.Difference{
		{Measure: "12", Beat: "3", Kind: collate.Pitch, Text: "F#4 stands, G4 should", Stands: "F#4", Should: "G4"},
		{Measure: "103", Kind: collate.Bars, Text: "bar 103 is missing", Should: "bar 103"},
	}},
	{Part: "Oboe", Differences: []collate.Difference{{Kind: collate.Missing, Text: "no file has this part", Should: "a part"}}},
	{File: "x.xml", Part: "Viola\n2", Differences: []collate.Difference{{Kind: collate.Unreadable, Text: "the file cannot be read", Stands: "a file"}}},
}

func TestWriteErrata(t *testing.T) {
	var b strings.Builder
	require.NoError(t, report.WriteErrata(&b, errata))
	assert.Equal(t, `Flute (flute.xml): agrees
Horn in F (horn.xml):
    bar  beat  what stands  what should stand
    12   3     F#4          G4
    103  –     –            bar 103
    note: written without key signature
Oboe: no file has this part
Viola\n2 (x.xml): the file cannot be read
4 parts: 1 agree, 3 differ, in 4 places
`, b.String(), "one line a difference; names cannot break the list")
}

func TestWriteErrataOfNothing(t *testing.T) {
	var b strings.Builder
	require.NoError(t, report.WriteErrata(&b, nil))
	assert.Equal(t, "no part was there to compare\n", b.String())
}

func TestWriteCSV(t *testing.T) {
	var b strings.Builder
	require.NoError(t, report.WriteCSV(&b, errata))
	assert.Equal(t, `part,file,bar,beat,kind,stands,should,text
Horn in F,horn.xml,12,3,pitch,F#4,G4,"F#4 stands, G4 should"
Horn in F,horn.xml,103,,bars,,bar 103,bar 103 is missing
Oboe,,,,missing,,a part,no file has this part
"Viola
2",x.xml,,,unreadable,a file,,the file cannot be read
`, b.String(), "one row a difference")
}
