package collate_test

import (
	"fmt"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// rewritings are ways in which another copyist's file says the same. What each
// means is MusicXML 4.0's definition of the elements it touches.
var rewritings = []struct {
	name, why string
	rewrite   func(t *testing.T, doc *etree.Document)
	remark    string // that must be made of every transposing part
}{
	{"other divisions", "durations are counted in other units", func(t *testing.T, doc *etree.Document) {
		for _, path := range []string{"divisions", "duration", "offset"} {
			for _, e := range doc.FindElements("//" + path) {
				n, err := strconv.ParseFloat(e.Text(), 64)
				require.NoError(t, err)
				e.SetText(strconv.FormatFloat(3*n, 'f', -1, 64))
			}
		}
	}, ""},
	{"other voices", "numbers of voices are names", func(t *testing.T, doc *etree.Document) {
		for _, e := range doc.FindElements("//note/voice") {
			e.SetText("v" + e.Text())
		}
	}, ""},
	{"other clef", "where a note is drawn does not change it", func(t *testing.T, doc *etree.Document) {
		for _, e := range doc.FindElements("//clef") {
			if s := e.SelectElement("sign"); s.Text() == "G" || s.Text() == "F" {
				s.SetText("C")
				if e.SelectElement("line") != nil {
					e.SelectElement("line").SetText("4")
				}
			}
		}
	}, ""},
	{"signatures tone by tone", "a signature is what it makes of the letters", func(t *testing.T, doc *etree.Document) {
		for _, e := range doc.FindElements("//key/fifths") {
			fifths, err := strconv.Atoi(e.Text())
			require.NoError(t, err)
			k := e.Parent()
			for len(k.Child) > 0 {
				k.RemoveChildAt(0)
			}
			for step := pitch.C; step <= pitch.B; step++ {
				k.CreateElement("key-step").SetText(step.String())
				k.CreateElement("key-alter").SetText(strconv.Itoa(pitch.SignatureAlter(fifths, step)))
			}
		}
	}, ""},
	{"no name", "found by its notes alone", func(t *testing.T, doc *etree.Document) {
		for _, tag := range []string{"part-name", "part-abbreviation", "instrument-name", "part-name-display"} {
			for _, e := range doc.FindElements("//part-list//" + tag) {
				for len(e.Child) > 0 {
					e.RemoveChildAt(0)
				}
			}
		}
	}, ""},
	{"multi-bar rests in one measure", "as some programs write them, the numbers leaping", func(t *testing.T, doc *etree.Document) {
		measures := doc.FindElements("//measure")
		for i, m := range measures {
			e := m.FindElement("attributes/measure-style/multiple-rest")
			if e == nil {
				continue
			}
			n, err := strconv.Atoi(e.Text())
			require.NoError(t, err)
			for _, rest := range measures[i+1 : i+n] {
				if rest.FindElement("barline") != nil || rest.FindElement("direction") != nil || m.SelectAttrValue("implicit", "") == "yes" {
					return
				}
			}
			for _, rest := range measures[i+1 : i+n] {
				rest.Parent().RemoveChild(rest)
			}
		}
	}, ""},
	{"no transposition said", "the name tells, or the interval that fits", func(t *testing.T, doc *etree.Document) {
		for _, e := range doc.FindElements("//attributes/transpose") {
			e.Parent().RemoveChild(e)
		}
	}, "says no transposition"},
	{"concert pitch", "the part as the score has it", nil, ""},
}

// TestRewrittenPartsAgree: parts that say the same in another way agree.
func TestRewrittenPartsAgree(t *testing.T) {
	paths := append(musicxmltest.SharedSpread(t, "scores/concert/*.mxl", "scores/songs/*.mxl"), filepath.Join("testdata", "tide-tables.musicxml"))
	for _, path := range paths {
		score := readScore(t, path)
		s := collator(t, score)
		for _, r := range rewritings {
			t.Run(filepath.Base(path)+", "+r.name, func(t *testing.T) {
				files := extract(t, score, parts.DefaultOptions())
				if r.rewrite == nil {
					files = concertParts(t, score)
				}
				for i := range files {
					if r.rewrite != nil {
						r.rewrite(t, files[i].doc)
					}
					if r.name == "no name" {
						files[i].name = fmt.Sprintf("file%d.musicxml", i)
					}
				}
				results, err := s.Collate(readFiles(t, files...), collate.Options{Complete: true}, nil)
				require.NoError(t, err)
				assert.Empty(t, lines(results), r.why)
				checkRemarks(t, results, r.remark)
			})
		}
	}
}

// concertParts cuts a score into files that leave its notes as they are.
func concertParts(t *testing.T, score *musicxml.Score) []partFile {
	t.Helper()
	made := extract(t, score, parts.DefaultOptions())
	c := instrumentstest.Load(t)
	var files []partFile
	for i, f := range made {
		part := f.doc.FindElement("score-partwise/part")
		source, err := score.ReadPart(i, nil)
		require.NoError(t, err)
		in := c.Match(instruments.Query{Name: score.ScoreParts()[i].Name}).Instrument
		if in == nil || in.OctaveOnly() {
			files = append(files, f)
			continue
		}
		// The system's marks stay; the notes and signatures are the score's.
		want, got := source.SelectElements("measure"), part.SelectElements("measure")
		require.Len(t, got, len(want))
		for k := range want {
			takeNotes(t, got[k], want[k])
		}
		files = append(files, f)
	}
	return files
}

// takeNotes gives the pitched notes and the key of a bar those of another.
func takeNotes(t *testing.T, to, from *etree.Element) {
	t.Helper()
	for _, e := range to.FindElements("attributes/transpose") {
		e.Parent().RemoveChild(e)
	}
	keys, sourceKeys := to.FindElements("attributes/key"), from.FindElements("attributes/key")
	for i := range min(len(keys), len(sourceKeys)) {
		keys[i].Parent().InsertChildAt(keys[i].Index(), sourceKeys[i].Copy())
		keys[i].Parent().RemoveChild(keys[i])
	}
	pitched, source := to.FindElements("note/pitch"), from.FindElements("note/pitch")
	require.Len(t, pitched, len(source))
	for i := range pitched {
		note, sourceNote := pitched[i].Parent(), source[i].Parent()
		note.InsertChildAt(pitched[i].Index(), source[i].Copy())
		note.RemoveChild(pitched[i])
		for _, old := range note.SelectElements("accidental") {
			note.RemoveChild(old)
		}
		if sign := sourceNote.SelectElement("accidental"); sign != nil {
			musicxml.AddInOrder(note, sign.Copy())
		}
	}
}

// checkRemarks looks for a remark at every part of a transposing instrument.
func checkRemarks(t *testing.T, results []collate.Result, remark string) {
	t.Helper()
	if remark == "" {
		return
	}
	found := 0
	for _, r := range results {
		for _, text := range r.Remarks {
			if len(text) >= len(remark) && text[:len(remark)] == remark {
				found++
			}
		}
	}
	for _, r := range results {
		if in := instrumentstest.Load(t).Match(instruments.Query{Name: r.Part}).Instrument; in != nil && !in.OctaveOnly() {
			found--
		}
	}
	assert.GreaterOrEqual(t, found, 0, "every transposing part gets its remark")
}
