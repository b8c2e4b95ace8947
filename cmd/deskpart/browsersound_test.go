package main

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving/svgread"
)

// sounds are the notes of a part by bar, counted from 1, as MIDI numbers in order
// of height, as far as they are printed.
type sounds map[int][]float64

func (s sounds) add(t sounds) {
	for bar, notes := range t {
		s[bar] = append(s[bar], notes...)
		sort.Float64s(s[bar])
	}
}

// playersPart is a part as extract writes it.
type playersPart struct {
	id, label string
	element   *etree.Element
	staves    int
	bars      int
	// transpose is what is added to written pitch, in semitones, by bar and staff
	// from 1, at the bar's start; see transposition.
	transpose func(bar, staff int) float64
	shifts    bool // it has octave lines
}

func (p *playersPart) sounds() sounds { return soundsIn(p.element, true) }

// written are the notes as they are read.
func (p *playersPart) written() sounds { return soundsIn(p.element, false) }

// extracted are the parts that extract writes with these flags, in order.
func extracted(t *testing.T, score string, flags ...string) []playersPart {
	t.Helper()
	dir := t.TempDir()
	_, errs, code := command(t, append([]string{"extract", score, "--out", dir, "--quiet"}, flags...)...)
	require.NotEqual(t, exitCannotRun, code, errs)
	manifests, err := filepath.Glob(filepath.Join(dir, "*", "manifest.json"))
	require.NoError(t, err)
	require.Len(t, manifests, 1, errs)
	data, err := os.ReadFile(manifests[0])
	require.NoError(t, err)
	var manifest struct {
		Parts []struct {
			SourcePart string `json:"source_part"`
			Label      string `json:"label"`
			File       string `json:"file"`
		} `json:"parts"`
	}
	require.NoError(t, json.Unmarshal(data, &manifest))
	var list []playersPart
	for _, row := range manifest.Parts {
		doc := etree.NewDocument()
		require.NoError(t, doc.ReadFromFile(filepath.Join(filepath.Dir(manifests[0]), row.File)))
		list = append(list, newPlayersPart(row.SourcePart, row.Label, doc.FindElement("//part")))
	}
	return list
}

func newPlayersPart(id, label string, part *etree.Element) playersPart {
	p := playersPart{id: id, label: label, element: part, staves: 1, bars: len(part.SelectElements("measure"))}
	p.shifts = part.FindElement(".//octave-shift") != nil
	for _, e := range part.FindElements(".//staves") {
		p.staves = max(p.staves, number(e))
	}
	for _, e := range part.FindElements(".//note/staff") {
		p.staves = max(p.staves, number(e))
	}
	atStart := map[[2]int]float64{}
	now := map[int]float64{}
	for bar, m := range part.SelectElements("measure") {
		// What stands at the bar's start, before the first note, holds for it.
		for _, e := range m.ChildElements() {
			if e.Tag == "note" {
				break
			}
			changeTransposition(now, e)
		}
		for staff := 1; staff <= p.staves; staff++ {
			atStart[[2]int{bar + 1, staff}] = transposition(now, staff)
		}
		for _, e := range m.ChildElements() {
			changeTransposition(now, e)
		}
	}
	p.transpose = func(bar, staff int) float64 { return atStart[[2]int{bar, staff}] }
	return p
}

func number(e *etree.Element) int {
	n := 0
	if e != nil {
		n, _ = strconv.Atoi(e.Text())
	}
	return n
}

// changeTransposition takes the <transpose> elements of an <attributes>: written
// pitch plus chromatic plus twelve times octave-change is what sounds (MusicXML
// 4.0, transpose). now is by staff; 0 is all staves.
func changeTransposition(now map[int]float64, e *etree.Element) {
	if e.Tag != "attributes" {
		return
	}
	for _, t := range e.SelectElements("transpose") {
		staff, _ := strconv.Atoi(t.SelectAttrValue("number", "0"))
		if staff == 0 {
			clear(now)
		}
		chromatic, _ := strconv.ParseFloat(t.SelectElement("chromatic").Text(), 64)
		now[staff] = chromatic + 12*float64(number(t.SelectElement("octave-change")))
	}
}

func transposition(now map[int]float64, staff int) float64 {
	if t, ok := now[staff]; ok {
		return t
	}
	return now[0]
}

// soundsOf are the sounds of each part of a score, by its id.
func soundsOf(t *testing.T, path string) map[string]sounds {
	t.Helper()
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	require.NoError(t, err)
	all := map[string]sounds{}
	for i, part := range score.Parts {
		element, err := score.ReadPart(i, nil)
		require.NoError(t, err)
		all[part.ID] = soundsIn(element, true)
	}
	return all
}

// soundsIn lists each note's <pitch>, with the <transpose> in force added or not.
func soundsIn(part *etree.Element, transposed bool) sounds {
	all, now := sounds{}, map[int]float64{}
	for bar, m := range part.SelectElements("measure") {
		for _, e := range m.ChildElements() {
			changeTransposition(now, e)
			pitch := placed(e)
			if e.Tag != "note" || pitch == nil || e.SelectAttrValue("print-object", "") == "no" {
				continue
			}
			if head := e.SelectElement("notehead"); head != nil && head.Text() == "none" {
				continue
			}
			sound := midi(pitch)
			if transposed {
				sound += transposition(now, max(1, number(e.SelectElement("staff"))))
			}
			all[bar+1] = append(all[bar+1], sound)
		}
		sort.Float64s(all[bar+1])
	}
	return all
}

// placed is what places a note on the staff: its pitch, or where a stroke without
// pitch is to stand, as in the treble clef.
func placed(note *etree.Element) *etree.Element {
	if e := note.SelectElement("unpitched"); e != nil {
		return e
	}
	return note.SelectElement("pitch")
}

// midi is 60 for middle C (MIDI 1.0). A stroke without a place stands on the
// middle line (MusicXML 4.0, unpitched).
func midi(pitch *etree.Element) float64 {
	text := func(tag, otherwise string) string {
		for _, name := range []string{tag, "display-" + tag} {
			if e := pitch.SelectElement(name); e != nil {
				return e.Text()
			}
		}
		return otherwise
	}
	step := map[string]float64{"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}[text("step", "B")]
	alter, _ := strconv.ParseFloat(text("alter", "0"), 64)
	octave, _ := strconv.ParseFloat(text("octave", "4"), 64)
	return step + alter + 12*(octave+1)
}

// heard are the sounds of staves as read, with what transpose adds; nil adds
// nothing.
func heard(staves []svgread.Staff, transpose func(bar, staff int) float64) sounds {
	all := sounds{}
	for s, staff := range staves {
		for _, bar := range staff.Bars {
			for _, n := range bar.Notes {
				sound := []float64{0, 2, 4, 5, 7, 9, 11}[n.Step] + n.Alter + 12*float64(n.Octave+1)
				if transpose != nil {
					sound += transpose(bar.Number, s+1)
				}
				all[bar.Number] = append(all[bar.Number], sound)
			}
			sort.Float64s(all[bar.Number])
		}
	}
	return all
}

// compareBars compares those of some bars that were drawn with the score. A part
// with octave lines is compared without octaves, as its notes are drawn elsewhere
// than they sound.
func compareBars(t *testing.T, what string, part *playersPart, got sounds, bars, want sounds) {
	t.Helper()
	if part.shifts {
		got, want = withoutOctaves(got), withoutOctaves(want)
	}
	var differ []string
	for bar := range bars {
		if !slices.Equal(want[bar], got[bar]) && got[bar] != nil {
			differ = append(differ, fmt.Sprintf("bar %d: %v, in the score %v", bar, got[bar], want[bar]))
		}
	}
	sort.Strings(differ)
	assert.Empty(t, differ, what)
}

// withoutOctaves folds sounds into one octave.
func withoutOctaves(s sounds) sounds {
	folded := sounds{}
	for bar, notes := range s {
		for _, n := range notes {
			folded[bar] = append(folded[bar], math.Mod(n, 12))
		}
		sort.Float64s(folded[bar])
	}
	return folded
}
