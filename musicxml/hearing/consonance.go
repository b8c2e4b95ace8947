package hearing

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
)

//go:embed data/consonance.csv
var consonanceTable string

// Ear hears intervals. It holds what each of them counts for.
type Ear struct{ weights weights }

// New returns an ear that weighs intervals as data/consonance.csv says.
func New() (*Ear, error) {
	w, err := readWeights(consonanceTable)
	if err != nil {
		return nil, err
	}
	return &Ear{*w}, nil
}

// weights are what each interval counts for, in hundredths from −100 to 100, by its
// semitones upward from 0 to 11: twelve, because a part stands now above and now below
// another. Whole numbers give the same sums on every machine.
type weights [12]int

// full is the weight of 1.
const full = 100

// classes is how many interval classes there are: an interval and its inversion are
// one, 0 to 6 semitones.
const classes = 7

func readWeights(table string) (*weights, error) {
	r := csv.NewReader(strings.NewReader(table))
	r.FieldsPerRecord = 5
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("consonance.csv: %w", err)
	}
	if len(rows) != classes+1 {
		return nil, fmt.Errorf("consonance.csv has %d rows; it must have a heading and %d", len(rows), classes)
	}
	w := new(weights)
	for i, row := range rows[1:] {
		weight, err := strconv.Atoi(row[2])
		if err != nil || weight < -full || weight > full || row[0] != strconv.Itoa(i) {
			return nil, fmt.Errorf("consonance.csv, class %q: %q is no weight from -100 to 100, or the row is out of order", row[0], row[2])
		}
		w[i], w[(12-i)%12] = weight, weight
	}
	return w, nil
}

// class folds a number of semitones into 0 to 11.
func class(semitones int) int {
	if semitones %= 12; semitones < 0 {
		semitones += 12
	}
	return semitones
}
