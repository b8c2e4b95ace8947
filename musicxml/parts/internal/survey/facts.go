package survey

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// facts are what in the notes of a part tells of its instrument.
type facts struct {
	first   instruments.Clef // of the first staff
	clefs   map[int]clef     // in force, by staff
	below   int              // notes under a clef with an 8 below
	above   int              // notes under a clef with an 8 above
	tab     int              // notes in tablature
	sung    int              // notes with a syllable
	pitches [128]int         // how often each MIDI note number is written
	opens   map[open]int     // what strings and frets say of the open strings
	strings map[int]int      // MIDI note numbers of the open strings, as the part says
}

// open is an open string as a note with a fret makes it out to be: the written note
// less the fret.
type open struct{ number, midi int }

// clef is what a clef says of octaves.
type clef struct {
	octave int
	tab    bool
}

// takeClef notes a clef of the part.
func (f *facts) takeClef(e *etree.Element) {
	staff := max(music.StaffNumber(e), 1)
	line, _ := strconv.Atoi(musicxml.ChildText(e, "line"))
	octave, _ := strconv.Atoi(musicxml.ChildText(e, "clef-octave-change"))
	if f.clefs == nil {
		f.clefs = map[int]clef{}
	}
	sign := musicxml.ChildText(e, "sign")
	f.clefs[staff] = clef{octave, sign == "TAB"}
	if staff == 1 && f.first.Sign == "" && sign != "TAB" && sign != "none" {
		f.first = instruments.Clef{Sign: sign, Line: line, OctaveChange: octave}
	}
}

// tuning notes what the part says of its open strings.
func (f *facts) tuning(e *etree.Element) {
	lines, _ := strconv.Atoi(musicxml.ChildText(e, "staff-lines"))
	capo, _ := strconv.Atoi(musicxml.ChildText(e, "capo"))
	for s := range musicxml.Each(e, "staff-tuning") {
		line, err := strconv.Atoi(musicxml.Attr(s, "line"))
		p, ok := tuned(s)
		if err != nil || !ok || lines == 0 {
			continue
		}
		if f.strings == nil {
			f.strings = map[int]int{}
		}
		f.strings[lines-line+1] = p + capo // strings are counted from the highest, lines from the bottom
	}
}

// tuned reads the pitch of an open string as a MIDI note number.
func tuned(e *etree.Element) (midi int, ok bool) {
	step, err := pitch.ParseStep(musicxml.ChildText(e, "tuning-step"))
	if err != nil {
		return 0, false
	}
	octave, err := strconv.Atoi(musicxml.ChildText(e, "tuning-octave"))
	if err != nil {
		return 0, false
	}
	p := pitch.Pitch{Step: step, Octave: octave}
	if text := musicxml.ChildText(e, "tuning-alter"); text != "" {
		if p.Alter, err = pitch.ParseAlter(text); err != nil {
			return 0, false
		}
	}
	return p.NoteNumber(), true
}

// note counts what a note tells.
func (f *facts) note(ev *musicxml.Event, midi int) {
	if midi < 0 || midi >= len(f.pitches) {
		return
	}
	f.pitches[midi]++
	switch c := f.clefs[max(ev.Staff, 1)]; {
	case c.tab:
		f.tab++
	case c.octave < 0:
		f.below++
	case c.octave > 0:
		f.above++
	}
	if musicxml.Child(ev.Element, "lyric") != nil {
		f.sung++
	}
	if ev.Marked {
		f.fret(ev.Element, midi)
	}
}

// fret counts what the string and fret of a note say.
func (f *facts) fret(note *etree.Element, midi int) {
	technical := musicxml.Descend(note, "notations", "technical")
	if technical == nil {
		return
	}
	number, errN := strconv.Atoi(musicxml.ChildText(technical, "string"))
	fret, errF := strconv.Atoi(musicxml.ChildText(technical, "fret"))
	if errN != nil || errF != nil {
		return
	}
	if f.opens == nil {
		f.opens = map[open]int{}
	}
	f.opens[open{number, midi - fret}]++
}

// sungShare is the share of the notes, one in so many, from which a part with
// syllables is sung: one alone may be a remark.
const sungShare = 10

// music is what the part tells the catalogue.
func (s *Part) music() *instruments.Music {
	m := &instruments.Music{Clef: s.facts.first, Pitches: &s.facts.pitches,
		Lyrics: s.facts.sung > 0 && s.facts.sung*sungShare >= s.Notes}
	if len(s.Source) > 0 {
		said := s.Source[0].To.Interval()
		m.Said = &said
	}
	return m
}

// inRange counts the notes within an instrument's range, read as they sound and as the
// player reads them.
func (f *facts) inRange(i *instruments.Instrument) (sounding, written int) {
	if i == nil {
		return 0, 0
	}
	r, ok := i.Range(instruments.Professional)
	if !ok {
		return 0, 0
	}
	for midi, n := range f.pitches {
		if n == 0 {
			continue
		}
		if r.Sounding.Contains(midi) {
			sounding += n
		}
		if r.Written.Contains(midi) {
			written += n
		}
	}
	return sounding, written
}
