package fit_test

import (
	"bytes"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
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

func eachScore(t *testing.T, do func(*testing.T, *opened)) {
	t.Helper()
	musicxmltest.EachFile(t, scoresToTry(t), func(t *testing.T, path string) {
		do(t, open(t, musicxmltest.ScoreText(t, path), instruments.Professional))
	})
}

// sounding are the players who have a note to play, by their numbers.
func (o *opened) sounding() iter.Seq2[int, parts.Assignment] {
	return func(yield func(int, parts.Assignment) bool) {
		for n, a := range o.assignments {
			if o.job.Surveyed().Part(a.Part).Notes > 0 && !yield(n, a) {
				return
			}
		}
	}
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
// after a rest, a breath mark, a pause or the end of a slur; at a barline or before a
// slur, too, to spare a note that the instrument does not have. Read off the page by
// package reading.
func TestReassignMovesByOctavesPassageByPassage(t *testing.T) {
	t.Parallel()
	eachScore(t, func(t *testing.T, o *opened) {
		for n, a := range o.sounding() {
			sheet, err := o.job.Make(n)
			require.NoError(t, err)
			source := pageOf(t, sheet.Document)
			for _, to := range musicxmltest.SweepByTurns(n, 2, []string{"flute", "clarinet-a", "horn-f", "tuba", "trombone", "violin", "euphonium-bflat-treble"}) {
				if instrumentstest.Load(t).ByID(to) == a.Instrument {
					continue
				}
				r := o.reassign(t, n, to, "auto", instruments.Professional)
				where := fmt.Sprintf("%s to %s", a.Label, to)
				page := pageOf(t, r.Document)
				assert.Empty(t, page.Mismatches(), where)
				octaves := octavesBetween(t, where, source, page, o.unsaidOctave(a.Part, to))
				limits, _ := instrumentstest.Load(t).ByID(to).Range(instruments.Professional)
				changesAreAllowed(t, where, page, octaves, limits.Sounding)
			}
		}
	})
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

// piece is what keeps one octave on the page: notes between two places where it may
// change.
type piece struct {
	dear    bool // in the middle of a phrase, at a barline or before a slur
	at      string
	octaves []int64 // that all its notes could have been moved by
	sounds  []int64 // as they sound now
}

// changesAreAllowed cuts the page where the octave may change, checks that one octave
// holds for each piece, and that a change in the middle of a phrase spares a note that
// the instrument does not have.
func changesAreAllowed(t *testing.T, where string, page *reading.Page, octaves [][]int64, compass instruments.Compass) {
	t.Helper()
	pieces := piecesOf(t, where, page, octaves)
	for i := 1; i < len(pieces); i++ {
		before, now := pieces[i-1], pieces[i]
		if len(common(before.octaves, now.octaves)) > 0 {
			pieces[i].sounds = append(before.sounds, now.sounds...) // one run
			pieces[i].octaves = common(before.octaves, now.octaves)
			continue
		}
		if now.dear {
			by := now.octaves[0] - before.octaves[0]
			assert.True(t, outsideOf(compass, before.sounds, by) || outsideOf(compass, runFrom(pieces[i:]), -by),
				"%s: %s: another octave in the middle of a phrase, though every note is there", where, now.at)
		}
	}
}

// runFrom are the sounds of the first pieces that have an octave in common.
func runFrom(pieces []piece) []int64 {
	sounds, octaves := pieces[0].sounds, pieces[0].octaves
	for _, p := range pieces[1:] {
		if octaves = common(octaves, p.octaves); len(octaves) == 0 {
			break
		}
		sounds = append(sounds[:len(sounds):len(sounds)], p.sounds...)
	}
	return sounds
}

// outsideOf reports whether notes, moved by octaves, are not all there.
func outsideOf(c instruments.Compass, sounds []int64, octaves int64) bool {
	for _, sound := range sounds {
		if moved := sound + 12*octaves; moved < int64(c.Low.NoteNumber()) || moved > int64(c.High.NoteNumber()) {
			return true
		}
	}
	return false
}

func piecesOf(t *testing.T, where string, page *reading.Page, octaves [][]int64) []piece {
	t.Helper()
	slurs, beam, breath, bar := 0, false, true, -1
	var all []piece
	end := musicxml.Fraction{}
	sounding := page.Sounding()
	for i := range page.Notes {
		n := &page.Notes[i]
		if octaves[i] == nil {
			continue
		}
		opens, closes := count(n.Element, "notations/slur[@type='start']"), count(n.Element, "notations/slur[@type='stop']")
		rested := breath || end.Less(n.Start)
		free := slurs == 0 && !beam && !n.TieStop && !n.Chord
		if free && (rested || bar != n.MeasureIndex || opens > 0) {
			all = append(all, piece{dear: !rested, at: n.Measure + ", " + n.Beat, octaves: octaves[i]})
		}
		now := &all[len(all)-1]
		now.octaves = common(now.octaves, octaves[i])
		now.sounds = append(now.sounds, sounding[i].MIDI.Num())
		require.NotEmpty(t, now.octaves, "%s: measure %s, beat %s: another octave where none may begin", where, n.Measure, n.Beat)
		slurs = max(0, slurs+opens-closes)
		bar = n.MeasureIndex
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
	return all
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
	eachScore(t, func(t *testing.T, o *opened) {
		tried := 0
		for n, a := range o.sounding() {
			if s := o.job.Surveyed().Part(a.Part); a.Instrument == nil || s.Staves > 1 || len(s.Source) == 0 && o.unsaidOctave(a.Part, "") != 0 {
				continue
			}
			sheet, err := o.job.Make(n)
			require.NoError(t, err)
			want := pageOf(t, sheet.Document).Sounding()
			for _, to := range musicxmltest.SweepByTurns(n, 2, []string{"clarinet-a", "alto-saxophone-eflat", "euphonium-bflat-treble", "violin", "double-bass", "horn-e"}) {
				in := instrumentstest.Load(t).ByID(to)
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

// hasChords reports whether more than one note ever sounds at once.
func hasChords(document *etree.Document) bool {
	if len(document.FindElements("//note/chord")) > 0 {
		return true
	}
	for _, measure := range document.FindElements("score-partwise/part/measure") {
		voices := map[string]bool{}
		for _, note := range measure.SelectElements("note") {
			if note.SelectElement("rest") == nil {
				voices[musicxml.ChildText(note, "voice")] = true
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
		o := open(t, musicxmltest.ScoreText(t, path), instruments.Professional)
		for n := range o.sounding() {
			for _, to := range musicxmltest.SweepByTurns(n, 1, []string{"clarinet-bflat", "tuba", "cello"}) {
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
