package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/octaves"
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
	lie        octaves.Lie
	lost       float64 // share of the notes that are left out
	fit        float64 // 0 to 1, by which candidates are ranked
	kin        string  // which of the kinships it has to the part's instrument
	asDoubling float64 // the same for one who doubles the line: in another octave nearly as good
}

// leastShare is the share of notes that an instrument must have to be one that
// could take a part.
const leastShare = 0.8

// enoughOfOwn is the share of notes with which an instrument keeps its own part at
// the octave that the composer wrote.
const enoughOfOwn = 0.9

// How the fit of an instrument comes about: the notes it has, and how comfortably,
// times a factor for each thing that speaks against it.
const (
	forComfort   = 0.35  // what of the notes' fit is comfort, the rest is range
	forStrange   = 0.5   // what a note counts that is out of the expected range alone
	offSignature = 0.015 // each sharp or flat past four that is to be read
	forRare      = 0.7   // out of use
	forUnusual   = 0.97  // in another key than the usual one of its kind
	offCentre    = 0.25  // a line an octave and a half away from where the instrument is at home; in proportion
	offLost      = 0.5   // all notes of chords left out; in proportion
	offOctave    = 0.1   // an octave away, for one who doubles
	offChange    = 0.016 // each change of octave
	offDear      = 0.02  // the same in the middle of a phrase, beside it
)

// forAway is the factor for the octaves that a line's notes move on average. A line
// that moves by an octave keeps its sense, one that moves by three hardly: a bass above
// the tune is none.
var forAway = [...]float64{1, 0.6, 0.25, 0.1, 0.05}

// awayFactor lies between the factors of the whole octaves.
func awayFactor(mean float64) float64 {
	whole := min(int(mean), len(forAway)-2)
	return forAway[whole] + (mean-float64(whole))*(forAway[whole+1]-forAway[whole])
}

// Fit ranks the instruments that could take the music, best first. Of the open
// catalogue it returns those that have most of the notes; what the ensemble has
// (have) is judged whole.
func Fit(m *Music, catalogue *instruments.Catalogue, have []*instruments.Instrument, level instruments.Level) []Candidate {
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

// judge weighs one instrument, in an octave that is given or in those that suit; able
// is false where it cannot play such music at all.
func judge(m *Music, in *instruments.Instrument, level instruments.Level, octave ...int) (c Candidate, able bool) {
	c = Candidate{Instrument: in.ID, instrument: in, Clef: in.Clefs[0].Name()}
	if len(m.Line) == 0 || in.Flags.Unpitched {
		return judgeUnpitched(m, c)
	}
	compass, ok := octaves.CompassOf(in, level)
	if !ok {
		c.Text = "has no range that the notes could be held against"
		return c, false
	}
	line := m.Line
	if in.OneLine && in != m.From {
		line, c.lost = m.upper(), m.lost()
	}
	c.lie = m.lieFor(in, line, compass, octave)
	c.take(&c.lie)
	c.Key = in.WrittenFifths(m.Fifths)
	near, kin := m.kinship(in)
	c.fit = suitability(&c.lie) * near * (1 - offSignature*float64(max(0, pitch.Abs(c.Key)-4))) * (1 - offLost*c.lost)
	c.fit *= (1 - offCentre*farFromHome(&c.lie, compass)) * math.Pow(1-offDear, float64(c.lie.DearChanges)) * math.Pow(1-offChange, float64(c.lie.Changes))
	switch {
	case m.From == in:
	case in.Flags.Rare:
		c.fit *= forRare
	case !in.Flags.Usual:
		c.fit *= forUnusual
	}
	if m.sameSection(in) || c.meanAway() < mostlyAway {
		c.asDoubling = c.fit * (1 - offOctave*c.meanAway())
	}
	c.fit *= awayFactor(c.meanAway())
	c.kin, c.Text = kin, sentence(c, kinships[kin])
	return c, true
}

// mostlyAway is the mean of octaves from which on a line counts as played in another
// octave. Octaves are doubled within a section, a flute's line by a saxophone, not by a
// horn (taste; common practice, no source).
const mostlyAway = 0.5

func (m *Music) sameSection(in *instruments.Instrument) bool {
	return m.From != nil && m.From.Group == in.Group
}

// meanAway is the octaves that the notes move on average.
func (c *Candidate) meanAway() float64 { return float64(c.lie.Away) / float64(max(1, c.lie.Notes)) }

// lieFor is how a line lies on an instrument. A player of the instrument that it was
// written for, in whatever key, keeps the octave that the composer wrote; for others
// the octaves are chosen.
func (m *Music) lieFor(in *instruments.Instrument, line Line, compass octaves.Compass, given []int) octaves.Lie {
	phrases := m.phrases(line)
	if len(given) > 0 {
		return octaves.Weigh(phrases, slices.Repeat(given[:1], len(phrases)), compass)
	}
	if m.own(in) {
		asWritten := octaves.Weigh(phrases, make([]int, len(phrases)), compass)
		if float64(asWritten.Missing) <= (1-enoughOfOwn)*float64(asWritten.Notes) {
			return asWritten
		}
	}
	return octaves.Weigh(phrases, octaves.Choose(phrases, compass), compass)
}

// own reports whether the music is for such an instrument, in whatever key.
func (m *Music) own(in *instruments.Instrument) bool { return m.From != nil && m.From.Kind == in.Kind }

// take fills in what the lie of the notes says.
func (c *Candidate) take(l *octaves.Lie) {
	n := float64(max(1, l.Notes))
	c.InRange = round(1 - float64(l.Missing+l.Strange)/n)
	c.Comfortable = round(1 - float64(l.Missing+l.Strange+l.Strained)/n)
	c.Octave = l.Main
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
	near, kin := m.kinship(c.instrument)
	c.InRange, c.Comfortable, c.fit = 1, 1, near
	c.kin, c.Text = kin, "strokes without pitch; "+kinships[kin]
	return c, true
}

// suitability is how well a line lies.
func suitability(l *octaves.Lie) float64 {
	n := float64(max(1, l.Notes))
	full := 1 - (float64(l.Missing)+(1-forStrange)*float64(l.Strange))/n
	comfortable := 1 - float64(l.Missing+l.Strange+l.Strained)/n
	return (1-forComfort)*full + forComfort*comfortable
}

// farFromHome tells from 0 to 1 how far the middle of a line lies from the middle of
// the comfortable range: at an octave and a half it is away, on an instrument that is
// at home in more than three octaves at the end of those.
func farFromHome(l *octaves.Lie, c octaves.Compass) float64 {
	home := float64(c.ComfortableLow+c.ComfortableHigh) / 2
	away := max(18, float64(c.ComfortableHigh-c.ComfortableLow)/2)
	return min(1, math.Abs(float64(l.SumOfSounds)/float64(max(1, l.Notes))-home)/away)
}

// kinships are how near an instrument is to the one that the music is for, in words.
var kinships = map[string]string{
	"unknown": "what the part is for is not known",
	"own":     "the part's own instrument",
	"kind":    "the same instrument in another key or clef",
	"family":  "of the same family",
	"section": "of the same section",
	"wind":    "a wind instrument too",
	"other":   "of another section",
}

// kinship tells how near an instrument is to the one that the music is for, as a
// factor of its fit, and which of the kinships that is.
func (m *Music) kinship(in *instruments.Instrument) (near float64, kin string) {
	from := m.From
	switch {
	case from == nil:
		return 0.7, "unknown"
	case from == in:
		return 1, "own"
	case from.Kind == in.Kind:
		return 0.95, "kind"
	case from.Family == in.Family:
		return 0.85, "family"
	case from.Group == in.Group:
		return 0.7, "section"
	case from.IsWind() && in.IsWind():
		return 0.6, "wind"
	}
	return 0.5, "other"
}

// sentence says why a candidate stands where it does.
func sentence(c Candidate, kinship string) string {
	l := &c.lie
	var words []string
	switch {
	case l.Missing > 0:
		words = append(words, fmt.Sprintf("%s that it does not have", notice.Counted(l.Missing, "note", "notes")))
	case c.Comfortable == 1:
		words = append(words, "every note is comfortable")
	case c.InRange == 1:
		words = append(words, "every note is in range, "+Percent(c.Comfortable)+" comfortable")
	default:
		words = append(words, fmt.Sprintf("it has every note, %s of them in the range of such players", Percent(c.InRange)))
	}
	words[0] += c.octaveWords()
	words = append(words, fmt.Sprintf("reads %s in %s clef", pitch.SignatureWords(c.Key), c.Clef))
	if c.lost > 0 {
		words = append(words, Percent(c.lost)+" of the notes, the lower ones of chords, are left out")
	}
	return strings.Join(append(words, kinship), "; ")
}

// octaveWords says in which octaves a line is played.
func (c *Candidate) octaveWords() string {
	words := " at the score's octave"
	if c.Octave != 0 {
		words = " " + octaveWords(c.Octave)
	}
	if c.lie.Changes > 0 {
		words += fmt.Sprintf(" for the most part, with %s", notice.Counted(c.lie.Changes, "change of octave", "changes of octave"))
	}
	return words
}

// roundUp keeps it to four decimals, and never makes it 0 when it is not.
func roundUp(share float64) float64 { return math.Ceil(share*1e4) / 1e4 }

// round keeps a share to four decimals, and never makes it 1 when it is not.
func round(share float64) float64 { return math.Floor(share*1e4) / 1e4 }
