package octaves

import "deskpart/transpose/pitch"

// Break is where the octave may change, the better the higher.
type Break uint8

// The places between two notes that nothing holds together: no tie, slur, beam or
// other mark from note to note, and no voice that sounds on.
const (
	AtBar    Break = iota // a barline, or the beginning of a slur, in the middle of a phrase
	AtBreath              // a breath mark, a pause or the end of a slur
	AtGap                 // a rest
	AtRest                // a bar of rest or more
)

// Phrase is notes that keep one octave, because something holds them together or
// because no place between them is fit for a change.
type Phrase struct {
	Before Break // what stands before it; the first of a part begins freely
	Leap   int   // semitones from the note before it up to its first, 0 where either is not known
	Sounds []int // MIDI numbers of its notes at the score's octave, a tied note once
}

// The prices by which octaves are chosen, in no unit: only their proportions count. A
// note that the instrument does not have costs more than all changes; a change in the
// middle of a phrase more than all preferences of a long passage. A note that is out
// of the expected range is worth a change at a rest only with others.
const (
	priceMissing   = 1 << 24 // a note that the instrument does not have
	priceFurther   = 1 << 12 // each semitone that it lies further out
	priceStrange   = 24      // a note out of the expected range
	priceStranger  = 3       // each semitone further
	priceStrained  = 6       // a note out of the comfortable range
	priceStrainOn  = 1       // each semitone further
	priceUnwritten = 1 << 36 // a note that MusicXML cannot write
)

// priceNarrower is that of a change in the middle of a phrase, for each octave, that makes
// the leap there no wider: a fourth up in place of a fifth down breaks no line. It is
// worth some notes out of the expected range.
const priceNarrower = 120

// priceAway is that of a note so many octaves away from the score's: for one octave
// less than a note that lies badly, so that about half of a phrase must lie badly; two,
// which make another line of it, less than notes a fourth out of the expected range.
var priceAway = [Farthest + 1]int64{0, 8, 46, 130, 300}

// priceOf a change, for each octave.
var priceOf = [...]int64{AtBar: 2000, AtBreath: 80, AtGap: 40, AtRest: 20}

// Farthest is how many octaves are tried, both ways.
const Farthest = 4

const tried = 2*Farthest + 1

// nearestFirst are the octaves from the score's own outward, lower before higher, so
// that of equal ways the nearest is taken.
var nearestFirst = [tried]int{4, 3, 5, 2, 6, 1, 7, 0, 8}

// Choose returns the octave of each phrase, in octaves added to the score's: the
// cheapest way through them, found from the end (dynamic programming).
func Choose(phrases []Phrase, c Compass) []int {
	rest := make([][tried]int64, len(phrases)+1) // what phrase i and all after it cost
	next := make([][tried]int, len(phrases))     // the best choice for phrase i after that octave
	for i := len(phrases) - 1; i >= 0; i-- {
		price := c.prices(&phrases[i])
		for before := range tried {
			best := int64(-1)
			for _, o := range nearestFirst {
				way := price[o] + rest[i+1][o]
				if i > 0 {
					way += phrases[i].priceOfChange(o-before) * int64(distance(o, before))
				}
				if best < 0 || way < best {
					best, next[i][before] = way, o
				}
			}
			rest[i][before] = best
		}
	}
	octaves := make([]int, len(phrases))
	now := Farthest
	for i := range octaves {
		now = next[i][now]
		octaves[i] = now - Farthest
	}
	return octaves
}

// priceOfChange is that of a change before the phrase, for each of its octaves.
func (p *Phrase) priceOfChange(by int) int64 {
	if p.Before == AtBar && !p.breaks(by) {
		return priceNarrower
	}
	return priceOf[p.Before]
}

// breaks reports whether a change in the middle of a phrase widens the step or the leap
// that stands there.
func (p *Phrase) breaks(by int) bool {
	return distance(p.Leap+12*by, 0) > distance(p.Leap, 0)
}

// Whole returns the one octave in which all phrases suit best, for a line that is to stay
// as it is. It is false where no octave has all the notes.
func Whole(phrases []Phrase, c Compass) (octave int, ok bool) {
	var sum [tried]int64
	missing := [tried]bool{}
	for i := range phrases {
		for o, price := range c.prices(&phrases[i]) {
			sum[o] += price
			missing[o] = missing[o] || price >= priceMissing
		}
	}
	best := -1
	for _, o := range nearestFirst {
		if !missing[o] && (best < 0 || sum[o] < sum[best]) {
			best = o
		}
	}
	return best - Farthest, best >= 0
}

// prices are what a phrase costs at each octave.
func (c *Compass) prices(p *Phrase) (all [tried]int64) {
	for _, sound := range p.Sounds {
		for o := range all {
			all[o] += c.price(sound, o-Farthest)
		}
	}
	return all
}

func (c *Compass) price(sound, octave int) int64 {
	sound += 12 * octave
	price := priceAway[distance(octave, 0)]
	if beyond(sound, c.WritableLow, c.WritableHigh) > 0 {
		return priceUnwritten
	}
	if missing := beyond(sound, c.Low, c.High); missing > 0 {
		return price + priceMissing + int64(missing)*priceFurther
	}
	if strange := beyond(sound, c.ExpectedLow, c.ExpectedHigh); strange > 0 {
		return price + priceStrange + int64(strange)*priceStranger
	}
	if strained := beyond(sound, c.ComfortableLow, c.ComfortableHigh); strained > 0 {
		return price + priceStrained + int64(strained)*priceStrainOn
	}
	return price
}

func distance(a, b int) int { return pitch.Abs(a - b) }
