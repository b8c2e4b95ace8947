package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// Candidate is an instrument that could take a part.
type Candidate struct {
	Instrument  string  `json:"instrument"`
	InRange     float64 `json:"in_range"`    // share of its notes in the full range
	Comfortable float64 `json:"comfortable"` // share in the comfortable range
	Octave      int     `json:"octave"`      // whole octaves to add to the sound
	Key         int     `json:"key"`         // fifths of the first signature to read
	Clef        string  `json:"clef"`
	Text        string  `json:"text"`

	instrument *instruments.Instrument
	fit        float64 // 0 to 1, by which candidates are ranked
}

// leastShare is the share of notes that an instrument must have to be one that
// could take a part.
const leastShare = 0.8

// enoughOfOwn is the share of notes with which an instrument keeps its own part at
// the octave that the composer wrote.
const enoughOfOwn = 0.9

// How the fit of an instrument comes about: the notes it has, and how comfortably,
// times a factor for each thing that speaks against it. A line that moves by an
// octave keeps its sense, one that moves by three hardly: a bass above the tune is
// none.
const (
	forComfort   = 0.35  // what of the notes' fit is comfort, the rest is range
	offOctave    = 0.1   // by which the nearer of two octaves is preferred
	offSignature = 0.015 // each sharp or flat past four that is to be read
	forRare      = 0.7   // out of use
	forUnusual   = 0.97  // in another key than the usual one of its kind
	offCentre    = 0.05  // a line at the very edge of the comfortable range; in proportion
	offLost      = 0.5   // all notes of chords left out; in proportion
)

// forOctave is the factor for the octaves that a line moves.
var forOctave = [5]float64{1, 0.75, 0.4, 0.15, 0.05}

// Fit ranks the instruments that could take the music, best first. Of the open
// catalogue it returns those that have most of the notes; what the ensemble has
// (have) is judged whole.
func Fit(m *Music, catalogue *instruments.Catalogue, have []*instruments.Instrument, level string) []Candidate {
	all := have
	if len(have) == 0 {
		all = catalogue.All()
	}
	var found []Candidate
	for _, in := range all {
		c, able := judge(m, in, level)
		if len(have) > 0 || able && c.InRange >= leastShare && m.suits(in) {
			found = append(found, c)
		}
	}
	slices.SortStableFunc(found, func(a, b Candidate) int { return cmp.Compare(b.fit, a.fit) })
	return found
}

// suits leaves out of the open catalogue what nobody would think of: voices for
// music without words, kettledrums for a tune, instruments out of use.
func (m *Music) suits(in *instruments.Instrument) bool {
	switch {
	case m.From == in:
		return true
	case in.Flags.Voice:
		return m.Lyrics || m.From != nil && m.From.Flags.Voice
	case in.Family == "timpani":
		return m.From != nil && m.From.Family == "timpani"
	}
	return !in.Flags.Rare
}

// judge weighs one instrument; able is false where it cannot play such music at all.
func judge(m *Music, in *instruments.Instrument, level string) (c Candidate, able bool) {
	c = Candidate{Instrument: in.ID, instrument: in, Clef: in.Clefs[0].Name()}
	if len(m.Line) == 0 || in.Flags.Unpitched {
		return judgeUnpitched(m, c)
	}
	r, ok := in.Range(level)
	if !ok {
		c.Text = "has no range that the notes could be held against"
		return c, false
	}
	line, lost := m.Line, 0.0
	if in.OneLine && in != m.From {
		line, lost = m.upper(), m.lost()
	}
	if c.Octave = bestOctave(line, r.Sounding); m.From == in && shares(line, r.Sounding, 0).full >= enoughOfOwn {
		c.Octave = 0 // it was written for the instrument
	}
	s := shares(line, r.Sounding, c.Octave)
	c.InRange, c.Comfortable = round(s.full), round(s.comfortable)
	c.Key = signatureFor(m.Fifths, in)
	near, kinship := m.kinship(in)
	c.fit = suitability(s) * near * forOctave[pitch.Abs(c.Octave)] * (1 - offSignature*float64(max(0, pitch.Abs(c.Key)-4))) * (1 - offLost*lost)
	c.fit *= 1 - offCentre*farFromCentre(line, r.Sounding, c.Octave)
	switch {
	case m.From == in:
	case in.Flags.Rare:
		c.fit *= forRare
	case !in.Flags.Usual:
		c.fit *= forUnusual
	}
	c.Text = sentence(c, s, lost, kinship, line, r.Sounding)
	return c, true
}

// judgeUnpitched weighs an instrument for strokes without pitch, or one without
// pitch for a tune, which it cannot play.
func judgeUnpitched(m *Music, c Candidate) (Candidate, bool) {
	switch {
	case m.silent():
		c.InRange, c.Comfortable, c.fit, c.Text = 1, 1, 1, "the part is silent all through"
		return c, true
	case len(m.Line) > 0 || !c.instrument.Flags.Unpitched:
		c.Text = "percussion without pitch and notes with pitch do not go together"
		return c, false
	}
	near, kinship := m.kinship(c.instrument)
	c.InRange, c.Comfortable, c.fit = 1, 1, near
	c.Text = "strokes without pitch; " + kinship
	return c, true
}

// bestOctave finds the octave in which most of a line lies well.
func bestOctave(line Line, compass instruments.Compass) int {
	best, most := 0, math.Inf(-1)
	for _, octave := range []int{0, -1, 1, -2, 2, -3, 3, -4, 4} {
		s := shares(line, compass, octave)
		if s := s.full + suitability(s) - offOctave*math.Abs(float64(octave)); s > most+1e-9 {
			best, most = octave, s
		}
	}
	return best
}

// suitability is how well a line lies.
func suitability(s share) float64 { return (1-forComfort)*s.full + forComfort*s.comfortable }

// farFromCentre tells from 0 to 1 how far the middle of a line lies from the middle
// of the comfortable range.
func farFromCentre(line Line, c instruments.Compass, octave int) float64 {
	sum := 0
	for i := range line {
		sum += line[i].midi()
	}
	low, high := float64(c.ComfortableLow.NoteNumber()), float64(c.ComfortableHigh.NoteNumber())
	away := math.Abs(float64(sum)/float64(len(line)) + float64(12*octave) - (low+high)/2)
	return min(1, 2*away/max(1, high-low))
}

// signatureFor is the signature that an instrument reads in a sounding key, its
// enharmonic twin past six sharps or flats.
func signatureFor(fifths int, in *instruments.Instrument) int {
	read := fifths - in.Interval().Fifths()
	if pitch.Abs(read) > 6 {
		return pitch.Twin(read)
	}
	return read
}

// kinship tells how near an instrument is to the one that the music is for, as a
// factor of its fit, and in words.
func (m *Music) kinship(in *instruments.Instrument) (near float64, words string) {
	from := m.From
	switch {
	case from == nil:
		return 0.7, "what the part is for is not known"
	case from == in:
		return 1, "the part's own instrument"
	case from.Kind == in.Kind:
		return 0.95, "the same instrument in another key or clef"
	case from.Family == in.Family:
		return 0.85, "of the same family"
	case from.Group == in.Group:
		return 0.7, "of the same section"
	case isWind(from) && isWind(in):
		return 0.6, "a wind instrument too"
	}
	return 0.5, "of another section"
}

func isWind(in *instruments.Instrument) bool { return in.Group == "woodwind" || in.Group == "brass" }

// sentence says why a candidate stands where it does.
func sentence(c Candidate, s share, lost float64, kinship string, line Line, compass instruments.Compass) string {
	var words []string
	switch {
	case s.comfortable == 1:
		words = append(words, "every note is comfortable")
	case s.full == 1:
		words = append(words, "every note is in range, "+Percent(s.comfortable)+" comfortable")
	default:
		words = append(words, Percent(s.full)+" of the notes are in range, "+outside(line, compass, c.Octave))
	}
	if c.Octave == 0 {
		words[0] += " at the score's octave"
	} else {
		words[0] += " " + octaveWords(c.Octave)
	}
	words = append(words, fmt.Sprintf("reads %s in %s clef", pitch.SignatureWords(c.Key), c.Clef))
	if lost > 0 {
		words = append(words, Percent(lost)+" of the notes, the lower ones of chords, are left out")
	}
	return strings.Join(append(words, kinship), "; ")
}

// outside says on which side the notes lie that an instrument does not have.
func outside(line Line, compass instruments.Compass, octave int) string {
	below, above := 0, 0
	for i := range line {
		switch m := line[i].midi() + 12*octave; {
		case m < compass.Low.NoteNumber():
			below++
		case m > compass.High.NoteNumber():
			above++
		}
	}
	switch {
	case below > 0 && above > 0:
		return fmt.Sprintf("%d too low and %d too high", below, above)
	case below > 0:
		return fmt.Sprintf("%d too low", below)
	}
	return fmt.Sprintf("%d too high", above)
}

// round keeps a share to four decimals, and never makes it 1 when it is not.
func round(share float64) float64 { return math.Floor(share*1e4) / 1e4 }
