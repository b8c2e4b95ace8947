package pitch_test

import (
	"testing"

	"deskpart/transpose/pitch"
)

// FuzzInterval checks that intervals undo each other on any pitch, agree with
// base 40 where it has room, and that every pitch can be read as it is written.
func FuzzInterval(f *testing.F) {
	f.Add(0, int64(0), 4, -1, -2)
	f.Add(6, int64(-1_500_000_000_000), 0, 3, 6)
	f.Add(3, int64(2_000_000_000_000), 9, -7, -12)
	for _, row := range base40Intervals {
		f.Add(row.number%7, int64(row.number%3-1)*1_000_000_000_000, row.number%10, row.interval.Diatonic, row.interval.Chromatic)
	}
	f.Fuzz(func(t *testing.T, step int, alter int64, octave, diatonic, chromatic int) {
		p := pitch.Pitch{Step: pitch.Step(wrap(step, 7)), Alter: pitch.Alter(alter % (4 * int64(pitch.Semitone))), Octave: octave % 10}
		by := pitch.Interval{Diatonic: diatonic % 1000, Chromatic: chromatic % 1000}
		moved := by.Apply(p)
		if back := by.Negate().Apply(moved); back != p {
			t.Fatalf("%v by %v and back is %v", p, by, back)
		}
		if between, whole := pitch.Between(p, moved); !whole || between != by {
			t.Fatalf("from %v to %v lies %v, not %v", p, moved, between, by)
		}
		if by.String() == "" || by.Name() == "" {
			t.Fatal("an interval without a name")
		}
		if again, err := pitch.Parse(p.String()); err != nil || again != p {
			t.Fatalf("%v is read as %v, %v", p, again, err)
		}
		a, ok := base40(p)
		b, room := base40(moved)
		if ok && room {
			// The difference depends on the interval alone.
			c := pitch.Pitch{Step: pitch.C, Octave: 4}
			from, _ := base40(c)
			if to, fits := base40(by.Apply(c)); fits && b-a != to-from {
				t.Fatalf("%v by %v is %d in base 40, from C4 it is %d", p, by, b-a, to-from)
			}
		}
	})
}

// wrap folds any number into 0 to n−1.
func wrap(i, n int) int { return ((i % n) + n) % n }

// FuzzParse reads any text as a pitch, an interval and a key. Nothing panics; what
// is accepted is written so that it is read again as the same, and never without
// what was asked for.
func FuzzParse(f *testing.F) {
	for _, seed := range []string{"C4", "Cx5", "f♯3", "C(0.5)4", "minor third down", "two octaves and an augmented fourth up", "dd7 down", "P1",
		"Eb", "F# minor", "-3", "C5", "Bbm", "4 times diminished fifth up", "20 octaves up", "♭♭", "(1)"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if p, err := pitch.Parse(text); err == nil {
			if again, err := pitch.Parse(p.String()); err != nil || again != p {
				t.Fatalf("%q is %v, read again %v, %v", text, p, again, err)
			}
		}
		if i, err := pitch.ParseInterval(text); err == nil {
			if again, err := pitch.ParseInterval(i.String()); err != nil || again != i {
				t.Fatalf("%q is %v, read again %v, %v", text, i, again, err)
			}
		}
		k, err := pitch.ParseKey(text)
		switch {
		case err != nil && k != (pitch.Key{}), err == nil && pitch.Abs(k.Fifths) > pitch.MostSigns:
			t.Fatalf("%q is %v, %v", text, k, err)
		case err == nil && k.Mode != pitch.Unsaid:
			if again, err := pitch.ParseKey(k.String()); err != nil || again != k {
				t.Fatalf("%q is %v, read again %v, %v", text, k, again, err)
			}
		}
	})
}
