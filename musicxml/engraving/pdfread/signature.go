package pdfread

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// clefAt is a clef from a place on; reference is the pitch of the staff's middle
// height, in steps from C0.
type clefAt struct {
	x         float64
	reference int
	none      bool // percussion or tablature: places are no pitches
}

// clefSteps are the pitches of the line that a clef names, in steps from C0: the G
// above middle C, the F below it, middle C (Gehrkens 1914, s. 12), with figures an
// octave up or down.
var clefSteps = map[string]int{"𝄞": 32, "𝄟": 39, "𝄠": 25, "𝄢": 24, "𝄣": 31, "𝄤": 17, "𝄡": 28}

// readClefs finds the clefs of all staves.
func (s *system) readClefs() {
	for _, y := range s.symbols {
		steps, known := clefSteps[y.text]
		unpitched := y.text == "𝄥" || y.text == "TAB"
		if !known && !unpitched {
			continue
		}
		st := s.nearest(y.at.y)
		c := clefAt{x: y.at.x, none: unpitched, reference: 34} // a treble clef's middle line
		if known {
			c.reference = steps + halves(y.at.y-st.middle()) + 7*s.figureAt(y)
		}
		st.clefs = append(st.clefs, c)
	}
	for _, st := range s.staves {
		slices.SortFunc(st.clefs, func(a, b clefAt) int { return cmp.Compare(a.x, b.x) })
	}
}

// figureAt is the octaves of a figure 15, 22 or 8 over or under a clef.
func (s *system) figureAt(y *symbol) int {
	for _, l := range s.letters {
		octaves := map[string]int{"8": 1, "15": 2, "22": 3}[l.text]
		middle := l.at.x + l.width/2
		if octaves == 0 || !strings.HasSuffix(l.font, "-Bold") || middle < y.at.x || middle > y.right() || math.Abs(l.at.y-y.at.y) > 6 {
			continue
		}
		if l.at.y > y.at.y {
			return -octaves
		}
		return octaves
	}
	return 0
}

// halves counts half spaces.
func halves(y float64) int { return int(math.Round(y * 2)) }

func (st *staff) clefAt(x float64) clefAt {
	c := clefAt{reference: 34}
	for _, next := range st.clefs {
		if next.x < x+0.2 {
			c = next
		}
	}
	return c
}

// steps is the pitch of a place, in steps from C0, without octave lines.
func (st *staff) steps(x, y float64) int {
	return st.clefAt(x).reference - halves(y-st.middle())
}

// accidentals are the signs and what they mean in semitones (MusicXML 4.0,
// accidental-value; the small figures are read as the plain sign).
var accidentals = map[string]float64{"♯": 1, "♮": 0, "♭": -1, "𝄪": 2, "♯♯": 2, "𝄫": -2, "♮♯": 1, "♮♭": -1, "♯𝄪": 3, "♭𝄫": -3,
	"𝄳": -0.5, "𝄲": 0.5, "♭𝄳": -1.5, "♯𝄲": 1.5, "𝄱": 0.5, "𝄰": 1.5, "𝄯": -0.5, "𝄮": 0.5, "𝄭": -1.5, "𝄬": -0.5,
	"𝄪↓": 1.5, "𝄪↑": 2.5, "𝄫↓": -2.5, "𝄫↑": -1.5}

// keyAt is a signature from a place on.
type keyAt struct {
	x     float64
	staff int
	alter map[int]float64 // by step, C to B as 0 to 6
}

// readKey reads a signature that begins after an x on a staff: signs in a row, a
// tenth or two of a space from each other, with air before what follows them. Signs
// that stand just before a head are those of notes.
func (s *system) readKey(st *staff, from, to float64) *keyAt {
	row := s.rowOfSigns(st, from, to)
	if len(row) == 0 || s.airAfter(st, row[len(row)-1]) < 0.55 {
		return nil
	}
	k := &keyAt{x: row[0].at.x, staff: st.index, alter: map[int]float64{}}
	for _, y := range row {
		y.taken = true
		if a := accidentals[y.text]; a != 0 {
			k.alter[((st.steps(y.at.x, y.at.y)%7)+7)%7] = a
		}
	}
	return k
}

// rowOfSigns are accidentals side by side that begin within the room of a signature.
func (s *system) rowOfSigns(st *staff, from, to float64) (row []*symbol) {
	var all []*symbol
	for _, y := range s.symbols {
		if _, known := accidentals[y.text]; known && !y.small() && y.at.x > from && y.at.x < to && y.at.y > st.top-2.1 && y.at.y < st.bottom+2.1 {
			all = append(all, y)
		}
	}
	slices.SortFunc(all, byX)
	for i, y := range all {
		if i == 0 && y.at.x-from > 2.6 || i > 0 && (y.at.x-all[i-1].right() > 0.25 || y.at.x-all[i-1].right() < 0) {
			break
		}
		row = append(row, y)
	}
	return row
}

// airAfter is the distance from a sign to what follows it on the staff.
func (s *system) airAfter(st *staff, sign *symbol) float64 {
	air := math.Inf(1)
	for _, y := range s.symbols {
		_, accidental := accidentals[y.text]
		if (accidental || y.isHead() || y.isRest()) && y.at.x > sign.at.x+0.01 && s.nearest(y.at.y) == st {
			air = min(air, y.at.x-sign.right())
		}
	}
	for i := range s.strokes { // the parentheses and brackets of an accidental
		if k := &s.strokes[i]; (k.curved || len(k.points) == 4) && k.first().x > sign.right()-0.1 && math.Abs((k.first().y+k.last().y)/2-sign.at.y) < 1 {
			air = min(air, k.first().x-sign.right())
		}
	}
	return air
}

// readMetre reads the time signature at the beginning of a bar, in ticks; 0 for none.
func (s *system) readMetre(from, to float64) int64 {
	st := s.staves[0]
	var upper, lower []*symbol
	for _, y := range s.symbols {
		if y.at.x < from || y.at.x > to || y.taken || y.at.y < st.top-1.5 || y.at.y > st.bottom+1.5 {
			continue
		}
		switch {
		case y.text == "𝄴" || y.text == "𝄵":
			return 4 * quarter
		case y.text != "+" && (y.text < "0" || y.text > "9") || y.small():
		case y.at.y < st.middle()-0.5:
			upper = append(upper, y)
		case y.at.y > st.middle()+0.5:
			lower = append(lower, y)
		}
	}
	beats, unit := sum(upper), sum(lower)
	if beats == 0 || unit == 0 || 4*quarter%unit != 0 {
		return 0
	}
	return beats * 4 * quarter / unit
}

// sum reads numerals with plus signs among them.
func sum(list []*symbol) (total int64) {
	slices.SortFunc(list, byX)
	n := int64(0)
	for _, y := range list {
		if y.text == "+" {
			total, n = total+n, 0
			continue
		}
		n = 10*n + int64(y.text[0]-'0')
	}
	return total + n
}

// octaveLine moves what stands on its way by octaves.
type octaveLine struct {
	from, to float64
	octaves  int
}

var octaveTexts = map[string]int{"8va": 1, "8vb": -1, "15ma": 2, "15mb": -2, "22ma": 3, "22mb": -3}

// readOctaves finds octave lines: their figure, and the dashes after it.
func (s *system) readOctaves() {
	for _, l := range s.letters {
		octaves := octaveTexts[strings.Trim(l.text, "()")]
		if octaves == 0 || l.font == signFont {
			continue
		}
		line := octaveLine{from: l.at.x - 0.6, to: l.at.x + l.width, octaves: octaves}
		if strings.HasPrefix(l.text, "(") {
			line.from = s.left
		}
		for i := range s.strokes {
			if k := &s.strokes[i]; k.level() && k.dashed && math.Abs(k.first().y-(l.at.y-0.45)) < 0.06 && math.Abs(k.first().x-line.to) < 0.7 {
				line.to = max(line.to, k.last().x)
			}
		}
		st := s.besides(l.at.y, octaves)
		st.octaves = append(st.octaves, line)
	}
}

// besides is the staff that an octave line belongs to: that below one that sounds
// higher, that above one that sounds lower, if one is near.
func (s *system) besides(y float64, octaves int) *staff {
	for i, st := range s.staves {
		if octaves > 0 && st.middle() > y {
			return st
		}
		if octaves < 0 && (i+1 == len(s.staves) || s.staves[i+1].top > y) {
			return st
		}
	}
	return s.nearest(y)
}

func (st *staff) octavesAt(x float64) int {
	for _, o := range st.octaves {
		if x > o.from && x < o.to+0.2 {
			return o.octaves
		}
	}
	return 0
}
