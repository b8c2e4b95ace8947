package divisi

import "deskpart/musicxml"

// NoteValue is a written length: its name in MusicXML and its dots. The zero
// value is a length that no note value has.
type NoteValue struct {
	Type string
	Dots int
}

// values are the note values from the longest, in quarter notes.
var values = []struct {
	length musicxml.Fraction
	name   string
}{
	{musicxml.NewFraction(8, 1), "breve"}, {musicxml.NewFraction(4, 1), "whole"}, {musicxml.NewFraction(2, 1), "half"},
	{musicxml.NewFraction(1, 1), "quarter"}, {musicxml.NewFraction(1, 2), "eighth"}, {musicxml.NewFraction(1, 4), "16th"},
	{musicxml.NewFraction(1, 8), "32nd"}, {musicxml.NewFraction(1, 16), "64th"}, {musicxml.NewFraction(1, 32), "128th"},
	{musicxml.NewFraction(1, 64), "256th"}, {musicxml.NewFraction(1, 128), "512th"}, {musicxml.NewFraction(1, 256), "1024th"},
}

// metre is what decides how rests are grouped: how long a beat is, and whether it
// divides by three.
type metre struct {
	bar, beat musicxml.Fraction // in quarter notes
	compound  bool
	missing   musicxml.Fraction // what an upbeat lacks of a bar at its start
}

// metreOf reads a bar's time signature; without one a beat is a quarter note.
func metreOf(m *musicxml.Measure) metre {
	beats, unit := number(m.Beats), number(m.BeatType)
	if beats == 0 || unit == 0 {
		return metre{bar: m.Length, beat: musicxml.NewFraction(1, 1)}
	}
	t := metre{bar: musicxml.NewFraction(4*beats, unit), beat: musicxml.NewFraction(4, unit)}
	if beats%3 == 0 && beats > 3 {
		t.beat, t.compound = musicxml.NewFraction(12, unit), true
	}
	if m.Index == 0 && m.Length.Less(t.bar) {
		t.missing = t.bar.Sub(m.Length)
	}
	return t
}

func number(text string) int64 {
	f, err := musicxml.ParseFraction(text)
	if err != nil || f.Den() != 1 {
		return 0
	}
	return max(0, f.Num())
}

// fillGap writes a gap as the fewest rests that show the beats: each begins where
// a multiple of its own length is, none runs over a beat unless it is made of
// whole beats, and a half rest stands only where the bar divides by two
// (common practice, no source).
func (t metre) fillGap(from, to musicxml.Fraction) []Rest {
	var rests []Rest
	for from.Less(to) {
		length, value := t.longest(from.Add(t.missing), to.Sub(from))
		if length.Sign() <= 0 {
			return append(rests, Rest{from, to, NoteValue{}})
		}
		rests = append(rests, Rest{from, from.Add(length), value})
		from = from.Add(length)
	}
	return rests
}

// longest is the longest rest that may stand at a place and has room there.
func (t metre) longest(at, room musicxml.Fraction) (musicxml.Fraction, NoteValue) {
	within := remainder(at, t.beat)
	if t.compound && within.Sign() == 0 && !room.Less(t.beat) {
		return t.beat, NoteValue{nameOf(t.beat.Mul(musicxml.NewFraction(2, 3))), 1}
	}
	for _, v := range values {
		if room.Less(v.length) {
			continue
		}
		if t.fits(at, within, v.length) {
			return v.length, NoteValue{v.name, 0}
		}
	}
	return musicxml.Fraction{}, NoteValue{}
}

// fits reports whether a rest may begin at a place. within is how far the place
// is into its beat.
func (t metre) fits(at, within, length musicxml.Fraction) bool {
	if !t.beat.Less(length) || t.compound {
		return !t.beat.Less(within.Add(length)) && remainder(within, length).Sign() == 0
	}
	return remainder(at, length).Sign() == 0 && remainder(t.bar, length).Sign() == 0
}

func nameOf(length musicxml.Fraction) string {
	for _, v := range values {
		if v.length == length {
			return v.name
		}
	}
	return ""
}

// remainder is what is left of a when b is taken away as often as it goes.
func remainder(a, b musicxml.Fraction) musicxml.Fraction {
	if b.Sign() <= 0 {
		return a
	}
	q := a.Div(b)
	return a.Sub(b.Mul(musicxml.NewFraction(q.Num()/q.Den(), 1)))
}

// plain reports whether a place lies on the grid of note values, outside any
// tuplet: its denominator is a power of two.
func plain(f musicxml.Fraction) bool {
	return f.Den()&(f.Den()-1) == 0
}
