package music

import (
	"strconv"

	"deskpart/musicxml"
)

// values are the note values in quarter notes (MusicXML 4.0, note-type-value).
var values = map[string]musicxml.Fraction{
	"maxima": quarters(32), "long": quarters(16), "breve": quarters(8), "whole": quarters(4), "half": quarters(2),
	"quarter": quarters(1), "eighth": nth(2), "16th": nth(4), "32nd": nth(8), "64th": nth(16), "128th": nth(32),
	"256th": nth(64), "512th": nth(128), "1024th": nth(256),
}

func quarters(n int64) musicxml.Fraction { return musicxml.NewFraction(n, 1) }
func nth(n int64) musicxml.Fraction      { return musicxml.NewFraction(1, n) }

// ValueLength is how long a note value lasts in quarter notes ("eighth": 1/2), false
// for a word that is none of MusicXML's.
func ValueLength(name string) (musicxml.Fraction, bool) {
	length, ok := values[name]
	return length, ok
}

// Dotted is a length with that many dots: each adds half of what was added before.
func Dotted(length musicxml.Fraction, dots int) musicxml.Fraction {
	sum, more := length, length
	for range min(dots, mostDots) {
		more = more.Mul(nth(2))
		sum = sum.Add(more)
	}
	return sum
}

// mostDots bounds what is believed; four are already rare.
const mostDots = 8

// Ratio is how many notes the time modification puts in the time of how many; 0 and
// 0 where there is none or it cannot be read.
func (n *Note) Ratio() (actual, normal int) {
	if n.TimeModification == nil {
		return 0, 0
	}
	actual, err := strconv.Atoi(musicxml.ChildText(n.TimeModification, "actual-notes"))
	normal, err2 := strconv.Atoi(musicxml.ChildText(n.TimeModification, "normal-notes"))
	if err != nil || err2 != nil || actual < 1 || normal < 1 {
		return 0, 0
	}
	return actual, normal
}

// Notated is how long the note lasts by what is printed: its value, its dots and the
// time modification. It is false where the file says no value. A grace note is
// notated longer than it lasts.
func (n *Note) Notated() (musicxml.Fraction, bool) {
	length, ok := ValueLength(musicxml.Text(n.Type))
	if !ok {
		return musicxml.Fraction{}, false
	}
	length = Dotted(length, n.Dots)
	if actual, normal := n.Ratio(); actual > 0 {
		length = length.Mul(musicxml.NewFraction(int64(normal), int64(actual)))
	}
	return length, true
}
