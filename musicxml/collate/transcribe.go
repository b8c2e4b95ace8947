package collate

import (
	"math"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// transcribe reads a <part> element; entry is its <score-part>, or nil. It changes
// nothing in the tree and keeps no pointer into it. The error is a *musicxml.Error with measure and beat.
func transcribe(part, entry *etree.Element) (*transcript, error) {
	page, err := reading.Read(part)
	if err != nil {
		return nil, err
	}
	read, err := music.ReadPart(part)
	if err != nil {
		return nil, err
	}
	r := newTranscriber(read, page)
	for _, e := range musicxml.Children(entry, "score-instrument") {
		r.instruments[musicxml.Attr(e, "id")] = plainWords(musicxml.ChildText(e, "instrument-name"))
	}
	for i := range read.Measures {
		r.measure(&read.Measures[i])
	}
	for i := range read.Measures {
		r.notes(&read.Measures[i])
	}
	r.transcript.bars = fillMultiRests(r.transcript.bars, r.rests)
	return r.transcript, nil
}

// transcriber goes through a part bar by bar and keeps what stays in force.
type transcriber struct {
	transcript *transcript
	signature  signatures
	spans      map[*music.Span]int              // the numbers of spans
	styles     map[string]int                   // the spans of slashes and repeated bars that have begun
	rests      map[int]int                      // length of the multi-bar rest that is printed at a bar
	fermatas   map[musicxml.Fraction]int        // places among the marks of the bar, by their time
	misread    map[*etree.Element]*reading.Note // the notes that a player would play as others
	// instruments are the names of those that notes may be played on, by their ids.
	instruments map[string]string
	bar         *bar
}

func newTranscriber(read *music.Part, page *reading.Page) *transcriber {
	r := &transcriber{
		transcript: &transcript{bars: make([]bar, 0, len(read.Measures)), strikes: map[string]bool{}},
		spans:      map[*music.Span]int{}, styles: map[string]int{}, rests: map[int]int{}, instruments: map[string]string{},
		fermatas: map[musicxml.Fraction]int{}, misread: map[*etree.Element]*reading.Note{},
	}
	for i := range page.Notes {
		if n := &page.Notes[i]; n.Read != n.Written {
			r.misread[n.Element] = n
		}
	}
	return r
}

func (r *transcriber) measure(m *music.Measure) {
	r.transcript.bars = append(r.transcript.bars, bar{
		number: strings.Clone(m.Number), length: m.Length, beatType: strings.Clone(m.BeatType),
		implicit: musicxml.Attr(m.Element, "implicit") == "yes",
	})
	r.bar = &r.transcript.bars[len(r.transcript.bars)-1]
	clear(r.fermatas)
	r.signature.begin(r.bar)
	for item := range m.Items() {
		switch item.Kind {
		case musicxml.Attributes:
			r.attributes(&item)
		case musicxml.Direction:
			r.direction(item.Marks)
		case musicxml.Barline:
			r.barline(item.Marks)
		case musicxml.Harmony:
			r.harmony(&item.Marks[0])
		case musicxml.FiguredBass:
			r.figures(&item.Marks[0])
		case musicxml.Note:
			r.bar.cued = r.bar.cued || item.Cue
			r.pauses(item.Note)
		}
	}
}

// mark notes something printed beside the notes.
func (r *transcriber) mark(m mark) { r.bar.marks = append(r.bar.marks, m) }

// spanOf is the number of the span that a mark is one end of.
func (r *transcriber) spanOf(m *music.Mark) int {
	n, known := r.spans[m.Span]
	if !known {
		n = len(r.spans) + 1
		r.spans[m.Span] = n
	}
	return n
}

// notes takes over the notes of a bar. What is not printed is not compared, and cue
// notes are another player's.
func (r *transcriber) notes(m *music.Measure) {
	r.bar = &r.transcript.bars[m.Index]
	for _, n := range m.InTime() {
		if !n.Rest && !n.Hidden && !n.Cue {
			r.bar.notes = append(r.bar.notes, r.note(n))
		}
	}
}

func (r *transcriber) note(n *music.Note) note {
	r.transcript.notes++
	r.transcript.pitched = r.transcript.pitched || !n.Unpitched
	sounding := n.Pitch
	if !n.Unpitched {
		sounding = n.Sounding()
	}
	read := note{
		onset: n.Onset, length: n.Duration, height: heightOf(sounding, n.Unpitched),
		sounding: sounding, written: n.Pitch, read: n.Pitch,
		grace: n.GraceOrder, staff: n.Staff, voice: strings.Clone(n.Voice), unpitched: n.Unpitched,
		tieStart: n.Ties.Start(), tieStop: n.Ties.Stop(), head: headOf(n), signs: r.signs(n),
	}
	if n.Unpitched {
		read.instrument = r.struck(n)
		r.transcript.strikes[read.instrument] = true
	}
	if n.Grace {
		read.slashed = musicxml.Attr(musicxml.Child(n.Element, "grace"), "slash") == "yes"
	} else {
		read.printed, _ = n.Notated()
	}
	if misread := r.misread[n.Element]; misread != nil {
		read.read, read.from = pitchOf(misread.Read), misread.From
	}
	return read
}

// struck is the name of the instrument that a note is played on.
func (r *transcriber) struck(n *music.Note) string {
	if e := musicxml.Child(n.Element, "instrument"); e != nil {
		return r.instruments[musicxml.Attr(e, "id")]
	}
	for _, only := range r.instruments {
		if len(r.instruments) == 1 {
			return only
		}
	}
	return ""
}

// pitchOf is a pitch as package reading has it.
func pitchOf(p reading.Pitch) pitch.Pitch {
	alter := math.Round(p.Alter.Float() * float64(pitch.Semitone))
	return pitch.Pitch{Step: pitch.Step(p.Step), Alter: pitch.Alter(alter), Octave: p.Octave}
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
