package fit_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
)

// scoresToTry are the examples and a spread of the shared scores: a movement for
// orchestra in concert pitch and in written pitch, a quartet, a song, a lead sheet.
func scoresToTry(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(musicxmltest.ProjectRoot(t), "examples", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, files)
	return append(files, musicxmltest.SharedFiles(t, "scores/concert/Haydn_104_1.concert.mxl", "scores/written/Brahms_Op.98_4.mxl",
		"scores/quartets/sq7093885.mxl", "scores/songs/3_Heidenr_slein__D.257.mxl", "scores/leadsheets/Over_There.mxl")...)
}

func readScore(t *testing.T, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	return data
}

// pageOf reads a part by package reading, which shares no code with what is tested.
func pageOf(t *testing.T, document *etree.Document) *reading.Page {
	t.Helper()
	page, err := reading.Read(document.FindElement("score-partwise/part"))
	require.NoError(t, err)
	return page
}

// The sound of a reassigned part moves by whole octaves only, and one octave holds
// for whole passages: it changes nowhere inside a slur, a tie or a beam, and only
// after a rest, a breath mark, a pause or the end of a slur. Read off the page by
// package reading.
func TestReassignMovesByOctavesPassageByPassage(t *testing.T) {
	t.Parallel()
	for _, path := range scoresToTry(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			o := open(t, readScore(t, path), instruments.Professional)
			changed := 0
			for n, a := range o.assignments {
				s := o.job.Surveyed().Part(a.Part)
				if s.Notes == 0 {
					continue
				}
				sheet, err := o.job.Make(n)
				require.NoError(t, err)
				source := pageOf(t, sheet.Document)
				for _, to := range []string{"flute", "clarinet-a", "horn-f", "tuba", "trombone", "violin", "euphonium-bflat-treble"} {
					if load(t).ByID(to) == a.Instrument {
						continue
					}
					r := o.reassign(t, n, to, "auto", instruments.Professional)
					where := fmt.Sprintf("%s to %s", a.Label, to)
					page := pageOf(t, r.Document)
					assert.Empty(t, page.Mismatches(), where)
					octaves := octavesBetween(t, where, source, page, o.unsaidOctave(a.Part, to))
					changed += changesAreAllowed(t, where, page, octaves)
				}
			}
			t.Logf("%d changes of octave looked at", changed)
		})
	}
}

// unsaidOctave is the octave that the score leaves out of an octave instrument
// (a double bass without <transpose>), which a part for another instrument has to
// take into account.
func (o *opened) unsaidOctave(part int, to string) int64 {
	s := o.job.Surveyed().Part(part)
	if len(s.Source) > 0 || s.ForPart {
		return 0
	}
	return int64(o.job.Surveyed().SourceTransposition(part).OctaveChange)
}

// moment is when and how high within the octave a note sounds.
type moment struct {
	measure int
	onset   string
	grace   int
	class   int64
}

// octavesBetween finds for every note of a reassigned part, in the order of the
// page, by how many octaves it sounds away from the source; several where the
// source has its pitch class in several octaves at once.
func octavesBetween(t *testing.T, where string, source, page *reading.Page, unsaid int64) [][]int64 {
	t.Helper()
	had := map[moment][]int64{}
	for _, s := range source.Sounding() {
		if !s.Cue && !s.Unpitched && !s.Doubling {
			m := s.MIDI.Num() + 12*unsaid
			at := moment{s.MeasureIndex, s.Onset.String(), s.Grace, m % 12}
			had[at] = append(had[at], m)
		}
	}
	var octaves [][]int64
	for _, s := range page.Sounding() {
		if s.Cue || s.Unpitched {
			octaves = append(octaves, nil)
			continue
		}
		m := s.MIDI.Num()
		var away []int64
		for _, before := range had[moment{s.MeasureIndex, s.Onset.String(), s.Grace, m % 12}] {
			away = append(away, (m-before)/12)
		}
		require.NotEmpty(t, away, "%s: measure %s, beat %s: %s sounds, which the source does not have in any octave", where, s.Measure, s.Beat, s.Pitch)
		octaves = append(octaves, away)
	}
	return octaves
}

// changesAreAllowed cuts the page where the octave may change and checks that one
// octave holds for each piece; it returns how many pieces differ from the one
// before.
func changesAreAllowed(t *testing.T, where string, page *reading.Page, octaves [][]int64) int {
	t.Helper()
	slurs, beam, breath, changes := 0, false, true, 0
	var now, before []int64
	end := musicxml.Fraction{}
	for i := range page.Notes {
		n := &page.Notes[i]
		if octaves[i] == nil {
			continue
		}
		if slurs == 0 && !beam && !n.TieStop && !n.Chord && (breath || end.Less(n.Start)) {
			before, now = now, octaves[i]
			if before != nil && len(common(before, now)) == 0 {
				changes++
			}
		}
		now = common(now, octaves[i])
		require.NotEmpty(t, now, "%s: measure %s, beat %s: another octave, and neither a rest nor the end of a phrase before it", where, n.Measure, n.Beat)
		opens, closes := count(n.Element, "notations/slur[@type='start']"), count(n.Element, "notations/slur[@type='stop']")
		slurs = max(0, slurs+opens-closes)
		breath = breath && n.Chord || closes > 0 || count(n.Element, "notations/fermata") > 0 ||
			count(n.Element, "notations/articulations/breath-mark")+count(n.Element, "notations/articulations/caesura") > 0
		switch text := n.Element.FindElement("beam[@number='1']"); {
		case text == nil:
		case text.Text() == "begin":
			beam = true
		case text.Text() == "end":
			beam = false
		}
		if stop := n.Start.Add(n.Duration); end.Less(stop) {
			end = stop
		}
	}
	return changes
}

func count(note *etree.Element, path string) int { return len(note.FindElements(path)) }

func common(a, b []int64) []int64 {
	var both []int64
	for _, x := range a {
		for _, y := range b {
			if x == y {
				both = append(both, x)
			}
		}
	}
	return both
}

// There and back at the same octave gives the same notes: the part handed to
// another instrument, written, read, and handed back, sounds and is spelled as the
// part that nobody touched. Where there are chords, both instruments must have them.
func TestReassignThereAndBack(t *testing.T) {
	t.Parallel()
	for _, path := range scoresToTry(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			t.Parallel()
			o := open(t, readScore(t, path), instruments.Professional)
			tried := 0
			for n, a := range o.assignments {
				s := o.job.Surveyed().Part(a.Part)
				if s.Notes == 0 || a.Instrument == nil || s.Staves > 1 || len(s.Source) == 0 && o.unsaidOctave(a.Part, "") != 0 {
					continue
				}
				sheet, err := o.job.Make(n)
				require.NoError(t, err)
				want := pageOf(t, sheet.Document).Sounding()
				for _, to := range []string{"clarinet-a", "alto-saxophone-eflat", "euphonium-bflat-treble", "violin", "double-bass", "horn-e"} {
					in := load(t).ByID(to)
					if in == a.Instrument || (in.OneLine || a.Instrument.OneLine) && hasChords(sheet.Document) {
						continue
					}
					there := o.reassign(t, n, to, "0", instruments.Professional)
					var text bytes.Buffer
					require.NoError(t, musicxml.Write(&text, there.Document, musicxml.WriteOptions{Indent: 2}))
					again := open(t, text.Bytes(), instruments.Professional)
					back := again.reassign(t, 0, a.Instrument.ID, "0", instruments.Professional)
					got := pageOf(t, back.Document).Sounding()
					assert.Empty(t, reading.Compare(want, got), "%s to %s and back", a.Label, to)
					tried++
				}
			}
			require.Positive(t, tried)
			t.Logf("%d ways there and back", tried)
		})
	}
}

// hasChords reports whether more than one note ever sounds at once.
func hasChords(document *etree.Document) bool {
	if len(document.FindElements("//note/chord")) > 0 {
		return true
	}
	for _, measure := range document.FindElements("score-partwise/part/measure") {
		voices := map[string]bool{}
		for _, note := range measure.SelectElements("note") {
			if note.SelectElement("rest") == nil {
				voices[text(note, "voice")] = true
			}
		}
		if len(voices) > 1 {
			return true
		}
	}
	return false
}

// What is written validates against the standard's schema.
func TestReassignedPartsValidate(t *testing.T) {
	t.Parallel()
	var files []string
	dir := t.TempDir()
	for _, path := range scoresToTry(t) {
		o := open(t, readScore(t, path), instruments.Professional)
		for n, a := range o.assignments {
			if o.job.Surveyed().Part(a.Part).Notes == 0 {
				continue
			}
			for _, to := range []string{"clarinet-bflat", "tuba", "cello"} {
				r := o.reassign(t, n, to, "auto", instruments.Professional)
				var text bytes.Buffer
				require.NoError(t, musicxml.Write(&text, r.Document, musicxml.WriteOptions{Indent: 2}))
				file := filepath.Join(dir, fmt.Sprintf("%03d.musicxml", len(files)))
				require.NoError(t, os.WriteFile(file, text.Bytes(), 0o600))
				files = append(files, file)
			}
		}
	}
	out, err := musicxmltest.Validate(t, files...)
	assert.NoError(t, err, out)
}
