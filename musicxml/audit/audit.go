package audit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// Codes lists the codes; the registry of notices says what each means.
var Codes = []notice.Code{notice.NoSuchStaff, notice.NoSuchVoice, notice.BarLength, notice.HiddenTime, notice.UnnamedChange,
	notice.OtherInstrument, notice.ChordContradictsRoot, notice.ChordsOnOneBeat, notice.LineWithoutEnd, notice.TieToNothing,
	notice.RestNotEmpty, notice.ClefNotRead, notice.RefersToNothing, notice.CancelsAnotherKey}

// Part is a finished part, and what is known of its player.
type Part struct {
	Root *etree.Element // <score-partwise> with one <part>
	// Instrument is the player's at the start. Default: nil, not known.
	Instrument *instruments.Instrument
	// Given: the part was given to that instrument by plan or hand, so that every name
	// and every playback setting must be its own.
	Given bool
	// Clefs are those that the player reads on any of the instruments of the part.
	// Default: none, clefs are not judged.
	Clefs []instruments.Clef
	// Catalogue tells which words name an instrument. Default: nil, any words will do.
	Catalogue *instruments.Catalogue
	// Said are warnings that the part has already: what is said is no fault.
	Said []musicxml.Warning
}

// Examine returns what is wrong with a finished part, in the order of its bars.
func Examine(p Part) []musicxml.Warning {
	a := &auditor{Part: p, staves: 1, divisions: 1, exact: true}
	a.header()
	if part := musicxml.Child(p.Root, "part"); part != nil {
		a.readPart(part)
	}
	a.finish()
	slices.SortStableFunc(a.found, func(x, y finding) int { return x.index - y.index })
	warnings := make([]musicxml.Warning, len(a.found))
	for i := range a.found {
		warnings[i] = a.found[i].Warning
	}
	return warnings
}

// finding is a warning with the index of its bar, which numbers do not tell.
type finding struct {
	musicxml.Warning
	index int
}

// place is a time in the part.
type place struct {
	index  int // of the bar
	ticks  int64
	per    int64 // ticks in a quarter note
	bar    *etree.Element
	metre  string // lower number of the time signature
	timing bool   // the place has a beat
}

// auditor goes through a part once.
type auditor struct {
	Part
	found []finding

	// what holds from bar to bar
	staves    int
	divisions int64 // ticks in a quarter note
	metre     metre
	names     names
	ids       ids
	voices    []string
	lastVoice string
	keys      []int // fifths in force, by staff from 0, which is all staves
	lines     lines
	beams     []beam
	ties      []tie
	rest      multiRest
	changes   changes

	// of the bar
	bar     *etree.Element
	index   int
	now     int64 // ticks from the start of the bar
	reach   int64 // where the longest voice has got to
	last    int64 // onset of the last note that was not a chord's second
	exact   bool  // whole ticks: times can be compared
	harmony []chordPlace

	voiceRefs []voiceRef
}

func (a *auditor) at() place { return a.atTicks(a.now) }

func (a *auditor) atTicks(ticks int64) place {
	return place{index: a.index, ticks: ticks, per: a.divisions, bar: a.bar, metre: a.metre.unit, timing: true}
}

// find notes down a fault.
func (a *auditor) find(at place, code notice.Code, text string) {
	w := musicxml.Warning{Code: code, Text: text}
	if at.bar != nil {
		w.Measure = musicxml.Attr(at.bar, "number")
		if at.timing {
			w.Beat = musicxml.BeatName(musicxml.NewFraction(at.ticks, at.per), at.metre)
		}
	}
	a.found = append(a.found, finding{w, at.index})
}

func (a *auditor) readPart(part *etree.Element) {
	a.index = -1
	for e := range part.ChildElementsSeq() {
		if e.Tag != "measure" || e.Space != "" {
			continue
		}
		a.bar = e
		a.index++
		a.now, a.reach, a.last, a.exact = 0, 0, 0, true
		a.harmony = a.harmony[:0]
		a.rest.bars = max(a.rest.bars-1, 0)
		a.measure(e)
		a.endOfBar()
	}
}

// measure reads the children of one bar.
func (a *auditor) measure(measure *etree.Element) {
	for e := range measure.ChildElementsSeq() {
		if e.Space != "" {
			continue
		}
		switch e.Tag {
		case "note":
			a.note(e)
		case "backup", "forward":
			a.move(e)
		case "attributes":
			a.attributes(e)
		case "direction":
			a.direction(e)
		case "harmony":
			a.chordSymbol(e)
		case "figured-bass":
			a.staffOf(e)
		case "barline":
			a.barline(e)
		case "print":
			a.print(e)
		case "sound":
			a.sound(e)
		case "link", "bookmark", "listening", "grouping":
			a.refer(e)
		}
	}
}

// endOfBar settles what a bar has to have settled.
func (a *auditor) endOfBar() {
	a.lines.settle(a)
	a.settleTies()
	a.metre.endOfBar(a)
}

// finish settles what a part has to have settled.
func (a *auditor) finish() {
	a.lines.finish(a)
	a.finishBeams()
	a.finishTies()
	a.finishVoices()
	a.rest.finish(a)
	a.changes.settle(a)
	a.finishReferences()
}

// move carries out a backup or forward.
func (a *auditor) move(e *etree.Element) {
	length := a.duration(musicxml.Child(e, "duration"))
	if e.Tag == "backup" {
		length = -length
	} else {
		a.staffOf(e)
	}
	a.now += length
	a.reach = max(a.reach, a.now)
}

// duration reads ticks; what is no whole number of them makes the bar one that
// cannot be counted here.
func (a *auditor) duration(e *etree.Element) int64 {
	if e == nil {
		return 0
	}
	text := musicxml.Text(e)
	if n, ok := musicxml.Digits(text); ok {
		return int64(n)
	}
	f, err := musicxml.ParseFraction(text)
	if err != nil || f.Den() != 1 {
		a.exact = false
		return int64(f.Float())
	}
	return f.Num()
}

// setDivisions counts on in another unit.
func (a *auditor) setDivisions(text string) {
	f, err := musicxml.ParseFraction(text)
	if err != nil || f.Sign() <= 0 || f.Den() != 1 { // thirds of a tick and the like: nobody counts so
		a.exact = false
		return
	}
	n := f.Num()
	for _, t := range []*int64{&a.now, &a.reach, &a.last} {
		a.exact = a.exact && *t*n%a.divisions == 0
		*t = *t * n / a.divisions
	}
	a.divisions = n
}

// staffOf checks that the staff of an element is there, and returns it.
func (a *auditor) staffOf(e *etree.Element) int {
	return a.checkStaff(musicxml.Child(e, "staff"), e.Tag)
}

func (a *auditor) checkStaff(staff *etree.Element, of string) int {
	if staff == nil {
		return 1
	}
	n, _ := strconv.Atoi(musicxml.Text(staff))
	if n < 1 || n > a.staves {
		a.find(a.at(), notice.NoSuchStaff, "the "+strings.ReplaceAll(of, "-", " ")+" stands on staff "+musicxml.Text(staff)+"; the part has "+notice.Counted(a.staves, "staff", "staves"))
		return 1
	}
	return n
}
