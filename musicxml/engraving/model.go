package engraving

import (
	"cmp"
	"iter"

	"deskpart/musicxml"
)

// Music is what is drawn: staves one above the other, aligned in time.
type Music struct {
	// Bars are shared by all staves.
	Bars []Bar
	// Staves from top to bottom. Each has as many Measures as there are Bars.
	Staves []Staff
	// Groups join neighbouring staves at their left edge; default none.
	Groups []Group
	// NotDrawn lists what the part that the music was read from has and the music
	// has not; default none.
	NotDrawn []NotDrawn

	// start waits for the first bar of music that is built with NewMusic.
	start *Change
}

// BarOf returns the bar (counted from 1) that shows a measure of the document
// (counted from 1); 0 where none does.
func (m *Music) BarOf(measure int) int {
	for i := range m.Bars {
		source := m.sourceOf(i)
		if measure >= source && measure < source+max(1, m.Bars[i].RestBars) {
			return i + 1
		}
	}
	return 0
}

// sourceOf is the place of a bar (from 0) in its document, from 1.
func (m *Music) sourceOf(bar int) int { return cmp.Or(m.Bars[bar].Source, bar+1) }

// Bar is what all staves share in one measure.
type Bar struct {
	// Number is the printed number of the bar, "" for none (an upbeat).
	Number string
	// Source is the place of the bar among the measures of the document it came
	// from, counted from 1; 0 is its place in Bars. It becomes the data-bar
	// attribute.
	Source int
	// Length is the time in the bar in quarter notes. Zero means as long as the
	// longest voice.
	Length musicxml.Fraction
	// Left and Right are the barlines; the zero value is an ordinary line on the
	// right and none on the left.
	Left, Right Barline
	// RestBars is the number of bars that this one stands for when it is drawn
	// as a multi-bar rest; 0 (default) draws the voices. LastNumber is the printed
	// number of the last of them.
	RestBars   int
	LastNumber string
	// Ending is the bracket of a first, second, … ending over this bar.
	Ending Ending
	// NewLine forces a line to begin with this bar.
	NewLine bool
}

// Ending is the part of a repeat's ending that stands over one bar.
type Ending struct {
	// Text is what the bracket says ("1.", "2."), at its start.
	Text string
	// Start opens the bracket at the left of the bar, Over says that it covers
	// the bar, Stop closes it with a downward jog at the right of the bar.
	Start, Over, Stop bool
	// Leaves ends the bracket at the right of the bar without a jog.
	Leaves bool
}

// Group joins the staves From to To (indexes, both included).
type Group struct {
	From, To int
	// Symbol is the sign at the left.
	Symbol GroupSymbol
	// Barlines draws barlines through the gaps between the staves.
	Barlines bool
}

// GroupSymbol is the sign that joins staves.
type GroupSymbol uint8

// The group signs.
const (
	NoSymbol GroupSymbol = iota
	Brace
	Bracket
)

// Staff is one staff through all bars.
type Staff struct {
	// Name stands before the first line and begins the text alternative, Short
	// stands before later lines.
	Name, Short string
	// Lines is the number of staff lines at the start; 0 means 5.
	Lines int
	// Size is that of the staff and all on it against full size, to 1; 0 is 1.
	Size float64
	// Measures has one element for each bar of the music.
	Measures []Measure
	// Spanners are signs that reach over several notes.
	Spanners []Spanner

	// piece tells stacked pieces of music apart.
	piece int
}

// Measure is the content of one bar on one staff.
type Measure struct {
	// Changes of clef, key and time; those at onset zero of the first bar are
	// the staff's beginning.
	Changes []Change
	// Voices in order: with two or more, the first has stems up, the second
	// down, the third up and so on, except for events that say otherwise.
	Voices []Voice
	// Marks are words and signs tied to a moment of the bar.
	Marks []Mark
	// FretsOnly draws a tablature without stems, beams, dots and rests, because a staff
	// of notes says how long they are.
	FretsOnly bool
	// Repeat is the number of bars before that a sign in this bar says to play
	// again; 0 (default) draws the voices.
	Repeat int
	// Hidden: the staff is not there in this bar. A line on which it is hidden all through
	// has no place for it.
	Hidden bool
}

// Events goes through the events of all voices, voice by voice.
func (m *Measure) Events() iter.Seq[*Event] {
	return func(yield func(*Event) bool) {
		for v := range m.Voices {
			for i := range m.Voices[v].Events {
				if !yield(&m.Voices[v].Events[i]) {
					return
				}
			}
		}
	}
}

// Change is a new clef, key, time signature or number of lines at a moment of a
// bar. Nil fields change nothing.
type Change struct {
	Onset musicxml.Fraction
	Clef  *Clef
	Key   *Key
	Time  *Time
	// Lines is the new number of staff lines, 0 for no change.
	Lines int
	// Barline is a barline within the bar, BarDefault for none.
	Barline BarStyle
	// Hidden changes what follows without drawing the signs.
	Hidden bool
}

// Voice is a line of events within one bar, in order of time.
type Voice struct {
	// ID tells a voice that crosses from staff to staff: voices of one ID in a bar
	// are one, "" (default) crosses nowhere.
	ID     string
	Events []Event
}

// Event is a note, a chord or a rest.
type Event struct {
	// Onset is counted in quarter notes from the start of the bar. A grace note
	// has the onset of the note it leads to.
	Onset musicxml.Fraction
	// Duration in quarter notes; 0 for grace notes. [Sequence] works out both
	// from Value, Dots and Ratio.
	Duration musicxml.Fraction
	// Notes of the chord in any order; none for a rest.
	Notes []Note
	// Value and Dots are what is printed.
	Value Value
	Dots  int
	// Ratio is the time modification of a tuplet (3 in the time of 2); the zero
	// value is none.
	Ratio Ratio
	// FullBar is a rest for the whole bar: a centred whole rest in any metre.
	FullBar bool
	// RestPosition places a rest, counted like a note; nil for the usual place.
	RestPosition *Place
	// Grace notes are small and take no time; Slash crosses the stem.
	Grace, Slash bool
	// Small draws at cue size.
	Small bool
	// Hidden takes its time but is not drawn.
	Hidden bool
	// Stem is the stem's direction, StemAuto (default) by the rules.
	Stem Stem
	// Beams are the beams of each level, the eighth-note beam first. Use
	// [Music.Beam] to fill them by the time signature.
	Beams []Beam
	// Tuplets that begin or end here.
	Tuplets []TupletEnd
	// Slurs that begin or end here.
	Slurs []SlurEnd
	// Slides are the ends of straight lines from head to head (glissandi).
	Slides []SlurEnd
	// Falls are short lines that lead into the note or away from it.
	Falls []Fall
	// Articulations and ornaments, from the note outwards.
	Articulations []Articulation
	// Tremolo is the number of strokes through the stem; TremoloTo that of beams
	// between this note and the next of the voice.
	Tremolo, TremoloTo int
	// Arpeggio is the line before the chord, none by default. Chords of one moment
	// and one ArpeggioID, from 1, share it over the staves.
	Arpeggio   Arpeggio
	ArpeggioID int
	// Lyrics, one for each verse sung here.
	Lyrics []Lyric
}

// IsRest reports whether the event has no notes.
func (e *Event) IsRest() bool { return len(e.Notes) == 0 }

// Place is a line or space named as a note: C to B are 0 to 6, octave 4 begins
// with middle C.
type Place struct {
	Step, Octave int
}

// steps counts scale steps from C0.
func (p Place) steps() int { return p.Octave*7 + p.Step }

// Note is one head of an event.
type Note struct {
	// Place is where the note stands as written: under an octave line it is the
	// place on the paper, not the sound.
	Place
	// Alter is the pitch's alteration in semitones (0.5 is a quarter tone). It
	// is only spoken in the text alternative; Accidental says what is printed.
	Alter float64
	// OctaveLine is the number of octaves by which the true pitch lies above the
	// printed place; only spoken.
	OctaveLine int
	// Accidental is the printed sign, nil for none.
	Accidental *Accidental
	// TieTo ties the note to the next of the same place in its voice; TieFrom
	// says that it is the end of a tie. Open leaves the tie hanging (let ring).
	TieTo, TieFrom, Open bool
	// TieSide is the side of the tie; default by the rules. TieLine is the look of a
	// tie that begins here.
	TieSide Side
	TieLine LineType
	// Head is the shape, HeadNormal by default.
	Head Head
	// Middle puts the head on the middle line, wherever Place is.
	Middle bool
	// Unfilled and Filled override the colour that Value gives the head.
	Unfilled, Filled bool
	// Parentheses stand around the head.
	Parentheses bool
	// Hidden leaves out this head.
	Hidden bool
	// Unpitched notes are spoken as such.
	Unpitched bool
	// Fret and String place the note on a tablature staff (String counts from 1
	// at the top); ignored elsewhere.
	Fret   string
	String int
	// Class is a class name for the head and its accidental ("wrong"), for
	// colour by a page's style sheet; "" for none.
	Class string
}

// Ratio is Actual notes in the time of Normal.
type Ratio struct{ Actual, Normal int }

// TupletEnd is the begin or end of a tuplet's figure.
type TupletEnd struct {
	// ID pairs the ends within a voice and bar; nested tuplets differ.
	ID    int
	Start bool
	// Text is the figure ("3", "5:4"); "" draws none.
	Text string
	// Bracket draws the bracket even where a beam joins the notes; NoBracket
	// never draws it.
	Bracket, NoBracket bool
	Side               Side
}

// SlurEnd is the begin or end of a slur or a line from note to note. ID pairs the
// ends within the music, over staves too; it may be used again for another slur
// that begins later.
type SlurEnd struct {
	ID    int
	Start bool
	Side  Side
	// Line is the look of the stroke, said at the start.
	Line LineType
	// Text stands along a glissando; default none.
	Text string
}

// LineType is the look of a stroke.
type LineType uint8

// The looks of strokes.
const (
	Solid LineType = iota
	Dashed
	Dotted
	Wavy
)

// Arpeggio is the line before a chord.
type Arpeggio uint8

// The lines: wavy, wavy with an arrow at its end, or a bracket (not to be broken).
const (
	NoArpeggio Arpeggio = iota
	PlainArpeggio
	ArpeggioUp
	ArpeggioDown
	ArpeggioBracket
)

// Fall is a short line that leads into a note or away from it.
type Fall uint8

// The lines, as the standard names them.
const (
	Scoop Fall = iota
	Plop
	Doit
	Falloff
	Flip
	Smear
)

// NotDrawn is an element of a part that is not drawn.
type NotDrawn struct {
	// Element is its name, with what tells it from those that are drawn
	// ("percussion", "slur with one end").
	Element string
	Count   int
	// Bars are the numbers of the first bars that have it, at most eight.
	Bars []string
}

// Lyric is a syllable.
type Lyric struct {
	// Verse counts from 1.
	Verse int
	Text  string
	// Hyphen follows with a hyphen up to the next syllable, Extend with a line
	// under the notes sung on it.
	Hyphen, Extend bool
	// Above stands over the staff; default below.
	Above bool
}
