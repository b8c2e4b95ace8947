package collate

import (
	"slices"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// transcript is one part as it is compared. It outlives the tree it was read from.
type transcript struct {
	bars  []bar
	notes int // sounding notes
	// transposes: the part says a transposition, octaves included; declares: one
	// that is no plain octave.
	transposes, declares bool
	pitched              bool // it has notes of pitch
	signed               bool // it has a key signature with sharps or flats somewhere
	// strikes are the instruments that unpitched notes are played on.
	strikes map[string]bool
	// lyrics, chords and figures: it has any.
	lyrics, chords, figures bool
}

// bar is one bar.
type bar struct {
	number   string
	length   musicxml.Fraction // that is filled, in quarter notes
	beatType string
	implicit bool
	cued     bool // it has cue notes
	metre    string
	key      key
	moves    []change       // of key and metre within the bar
	by       pitch.Interval // from written to sounding pitch at the start of the bar
	notes    []note         // in the order of time
	marks    []mark
}

// beat names a place in the bar.
func (b *bar) beat(onset musicxml.Fraction) string {
	return musicxml.BeatName(onset, b.beatType)
}

// key is a signature.
type key struct {
	said bool // it is printed
	// fifths are the sounding key's; written ones the page's. tones names a key
	// given tone by tone, "" for a traditional one.
	fifths, written int
	tones           string
	scale           scale // as it sounds
}

// scale is what a signature makes of the seven letters, in rising order of sound, in
// thousandths of a semitone above C: keys of one scale are one key, or enharmonic twins.
type scale [7]int32

func scaleOf(alters [7]pitch.Alter, by pitch.Interval) scale {
	var s scale
	for step, alter := range alters {
		p := by.Apply(pitch.Pitch{Step: pitch.Step(step), Alter: alter, Octave: 4})
		s[step] = int32(heightOf(p, false))
	}
	return s.moved(0)
}

// moved is the scale so many semitones away.
func (s scale) moved(semitones int) scale {
	const octave = 12_000
	for i := range s {
		height := int(s[i]) + 1000*semitones
		s[i] = int32(height - octave*pitch.FloorDiv(height, octave))
	}
	slices.Sort(s[:])
	return s
}

// change is a signature of key or time that comes within a bar.
type change struct {
	onset musicxml.Fraction
	key   *key
	metre string
}

// note is one note.
type note struct {
	onset, length musicxml.Fraction // quarter notes from the start of the bar
	height        int               // thousandths of a semitone above MIDI note 0; letter steps for an unpitched note
	sounding      pitch.Pitch
	written       pitch.Pitch
	read          pitch.Pitch    // what the page says
	from          reading.Source // why, of a note that is misread
	grace         int            // place in its group of grace notes from 1; 0 for a full note
	staff         int
	voice         string
	unpitched     bool
	tieStart      bool
	tieStop       bool
	slashed       bool              // of a grace note: its stem is crossed
	printed       musicxml.Fraction // how long it lasts by its head, dots and tuplet; 0 where they do not say
	head          string            // what stands for a notehead of its own, "" for the usual one
	instrument    string            // that is struck, of an unpitched note
	signs         []mark            // at the note
}

// moment is a time in a bar at which notes begin, grace notes apart.
type moment struct {
	onset musicxml.Fraction
	grace int
}

func (n *note) moment() moment { return moment{n.onset, n.grace} }

func (n *note) end() musicxml.Fraction { return n.onset.Add(n.length) }

// moved is the height of the note in a part that is moved.
func (n *note) moved(by int) int {
	if n.unpitched {
		return n.height
	}
	return n.height + by
}

func (n *note) misread() bool { return n.read != n.written }

// mark is something that is printed beside the notes.
type mark struct {
	kind Kind
	// facet tells what may stand in each other's place: an accent for a marcato,
	// not an accent for a slur.
	facet string
	key   string // the same for marks that say the same
	text  string // for people
	onset musicxml.Fraction
	end   musicxml.Fraction // of what a fermata stands on
	// beside are the notes that an ornament goes to.
	beside auxiliaries
	// span joins the two ends of something long, 0 for what has none.
	span int
	// last: it is the end of a span.
	last bool
}

// says reports whether two marks of one kind of thing say the same.
func (m *mark) says(o *mark) bool { return m.key == o.key && !m.beside.differ(&o.beside) }

// heightOf measures a pitch.
func heightOf(p pitch.Pitch, unpitched bool) int {
	if unpitched {
		return p.Place()
	}
	return int(p.MIDI() / (pitch.Semitone / 1000))
}
