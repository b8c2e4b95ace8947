package reading

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// signature is the alteration of each letter, C first.
type signature [7]musicxml.Fraction

// fifthsPlace is each letter's place on the line of fifths, C = 0.
var fifthsPlace = [7]int{0, 2, 4, -1, 1, 3, 5}

// readSignature reads what a <key> prints: nothing when it is not printed.
// key-octave only moves the signs; a signature holds in all octaves.
func readSignature(e *etree.Element) signature {
	if !printed(e) {
		return signature{}
	}
	if fifths, err := strconv.Atoi(musicxml.ChildText(e, "fifths")); err == nil {
		return traditional(fifths)
	}
	var s signature
	step := -1
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "key-step":
			step = letter(musicxml.Text(c))
		case "key-alter":
			if alter, err := readAlter(musicxml.Text(c)); err == nil && step >= 0 {
				s[step] = alter
			}
		}
	}
	return s
}

// traditional returns a signature of that many sharps (negative: flats), with
// double signs past seven: each whole turn of the circle of seven adds one.
func traditional(fifths int) signature {
	var s signature
	for step, place := range fifthsPlace {
		n := fifths + 5 - place
		s[step] = whole(int64((n - ((n%7)+7)%7) / 7))
	}
	return s
}

// printed reports whether an element is drawn at all.
func printed(e *etree.Element) bool { return musicxml.Attr(e, "print-object") != "no" }
