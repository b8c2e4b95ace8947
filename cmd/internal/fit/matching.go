package fit

import "math"

// matching is columns (players) to which rows (lines) are given one by one, one row to a
// column. The rows so far always have the columns that make the sum of their values
// the greatest there is.
//
// It is the Hungarian method in the form of shortest augmenting paths with
// potentials (Kuhn 1955; Jonker and Volgenant 1987), exact in whole numbers, in time
// columns² at most for each row. No maintained Go library with an exact solver for
// this problem could be found: the one general library of numerics has a simplex in
// floating point alone, which may stop at fractions. The tests compare it with trying
// every possibility and check the certificate of optimality.
type matching struct {
	// cost is what a value lacks of beyondValue. No reduced cost (cost − row potential
	// − column potential) is below 0, and it is 0 where a row has a column: the proof
	// that nothing better is to be had.
	cost         [][]int64
	rowPotential []int64
	potential    []int64 // of the columns, 0 while they are free
	rowOf        []int   // of each column, -1 for none
}

// Values lie from 0 to below beyondValue; a pair that must not be made is forbidden.
const (
	beyondValue = int64(1) << 40
	forbidden   = int64(-1) << 50
)

func newMatching(columns int) *matching {
	return &matching{potential: make([]int64, columns), rowOf: unassigned(columns)}
}

func unassigned(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = -1
	}
	return all
}

// gain is by how much the sum of values would grow with one more row, whoever has to
// change columns for it; ok is false where there is no column for it.
func (m *matching) gain(values []int64) (gain int64, ok bool) {
	if len(m.cost) == len(m.rowOf) {
		return 0, false
	}
	m.push(values)
	p := m.cheapestPath()
	last := len(m.cost) - 1
	m.cost, m.rowPotential = m.cost[:last], m.rowPotential[:last]
	return beyondValue - p.length(), p.length() < -forbidden/2
}

// add gives a column to one more row, for which there must be one.
func (m *matching) add(values []int64) {
	m.push(values)
	p := m.cheapestPath()
	m.settle(&p)
	m.exchange(&p)
}

func (m *matching) push(values []int64) {
	row := make([]int64, len(values))
	for c, v := range values {
		row[c] = beyondValue - v
	}
	m.cost, m.rowPotential = append(m.cost, row), append(m.rowPotential, 0)
}

func (m *matching) reduced(row, column int) int64 {
	return m.cost[row][column] - m.rowPotential[row] - m.potential[column]
}

// path is the cheapest chain of exchanges by which the last row gets a column.
type path struct {
	distance []int64 // to each column
	from     []int   // the column before on the way, -1 for the new row itself
	reached  []int   // columns that were passed
	end      int     // the free column that it leads to
}

// length is by how much the path raises the cost of all rows together.
func (p *path) length() int64 { return p.distance[p.end] }

// cheapestPath finds it (Dijkstra over the reduced costs) and changes nothing.
func (m *matching) cheapestPath() path {
	n := len(m.potential)
	p := path{distance: make([]int64, n), from: unassigned(n)}
	done := make([]bool, n)
	for c := range p.distance {
		p.distance[c] = m.reduced(len(m.cost)-1, c)
	}
	for {
		p.end = nearest(p.distance, done)
		done[p.end] = true
		if m.rowOf[p.end] < 0 {
			return p
		}
		p.reached = append(p.reached, p.end)
		for c := range p.distance {
			if d := p.distance[p.end] + m.reduced(m.rowOf[p.end], c); !done[c] && d < p.distance[c] {
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
func (m *matching) settle(p *path) {
	m.rowPotential[len(m.cost)-1] += p.length()
	for _, c := range p.reached {
		m.rowPotential[m.rowOf[c]] += p.length() - p.distance[c]
		m.potential[c] -= p.length() - p.distance[c]
	}
}

// exchange hands every column on the path to the row before it.
func (m *matching) exchange(p *path) {
	column := p.end
	for p.from[column] >= 0 {
		m.rowOf[column] = m.rowOf[p.from[column]]
		column = p.from[column]
	}
	m.rowOf[column] = len(m.cost) - 1
}
