package instruments

import (
	"io/fs"
	"slices"

	"deskpart/transpose/pitch"
)

func (c *Catalogue) readRanges(files fs.FS) error {
	return readRows(files, "ranges.csv", rangeColumns, func(r row) error {
		i := c.byID[r.text("id")]
		if i == nil {
			return r.errorf("id", "%q is no instrument", r.text("id"))
		}
		compass, err := readRange(r, i)
		i.ranges = append(i.ranges, compass)
		return err
	})
}

func readRange(r row, i *Instrument) (Range, error) {
	level, err := word(r, "level", Levels()...)
	if err != nil {
		return Range{}, err
	}
	confidence, err := word(r, "confidence", "published", "mixed", "memory", "derived")
	if err != nil {
		return Range{}, err
	}
	side, err := word(r, "pitch", "written", "sounding")
	if err != nil {
		return Range{}, err
	}
	compass, err := readCompass(r)
	if err != nil {
		return Range{}, err
	}
	rng := Range{Level: level, Grade: r.text("grade"), Written: compass, Sounding: compass,
		Source: r.text("source"), Confidence: confidence, Note: r.text("note")}
	if side == "written" {
		rng.Sounding = compass.moved(i.Interval())
	} else {
		rng.Written = compass.moved(i.Interval().Negate())
	}
	return rng, nil
}

func readCompass(r row) (Compass, error) {
	var c Compass
	var err error
	for _, cell := range []struct {
		column string
		note   *pitch.Pitch
	}{{"low", &c.Low}, {"high", &c.High}, {"comfortable_low", &c.ComfortableLow}, {"comfortable_high", &c.ComfortableHigh}} {
		if *cell.note, err = r.note(cell.column); err != nil {
			return c, err
		}
	}
	rising := []int{c.Low.NoteNumber(), c.ComfortableLow.NoteNumber(), c.ComfortableHigh.NoteNumber(), c.High.NoteNumber()}
	if !slices.IsSorted(rising) {
		return c, r.errorf("low", "low, comfortable low, comfortable high, high do not rise")
	}
	return c, nil
}
