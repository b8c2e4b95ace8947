package engraving

import (
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/fonts"
)

// Clef places a pitch on the staff.
type Clef struct {
	Sign ClefSign
	// Line is the line the sign stands on, from 1 at the bottom; 0 is the usual
	// line of the sign.
	Line int
	// Octave moves the pitch: −1 for a small 8 below the sign, +1 above, ±2 for 15.
	Octave int
	// AfterBarline draws a change at the start of a bar after its barline; the
	// default is before it.
	AfterBarline bool
}

// ClefSign is the shape of a clef.
type ClefSign uint8

// The clef signs. ClefNone reads as a treble clef.
const (
	ClefG ClefSign = iota
	ClefF
	ClefC
	ClefPercussion
	ClefTab
	ClefNone
)

// Treble returns the G clef on the second line.
func Treble() Clef { return Clef{Sign: ClefG, Line: 2} }

// Bass returns the F clef on the fourth line.
func Bass() Clef { return Clef{Sign: ClefF, Line: 4} }

// Alto returns the C clef on the third line.
func Alto() Clef { return Clef{Sign: ClefC, Line: 3} }

// Tenor returns the C clef on the fourth line.
func Tenor() Clef { return Clef{Sign: ClefC, Line: 4} }

// Key is a key signature.
type Key struct {
	// Fifths counts sharps, flats negative; −11 to 11 can be drawn (from 8 on
	// with double signs).
	Fifths int
	// Cancel is the signature to cancel with naturals; 0 for none. Going to no
	// sharps or flats always cancels what was there.
	Cancel int
	// Signs replaces Fifths by any signs (a non-traditional signature).
	Signs []KeySign
	// Room leaves the room of that many signs and draws none, on a staff to be
	// written on; default none.
	Room int
}

// KeySign is one sign of a non-traditional signature.
type KeySign struct {
	// Step is the note name, C to B as 0 to 6. Sign is its accidental.
	Step int
	Sign string
	// Octave places the sign; HasOctave false puts it where the usual signature
	// of the clef has it.
	Octave    int
	HasOctave bool
}

// Time is a time signature.
type Time struct {
	// Beats and BeatType are the upper and lower number. Beats may be a sum
	// ("3+2"). Several fractions in a row go to More.
	Beats, BeatType string
	More            []Time
	// Symbol is how it is drawn.
	Symbol TimeSymbol
	// Alternate is a second signature in parentheses, nil for none.
	Alternate *Time
}

// TimeSymbol is the look of a time signature.
type TimeSymbol uint8

// The looks of a time signature. TimeFree draws nothing (no metre).
const (
	TimeNumbers TimeSymbol = iota
	TimeCommon
	TimeCut
	TimeSingle
	TimeFree
)

// Accidental is a printed accidental.
type Accidental struct {
	// Sign is a MusicXML accidental value: "sharp", "flat-flat", "quarter-sharp".
	Sign string
	// Parentheses (a courtesy sign) or Brackets (an editor's) stand around it.
	Parentheses, Brackets bool
	// Small draws it at cue size.
	Small bool
}

// Stem is the direction of a stem.
type Stem uint8

// The stems.
const (
	StemAuto Stem = iota
	StemUp
	StemDown
	StemNone
)

// Beam is what one beam level does at a note.
type Beam uint8

// The beam marks of one level.
const (
	BeamNone Beam = iota
	BeamBegin
	BeamContinue
	BeamEnd
	BeamHookRight
	BeamHookLeft
)

// Side is above or below a note or staff.
type Side uint8

// The sides; SideAuto follows the rules.
const (
	SideAuto Side = iota
	Above
	Below
)

// Head is the shape of a note head.
type Head uint8

// The head shapes. Cross and the like have one form for all values.
const (
	HeadNormal Head = iota
	HeadCross
	HeadPlus
	HeadCircleCross
	HeadDiamond
	HeadSquare
	HeadTriangle
	HeadInvertedTriangle
	HeadLeftTriangle
	HeadMoon
	HeadSlash
	HeadSlashed
	HeadBackSlashed
	HeadArrowUp
	HeadArrowDown
	HeadBeatRepeat // the sign for a beat that is played again
	HeadNone
)

// Barline is the line at an edge of a bar.
type Barline struct {
	Style BarStyle
	// Repeat draws the repeat dots on the side of the bar it belongs to.
	Repeat bool
	// Sign is a fermata, segno or coda over the line, "" for none.
	Sign string
}

// BarStyle is the look of a barline.
type BarStyle uint8

// The looks. BarDefault is an ordinary line on the right, nothing on the left.
const (
	BarDefault BarStyle = iota
	BarOrdinary
	BarDouble
	BarFinal // thin, thick
	BarHeavy
	BarHeavyThin
	BarHeavyHeavy
	BarDashed
	BarDotted
	BarTick
	BarShort
	BarNone
)

// Articulation is a sign at a note.
type Articulation struct {
	// Sign is the name of a sign (ArticulationSigns lists them); "" where Text is
	// drawn: a fingering, a string's number.
	Sign string
	Text string
	// Circled draws a circle around Text.
	Circled bool
	Side    Side
	// Accidentals stand with an ornament: over and under it.
	Over, Under *Accidental
}

// MarkKind says what a Mark is.
type MarkKind uint8

// The kinds of marks.
const (
	MarkWords     MarkKind = iota // Italic words, by default above
	MarkTempo                     // bold words and metronome marks over the staff
	MarkDynamic                   // the letters of a dynamic, and words that belong to it
	MarkRehearsal                 // boxed
	MarkHarmony                   // a chord symbol
	MarkFrame                     // the diagram of a chord
	MarkSegno
	MarkCoda
	MarkPedal
	MarkPedalEnd
	MarkFigure // figured bass, lines separated by "\n"
	MarkNote   // plain small text under the staff, for lesson pages
)

// Mark is a word or sign at a moment of a bar.
type Mark struct {
	Onset musicxml.Fraction
	Kind  MarkKind
	// Text is what it says, lines separated by "\n". Pieces take its place where it
	// is more than letters.
	Text   string
	Pieces []Piece
	Side   Side
	// Letters is the face of the letters, nil for that of the kind.
	Letters *fonts.Face
	// Enclosure stands around it; a rehearsal mark has a rectangle by default.
	Enclosure Enclosure
	// Diagram is drawn in place of letters; nil for none.
	Diagram Diagram
}

// SpannerKind says what a Spanner is.
type SpannerKind uint8

// The kinds of spanners.
const (
	Crescendo SpannerKind = iota
	Diminuendo
	OctaveUp   // 8va above: printed lower than it sounds
	OctaveDown // 8va below
	TwoOctavesUp
	TwoOctavesDown
	ThreeOctavesUp
	ThreeOctavesDown
	TrillLine
	PedalLine
	DashedLine
	BracketLine
)

// Spanner is a sign from one moment to another.
type Spanner struct {
	Kind     SpannerKind
	From, To Moment
	Side     Side
	// Text stands at the beginning.
	Text string
	// Line is the look of a bracket's stroke; Begin and End are its ends.
	Line       LineType
	Begin, End Hook
	// Changes are where a pedal is lifted and pressed anew.
	Changes []Moment
	// Niente puts a circle at the closed end of a hairpin.
	Niente bool
}

// Hook is the end of a bracket.
type Hook uint8

// The hooks.
const (
	NoHook Hook = iota
	HookUp
	HookDown
	HookBoth
	HookArrow
)

// Moment is a time in the music: the index of the bar and quarter notes from
// its start.
type Moment struct {
	Bar   int
	Onset musicxml.Fraction
}
