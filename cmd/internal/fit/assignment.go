package fit

import "math"

// bestAssignment gives each column (player) to at most one row (line) and each row
// to at most one column so that the sum of their values is the greatest there is.
// Values are 0 or more; a pair of value 0 is never made. It returns the column of
// each row, -1 for none.
//
// It is the Hungarian method in the form of shortest augmenting paths with
// potentials (Kuhn 1955; Jonker and Volgenant 1987), exact in whole numbers, in
// time rows² × columns. No maintained Go library with an exact solver for this
// problem could be found: the one general library of numerics has a simplex in
// floating point alone, which may stop at fractions. The tests compare it with
// trying every possibility and check the certificate of optimality.
func bestAssignment(values [][]int64) []int {
	rows := len(values)
	if rows == 0 || len(values[0]) == 0 {
		return unassigned(rows)
	}
	columns := len(values[0])
	if rows > columns {
		of := unassigned(rows)
		for column, row := range bestAssignment(transposed(values)) {
			if row >= 0 {
				of[row] = column
			}
		}
		return of
	}
	s := newSolver(values)
	for row := range rows {
		s.augment(row)
	}
	of := unassigned(rows)
	for column, row := range s.rowOf {
		if row >= 0 && values[row][column] > 0 {
			of[row] = column
		}
	}
	return of
}

func unassigned(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = -1
	}
	return all
}

func transposed(values [][]int64) [][]int64 {
	turned := make([][]int64, len(values[0]))
	for c := range turned {
		turned[c] = make([]int64, len(values))
		for r := range values {
			turned[c][r] = values[r][c]
		}
	}
	return turned
}

// growing is an assignment to which rows are added one by one. It is the best there is
// for the rows so far, each of which has a column.
type growing struct{ solver }

// Values of a growing assignment lie below beyondValue; a pair that must not be made is
// forbidden.
const (
	beyondValue = int64(1) << 40
	forbidden   = int64(-1) << 50
)

func newGrowing(columns int) *growing {
	return &growing{solver{potential: make([]int64, columns), rowOf: unassigned(columns)}}
}

// gain is by how much the sum of values grows if a row is added, whoever has to change
// columns for it; ok is false where there is no column for it.
func (g *growing) gain(values []int64) (gain int64, ok bool) {
	if len(g.cost) == len(g.rowOf) {
		return 0, false
	}
	g.push(values)
	p := g.cheapestPath(len(g.cost) - 1)
	g.cost, g.rowPotential = g.cost[:len(g.cost)-1], g.rowPotential[:len(g.cost)-1]
	return beyondValue - p.length(), p.length() < -forbidden/2
}

// add adds a row for which there is a column.
func (g *growing) add(values []int64) {
	g.push(values)
	g.augment(len(g.cost) - 1)
}

func (g *growing) push(values []int64) {
	row := make([]int64, len(values))
	for c, v := range values {
		row[c] = beyondValue - v
	}
	g.cost, g.rowPotential = append(g.cost, row), append(g.rowPotential, 0)
}

// solver keeps an assignment of the first rows that costs least, cost being what
// a value lacks of the greatest one, and the potentials that prove it: no reduced
// cost (cost − row potential − column potential) is below 0, and it is 0 where a
// pair is made.
type solver struct {
	cost         [][]int64
	rowPotential []int64
	potential    []int64 // of the columns
	rowOf        []int   // of each column, -1 for none
}

func newSolver(values [][]int64) *solver {
	greatest := int64(0)
	for _, row := range values {
		for _, v := range row {
			greatest = max(greatest, v)
		}
	}
	s := &solver{cost: make([][]int64, len(values)), rowPotential: make([]int64, len(values)),
		potential: make([]int64, len(values[0])), rowOf: unassigned(len(values[0]))}
	for r, row := range values {
		s.cost[r] = make([]int64, len(row))
		for c, v := range row {
			s.cost[r][c] = greatest - v
		}
	}
	return s
}

func (s *solver) reduced(row, column int) int64 {
	return s.cost[row][column] - s.rowPotential[row] - s.potential[column]
}

// augment adds a row: along the cheapest path of exchanges to a column that is free.
func (s *solver) augment(row int) {
	p := s.cheapestPath(row)
	s.settle(row, &p)
	s.exchange(row, &p)
}

// path is the cheapest way to seat one more row.
type path struct {
	distance []int64 // to each column
	from     []int   // the column before on the way, -1 for the new row itself
	reached  []int   // columns that were passed
	end      int     // the free column that it leads to
}

// length is by how much the path raises the cost of all rows together.
func (p *path) length() int64 { return p.distance[p.end] }

// cheapestPath finds it (Dijkstra over the reduced costs) and changes nothing.
func (s *solver) cheapestPath(row int) path {
	n := len(s.potential)
	p := path{distance: make([]int64, n), from: unassigned(n)}
	done := make([]bool, n)
	for c := range p.distance {
		p.distance[c] = s.reduced(row, c)
	}
	for {
		p.end = nearest(p.distance, done)
		done[p.end] = true
		if s.rowOf[p.end] < 0 {
			return p
		}
		p.reached = append(p.reached, p.end)
		for c := range p.distance {
			if d := p.distance[p.end] + s.reduced(s.rowOf[p.end], c); !done[c] && d < p.distance[c] {
				p.distance[c], p.from[c] = d, p.end
			}
		}
	}
}

func nearest(distance []int64, done []bool) int {
	best, least := -1, int64(math.MaxInt64)
	for c, d := range distance {
		if !done[c] && d < least {
			best, least = c, d
		}
	}
	return best
}

// settle moves the potentials so that the path's reduced costs become 0.
func (s *solver) settle(row int, p *path) {
	s.rowPotential[row] += p.length()
	for _, c := range p.reached {
		s.rowPotential[s.rowOf[c]] += p.length() - p.distance[c]
		s.potential[c] -= p.length() - p.distance[c]
	}
}

// exchange hands every column on the path to the row before it.
func (s *solver) exchange(row int, p *path) {
	column := p.end
	for p.from[column] >= 0 {
		s.rowOf[column] = s.rowOf[p.from[column]]
		column = p.from[column]
	}
	s.rowOf[column] = row
}
