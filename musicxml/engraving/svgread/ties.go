package svgread

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
)

// tie is a bow from one head to another of the same pitch: the ends of its path,
// and the height of the heads it belongs to.
type tie struct {
	x1, y1, x2, y2 float64
}

// tipOffset is how far the tips lie from the middle of the head, on the side of
// the bow, in drawing units.
const tipOffset = 5

var numberPattern = regexp.MustCompile(`-?[0-9.]+`)

// readTie reads a path "M x y C x y x y x y C …": its first curve runs along the
// outside of the bow.
func readTie(d string) (tie, error) {
	var n []float64
	for _, text := range numberPattern.FindAllString(d, -1) {
		f, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return tie{}, fmt.Errorf("tie %q: %w", d, err)
		}
		n = append(n, f)
	}
	if len(n) < 8 {
		return tie{}, fmt.Errorf("tie %q is too short", d)
	}
	side := tipOffset * 1.0 // the head lies below a bow that goes up
	if n[3] > n[1] {
		side = -tipOffset
	}
	return tie{x1: n[0], y1: n[1] + side, x2: n[6], y2: n[7] + side}, nil
}

// followTies gives the note at the end of each tie the alteration of the note at
// its beginning, unless an accidental says otherwise; from left to right, as a
// note may be tied on.
func (r *staffReader) followTies() {
	slices.SortStableFunc(r.ties, func(a, b tie) int { return cmp.Compare(a.x1, b.x1) })
	begun, ended := map[*Note]bool{}, map[*Note]bool{}
	for _, t := range r.ties {
		from := r.nearest(t.y1, func(n *Note) float64 { return t.x1 - n.X }, 60, begun)
		to := r.nearest(t.y2, func(n *Note) float64 { return n.X - t.x2 }, 30, ended)
		begun[from], ended[to] = true, true
		switch {
		case to == nil && from != nil:
			r.left[from.Octave*7+from.Step] = from.Alter
		case to != nil && from != nil && from != to:
			to.tie(from.Alter)
		case to != nil && from == nil:
			if alter, ok := r.open[to.Octave*7+to.Step]; ok {
				to.tie(alter)
			}
		}
	}
}

func (n *Note) tie(alter float64) {
	if n.Printed == "" {
		n.Alter = alter
	}
}

// nearest is the head at a height whose distance from a tip is least and between
// nearly nothing and a limit; of two voices in unison each tie has its own.
func (r *staffReader) nearest(y float64, distance func(*Note) float64, limit float64, taken map[*Note]bool) *Note {
	var best *Note
	for _, n := range r.notes {
		d := distance(n)
		if math.Abs(n.Y-y) > 0.5 || d < -8 || d > limit || taken[n] {
			continue
		}
		if best == nil || d < distance(best) {
			best = n
		}
	}
	return best
}
