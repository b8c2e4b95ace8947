package collate

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
)

// ReadSheet reads a <part> element. It changes nothing in the tree and keeps no
// pointer into it. The error is a *musicxml.Error with measure and beat.
func ReadSheet(part *etree.Element) (*Sheet, error) {
	page, err := reading.Read(part)
	if err != nil {
		return nil, err
	}
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, err
	}
	r := newSheetReader(len(timeline.Measures))
	for i := range timeline.Measures {
		r.measure(&timeline.Measures[i])
	}
	r.page(page)
	r.sheet.bars = fillMultiRests(r.sheet.bars, r.rests)
	return r.sheet, nil
}

// sheetReader goes through a part bar by bar and keeps what stays in force.
type sheetReader struct {
	sheet     *Sheet
	signature signatures
	spans     spans
	rests     map[int]int               // length of the multi-bar rest that is printed at a bar
	fermatas  map[musicxml.Fraction]int // places among the marks of the bar, by their time
	bar       *bar
	measured  *musicxml.Measure
}

func newSheetReader(bars int) *sheetReader {
	return &sheetReader{sheet: &Sheet{bars: make([]bar, 0, bars)}, spans: newSpans(), rests: map[int]int{}, fermatas: map[musicxml.Fraction]int{}}
}

func (r *sheetReader) measure(m *musicxml.Measure) {
	r.sheet.bars = append(r.sheet.bars, bar{
		number: strings.Clone(m.Number), length: m.Length, beatType: strings.Clone(m.BeatType),
		implicit: musicxml.Attr(m.Element, "implicit") == "yes",
	})
	r.bar, r.measured = &r.sheet.bars[len(r.sheet.bars)-1], m
	clear(r.fermatas)
	r.signature.begin(r.bar)
	for i := range m.Events {
		r.event(&m.Events[i])
	}
}

func (r *sheetReader) event(ev *musicxml.Event) {
	switch ev.Kind {
	case musicxml.Attributes:
		r.attributes(ev)
	case musicxml.Direction:
		r.direction(ev)
	case musicxml.Barline:
		r.barline(ev)
	case musicxml.Harmony:
		r.harmony(ev)
	case musicxml.Note:
		r.bar.cued = r.bar.cued || ev.Cue
		r.pauses(ev)
	}
}

// mark notes something printed beside the notes.
func (r *sheetReader) mark(m mark) { r.bar.marks = append(r.bar.marks, m) }

// page takes over the notes as they are read off the page. What is not printed is
// not compared, and cue notes are another player's.
func (r *sheetReader) page(page *reading.Page) {
	sounds := page.Sounding()
	next := 0
	for i := range page.Notes {
		for next < len(sounds) && sounds[next].Doubling {
			next++
		}
		n := &page.Notes[i]
		sound := sounds[next]
		next++
		if n.Hidden || n.Cue || n.MeasureIndex >= len(r.sheet.bars) {
			continue
		}
		b := &r.sheet.bars[n.MeasureIndex]
		b.notes = append(b.notes, r.note(n, sound))
	}
}

func (r *sheetReader) note(n *reading.Note, sound reading.Sound) note {
	r.sheet.notes++
	r.sheet.pitched = r.sheet.pitched || !n.Unpitched
	return note{
		onset: n.Onset, length: n.Duration, height: heightOf(sound.Pitch, n.Unpitched),
		sounding: sound.Pitch, written: n.Written, read: n.Read, from: n.From,
		grace: n.Grace, staff: n.Staff, voice: strings.Clone(n.Voice), unpitched: n.Unpitched,
		tieStart: n.TieStart, tieStop: n.TieStop, signs: r.signs(n),
	}
}

// mostFilled is about how many bars are given to multi-bar rests in all.
const mostFilled = 10_000

// fillMultiRests gives a multi-bar rest that stands in the file as one measure its
// bars. The standard wants them all there (MusicXML 4.0, multiple-rest); where the
// numbers leap over them, they are not.
func fillMultiRests(bars []bar, rests map[int]int) []bar {
	if len(rests) == 0 {
		return bars
	}
	filled := make([]bar, 0, len(bars))
	for i, b := range bars {
		filled = append(filled, b)
		n := rests[i]
		if n < 2 || len(filled) > len(bars)+mostFilled || len(b.notes) > 0 || i+1 >= len(bars) || !leaps(b.number, bars[i+1].number, n) {
			continue
		}
		for k := 1; k < n; k++ {
			rest := bar{number: numberAfter(b.number, k), length: b.length, beatType: b.beatType, metre: b.metre, key: b.key, by: b.by}
			filled = append(filled, rest)
		}
	}
	return filled
}
