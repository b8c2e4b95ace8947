package parts_test

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// dissected is a score cut up, so that ensembles can be put together of its parts.
type dissected struct {
	name    string
	entries []string // of the part-list
	parts   []string
	moves   []bool // for an instrument that transposes by more than octaves
	written bool   // its transposing parts stand as their players read them
}

// dissect reads a score of the shared ones. change, if any, changes a part first.
func dissect(t *testing.T, file string, change func(part int, e *etree.Element)) dissected {
	t.Helper()
	score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
	require.NoError(t, err)
	surveyed := partstest.Survey(t, score, parts.DefaultOptions())
	d := dissected{name: filepath.Base(file)}
	entries := map[string]*etree.Element{}
	for _, p := range score.ScoreParts() {
		entries[p.ID] = p.Element
	}
	for i := range score.Parts {
		told := surveyed.Part(i)
		_, id := surveyed.PartName(i)
		moves := told.Notes > 0 && told.Match.Instrument != nil && !told.Match.Instrument.OctaveOnly()
		d.written = d.written || moves && len(told.Source) > 0
		part, err := score.ReadPart(i, new(musicxml.Slabs))
		require.NoError(t, err)
		if change != nil {
			change(i, part)
		}
		d.parts, d.entries, d.moves = append(d.parts, textOf(t, part)), append(d.entries, textOf(t, entries[id])), append(d.moves, moves)
	}
	return d
}

func textOf(t *testing.T, e *etree.Element) string {
	t.Helper()
	doc := etree.NewDocument()
	doc.SetRoot(e.Copy())
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return text
}

// ensemble is the score of some of the parts.
func (d *dissected) ensemble(which []int) []byte {
	var b bytes.Buffer
	b.WriteString(`<score-partwise version="4.0"><part-list>`)
	for _, i := range which {
		b.WriteString(d.entries[i])
	}
	b.WriteString(`</part-list>`)
	for _, i := range which {
		b.WriteString(d.parts[i])
	}
	b.WriteString(`</score-partwise>`)
	return b.Bytes()
}

// ensembles are the score whole, its transposing parts alone, and small ensembles of
// two transposing and three other parts.
func (d *dissected) ensembles(small int) [][]int {
	var all, transposing, others []int
	for i, moves := range d.moves {
		all = append(all, i)
		if moves {
			transposing = append(transposing, i)
		} else {
			others = append(others, i)
		}
	}
	if len(transposing) == 0 {
		return nil
	}
	sets := [][]int{all, transposing}
	r := rand.New(rand.NewPCG(11, 29))
	for range small {
		var set []int
		for _, k := range r.Perm(len(transposing))[:min(2, len(transposing))] {
			set = append(set, transposing[k])
		}
		for _, k := range r.Perm(len(others))[:min(3, len(others))] {
			set = append(set, others[k])
		}
		slices.Sort(set)
		sets = append(sets, set)
	}
	return sets
}

// trials are how many small ensembles are made of each score.
func trials() int {
	if os.Getenv(musicxmltest.EveryScore) == "1" {
		return 20
	}
	return 2
}

// Every shared score without its <transpose>, whole, its transposing parts alone, and
// in small ensembles: which pitch it is in is told rightly or asked about. What is
// right the folder says: scores/written are what people edited, scores/concert was
// made of them by arithmetic; in the written mass the oboes d'amore stand as they
// sound.
func TestPitchOfScoresThatSayNothing(t *testing.T) {
	t.Parallel()
	told, asked, wrong, alike := 0, 0, 0, 0
	var questions []string
	by := map[string]int{}
	for _, file := range musicxmltest.SharedSpread(t, "scores/written/*.mxl", "scores/concert/*.mxl") {
		d := dissect(t, file, func(_ int, e *etree.Element) { removeAll(e, "transpose") })
		for _, set := range d.ensembles(trials()) {
			s := surveyOf(t, d.ensemble(set))
			want := map[bool]string{true: "written", false: "concert"}[d.written]
			pitch, why := s.Pitch()
			by[s.ToldBy()]++
			switch {
			case s.Unsaid():
				asked++
				if transposeAlike(s) {
					alike++
				}
				questions = append(questions, fmt.Sprintf("%s, parts %v: %s, %s", d.name, set, pitch, why))
			case pitch == want:
				told++
			default:
				wrong++
				t.Errorf("%s, parts %v: %s, which is wrong: %s", d.name, set, pitch, why)
			}
		}
	}
	all := told + asked + wrong
	t.Logf("%d told, %d asked about, %d wrong; told by %v\n%s", told, asked, wrong, by, strings.Join(questions, "\n"))
	assert.LessOrEqual(t, float64(asked-alike), 0.01*float64(all), "asked about although there is more than one transposition; of %d", all)
	if trials() == 20 {
		assert.LessOrEqual(t, float64(asked), 0.05*float64(all), "of %d", all)
	}
}

// transposeAlike reports whether all parts of a score are for instruments that transpose alike,
// so that nothing can tell.
func transposeAlike(s *parts.Surveyed) bool {
	different := map[int]bool{}
	for i := range s.PartNames() {
		if in := s.Part(i).Match.Instrument; in != nil {
			different[in.Interval().Chromatic%12] = true
		}
	}
	return len(different) == 1
}

func removeAll(e *etree.Element, tag string) {
	for _, found := range e.FindElements(".//" + tag) {
		found.Parent().RemoveChild(found)
	}
}

func surveyOf(t *testing.T, text []byte) *parts.Surveyed {
	t.Helper()
	score, err := musicxml.Read(text, musicxml.ReadOptions{})
	require.NoError(t, err)
	s := partstest.Survey(t, score, parts.DefaultOptions())
	return s
}

// askedAbout lists the parts that sound as if another transposition were meant.
func askedAbout(t *testing.T, s *parts.Surveyed) []int {
	t.Helper()
	job, err := s.Assign()
	require.NoError(t, err)
	var found []int
	for _, a := range job.Assignments() {
		for _, w := range a.Warnings {
			if w.Code == notice.SoundAtOdds {
				found = append(found, a.Part)
			}
		}
	}
	return found
}

// No part of the shared scores is asked about, whole or in small ensembles.
func TestRightPartsAreNotAskedAbout(t *testing.T) {
	t.Parallel()
	right, asked := 0, 0
	for _, file := range musicxmltest.SharedSpread(t, "scores/written/*.mxl", "scores/concert/*.mxl") {
		d := dissect(t, file, nil)
		for _, set := range d.ensembles(trials()) {
			for _, i := range set {
				if d.moves[i] {
					right++
				}
			}
			for _, i := range askedAbout(t, surveyOf(t, d.ensemble(set))) {
				asked++
				t.Logf("%s, parts %v: asked about part %d", d.name, set, set[i])
			}
		}
	}
	t.Logf("%d transposing parts, %d asked about", right, asked)
	assert.LessOrEqual(t, float64(asked), 0.02*float64(right))
}

// Each transposing part in turn is given a <transpose> that is wrong by a tone, a
// third or a fifth, up and down: it is asked about, and no other.
func TestWrongIntervalsAreFound(t *testing.T) {
	t.Parallel()
	wrong, found, others, asked := 0, 0, 0, 0
	for _, file := range musicxmltest.SharedSpread(t, "scores/written/*.mxl", "scores/concert/*.mxl") {
		plain := dissect(t, file, nil)
		whole := plain.ensembles(0)
		if whole == nil {
			continue
		}
		for i, moves := range plain.moves {
			for k, by := range []int{-2, 2, -3, 3, -4, 4, -7, 7} {
				if !moves || i%8 != k && os.Getenv(musicxmltest.EveryScore) != "1" {
					continue
				}
				d := plain
				d.parts = slices.Clone(plain.parts)
				d.parts[i] = mistransposed(t, plain.parts[i], by)
				questions := askedAbout(t, surveyOf(t, d.ensemble(whole[0])))
				wrong++
				others += len(whole[0]) - 1
				for _, q := range questions {
					if q == i {
						found++
					} else {
						asked++
						t.Logf("%s: part %d wrong by %d: asked about part %d", d.name, i, by, q)
					}
				}
				if !slices.Contains(questions, i) {
					t.Logf("%s: part %d wrong by %d: not found", d.name, i, by)
				}
			}
		}
	}
	t.Logf("%d wrong intervals, %d found; of %d other parts beside them %d asked about", wrong, found, others, asked)
	assert.GreaterOrEqual(t, float64(found), 0.9*float64(wrong))
	assert.LessOrEqual(t, float64(asked), 0.02*float64(others))
}

// mistransposed adds semitones to every <transpose> of a part, or writes one where
// there is none.
func mistransposed(t *testing.T, part string, by int) string {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromString(part))
	steps := map[int]int{2: 1, 3: 2, 4: 2, 7: 4}
	diatonic := steps[max(by, -by)]
	if by < 0 {
		diatonic = -diatonic
	}
	said := doc.FindElements("//transpose")
	if len(said) == 0 {
		e := doc.FindElement("//attributes").CreateElement("transpose")
		e.CreateElement("diatonic").SetText("0")
		e.CreateElement("chromatic").SetText("0")
		said = append(said, e)
	}
	for _, e := range said {
		for tag, add := range map[string]int{"diatonic": diatonic, "chromatic": by} {
			if value := e.SelectElement(tag); value != nil {
				n, err := strconv.Atoi(strings.TrimSpace(value.Text()))
				require.NoError(t, err)
				value.SetText(strconv.Itoa(n + add))
			}
		}
	}
	text, err := doc.WriteToString()
	require.NoError(t, err)
	return text
}

// An ensemble small enough to work out: chords of C major, ten bars; a clarinet in
// B flat reads them a major second higher, a horn in F a fifth.
func TestPitchByEar(t *testing.T) {
	t.Parallel()
	flute := shorthand.Entry{Name: "Flute", Music: "E5:h G5:h | F5:h D5:h | E5:h D5:h | C5:w | C5:h A4:h | D5:h B4:h | G5:h F5:h | A5:h F5:h | D5:h G5:h | E5:w"}
	cello := shorthand.Entry{Name: "Violoncello", Music: "C3:h C3:h | F2:h G2:h | C3:h G2:h | C3:w | A2:h F2:h | D3:h G2:h | E3:h G2:h | F2:h D3:h | G2:h B2:h | C3:w"}
	const clarinetSounding = "G4:h C5:h | A4:h B4:h | G4:h B4:h | G4:w | E4:h C5:h | F4:h G4:h | C5:h B4:h | C5:h D5:h | B4:h D5:h | G4:w"
	const clarinetRead = "A4:h D5:h | B4:h C#5:h | A4:h C#5:h | A4:w | F#4:h D5:h | G4:h A4:h | D5:h C#5:h | D5:h E5:h | C#5:h E5:h | A4:w"
	const hornRead = "G4:h B4:h | G4:h D5:h | G4:h D5:h | B4:w | E4:h E4:h | E4:h F#4:h | D4:h A4:h | E4:h E4:h | F#4:h A4:h | G4:h D4:h"
	part := func(name, key, music string) shorthand.Entry {
		return shorthand.Entry{Name: name, Music: key + music}
	}
	for _, test := range []struct {
		why       string
		score     []shorthand.Entry
		pitch, by string
		asked     bool
		atOdds    string // what is asked about the second part
	}{
		{why: "the sound alone tells: no signature anywhere", score: []shorthand.Entry{flute, part("Clarinet in Bb", "", clarinetRead), cello}, pitch: "written", by: "ear"},
		{why: "and that it is in concert pitch", score: []shorthand.Entry{flute, part("Clarinet in Bb", "", clarinetSounding), cello}, pitch: "concert", by: "ear"},
		{why: "the sounding signature on a written part misleads nobody",
			score: []shorthand.Entry{flute, part("Clarinet in Bb", "[key 0] ", clarinetRead), cello}, pitch: "written", by: "ear"},
		{why: "horn and clarinet alone", score: []shorthand.Entry{part("Horn in F", "", hornRead), part("Clarinet in Bb", "", clarinetRead)}, pitch: "written", by: "ear"},
		{why: "two clarinets alone tell nothing", score: []shorthand.Entry{part("Clarinet in Bb 1", "", clarinetRead), part("Clarinet in Bb 2", "", clarinetRead)},
			pitch: "concert", by: "nothing", asked: true},
		{why: "a part that says the wrong transposition", score: []shorthand.Entry{flute, part("Clarinet in Bb", "[transpose -2 -3] ", clarinetRead), cello, part("Horn in F", "[transpose -4 -7] ", hornRead)},
			pitch: "written", by: "score", atOdds: "the part would sound right with the others a minor second higher: is it written for Clarinet in B♭?"},
		{why: "a part that is for another instrument than its name says", score: []shorthand.Entry{flute, part("Clarinet in A", "[transpose -2 -3] ", clarinetRead), cello, part("Horn in F", "[transpose -4 -7] ", hornRead)},
			pitch: "written", by: "score", atOdds: "the part would sound right with the others a minor second higher: is it written for Clarinet in B♭?"},
		{why: "a part that nobody knows, in written pitch", score: []shorthand.Entry{flute, part("Zinkoid", "", hornRead), cello, part("Horn in F", "[transpose -4 -7] ", hornRead)},
			pitch: "written", by: "score", atOdds: "the part would sound right with the others a perfect fourth higher: is it in written pitch, or for another instrument?"},
	} {
		score := shorthand.Score(t, test.score...)
		s := surveyOf(t, score)
		pitch, why := s.Pitch()
		assert.Equal(t, test.pitch, pitch, "%s: %s", test.why, why)
		assert.Equal(t, test.by, s.ToldBy(), test.why)
		assert.Equal(t, test.asked, s.Unsaid(), test.why)
		for i := range test.score {
			want := ""
			if i == 1 {
				want = test.atOdds
			}
			assert.Equal(t, want, s.SoundAtOdds(i), "%s: part %d", test.why, i)
		}
	}
}
