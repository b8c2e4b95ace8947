package explain_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/explain"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
)

// heard lists a part's sounding pitches and lengths: as its page is read, or as
// its <pitch> elements say.
func heard(t *testing.T, part *etree.Element, asRead bool) []string {
	t.Helper()
	page, err := reading.Read(part)
	require.NoError(t, err)
	sounds := page.Sounding()
	if asRead {
		sounds = page.SoundingAsRead()
	}
	var list []string
	for _, s := range sounds {
		if !s.Unpitched && !s.Doubling {
			list = append(list, fmt.Sprint(s.MIDI, " ", s.Duration))
		}
	}
	return list
}

// bars keeps some measures of a part, with all attributes before them.
func bars(part *etree.Element, first, last int) *etree.Element {
	out := etree.NewElement("part")
	for i, m := range musicxml.Children(part, "measure") {
		kept := m.Copy()
		switch {
		case i > last:
			return out
		case i < first:
			for _, e := range kept.ChildElements() {
				if e.Tag != "attributes" {
					kept.RemoveChild(e)
				}
			}
		}
		out.AddChild(kept)
	}
	return out
}

// TestExcerptsSoundAsTheScore cuts passages out of real movements and explains
// them: what is given and what is answered sound as the score does there, by the
// page reader, which shares no code with the transposition; and the files validate.
func TestExcerptsSoundAsTheScore(t *testing.T) {
	t.Parallel()
	files := musicxmltest.SharedFiles(t, "scores/written/*.mxl", "scores/concert/*.mxl")
	if testing.Short() {
		files = files[:2]
	}
	c := catalogue(t)
	var sheets []string
	passages := 0
	for _, file := range files {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{SkipFiles: true})
		require.NoError(t, err)
		for i := 0; i < len(score.Parts); i += 5 {
			source, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			measures := musicxml.Children(source, "measure")
			first := len(measures) / 3
			last := min(first+7, len(measures)-1)
			x := explain.Excerpt{Part: score.Parts[i].ID, First: musicxml.Attr(measures[first], "number"), Last: musicxml.Attr(measures[last], "number")}
			for _, from := range []explain.Side{explain.Sounding, explain.Written} {
				task := explain.Task{Instrument: c.ByID("horn-f"), From: from}
				given, err := x.Read(score, c, task)
				if err != nil {
					continue // rests, percussion, two staves
				}
				e, err := explain.Explain(task, given)
				require.NoError(t, err, "%s, %s", file, x.Part)
				// A tie that leads into the passage is cut: what it carried is printed.
				want := heard(t, bars(source, first, last), false)
				assert.Equal(t, want, heard(t, given, true), "%s, %s, given %s", filepath.Base(file), x.Part, from)
				assert.Equal(t, want, heard(t, e.Solution.Answer, true), "%s, %s, answered from %s", filepath.Base(file), x.Part, from)
				passages++
				sheets = append(sheets, writeSheet(t, e.Solution.Given), writeSheet(t, e.Solution.Answer))
			}
		}
	}
	assert.Greater(t, passages, 4)
	out, err := musicxmltest.Validate(t, sheets...)
	assert.NoError(t, err, invalid(out))
	t.Logf("%d passages", passages)
}

// invalid keeps the lines of the validator that complain.
func invalid(out string) string {
	var lines []string
	for _, line := range strings.Split(out, "\n") {
		if !strings.HasSuffix(line, " validates") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines[:min(len(lines), 20)], "\n")
}

func writeSheet(t *testing.T, part *etree.Element) string {
	t.Helper()
	data, err := explain.Sheet{Title: "Passage", Name: "Horn in F", Sound: "brass.french-horn", Program: 61, Part: part,
		Fields: []explain.Field{{Name: "deskpart-exercise", Value: "1"}}}.Bytes()
	require.NoError(t, err)
	file, err := os.CreateTemp(t.TempDir(), "*.musicxml")
	require.NoError(t, err)
	_, err = file.Write(data)
	require.NoError(t, err)
	require.NoError(t, file.Close())
	return file.Name()
}

// TestInstrumentsAreNamed keeps the names of instruments fit for a sentence.
func TestInstrumentsAreNamed(t *testing.T) {
	t.Parallel()
	tests := map[string]string{"English Horn": "English horn", "Horn in F": "horn in F", "Clarinet in B♭": "clarinet in B♭", "Double Bass": "double bass"}
	for name, want := range tests {
		assert.Equal(t, want, explain.InSentence(name))
	}
}
