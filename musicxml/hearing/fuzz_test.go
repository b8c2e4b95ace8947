package hearing

import (
	"testing"

	"deskpart/musicxml"
)

// Whatever times a file has, the ear stays within its bound, and hears a note at each
// moment from its start to before its end, by plain rational arithmetic.
func FuzzPartAdd(f *testing.F) {
	f.Add(int64(0), int64(1), int64(1), int64(1), 60)
	f.Add(int64(1), int64(3), int64(7), int64(3), -1)
	f.Add(int64(1)<<60, int64(1), int64(1)<<61, int64(1), 1<<40)
	f.Add(int64(-5), int64(2), int64(9), int64(0), 3)
	f.Fuzz(func(t *testing.T, startNum, startDen, endNum, endDen int64, semitones int) {
		start, end := musicxml.NewFraction(startNum, startDen), musicxml.NewFraction(endNum, endDen)
		var p Part
		p.Add(start, end, semitones)
		if len(p.moments) > mostMoments {
			t.Fatalf("%d moments", len(p.moments))
		}
		if !start.Valid() || !end.Valid() || start.Sign() < 0 || end.Sign() < 0 || start.Den() > finest || end.Den() > finest {
			return
		}
		for i, heard := range p.moments {
			now := musicxml.NewFraction(int64(i), perQuarter)
			if sounds := !now.Less(start) && now.Less(end); sounds != (heard != 0) {
				t.Fatalf("moment %d of %v to %v: heard %v", i, start, end, heard)
			}
		}
	})
}
