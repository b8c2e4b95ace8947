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

// augment adds a row: along the cheapest path of exchanges (Dijkstra over the
// reduced costs) to a column that is free.
func (s *solver) augment(row int) {
	n := len(s.potential)
	distance := make([]int64, n)
	from := unassigned(n) // the column before on the path, -1 for the new row itself
	done := make([]bool, n)
	for c := range distance {
		distance[c] = s.reduced(row, c)
	}
	var reached []int
	for {
		near := nearest(distance, done)
		done[near] = true
		if s.rowOf[near] < 0 {
			s.settle(row, distance, reached, distance[near])
			s.exchange(row, near, from)
			return
		}
		reached = append(reached, near)
		for c := range distance {
			if d := distance[near] + s.reduced(s.rowOf[near], c); !done[c] && d < distance[c] {
				distance[c], from[c] = d, near
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
func (s *solver) settle(row int, distance []int64, reached []int, length int64) {
	s.rowPotential[row] += length
	for _, c := range reached {
		s.rowPotential[s.rowOf[c]] += length - distance[c]
		s.potential[c] -= length - distance[c]
	}
}

// exchange hands every column on the path to the row before it.
func (s *solver) exchange(row, column int, from []int) {
	for from[column] >= 0 {
		s.rowOf[column] = s.rowOf[from[column]]
		column = from[column]
	}
	s.rowOf[column] = row
}
