package explain

import (
	"errors"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// The clefs that any reader of music knows, and those of the middle.
var (
	Treble = instruments.Clef{Sign: "G", Line: 2}
	Bass   = instruments.Clef{Sign: "F", Line: 4}
	Alto   = instruments.Clef{Sign: "C", Line: 3}
	Tenor  = instruments.Clef{Sign: "C", Line: 4}
)

// soundingClefs are those of a piano: what sounds is shown as it would be played
// there.
var soundingClefs = []instruments.Clef{Treble, Bass}

// MiddleLine is the note on the middle line, in letter steps from C0.
func MiddleLine(c instruments.Clef) int { return music.Clef(c).Bottom() + 4 }

// LedgerLines counts the ledger lines that the notes need in a clef, all together.
func LedgerLines(pitches []pitch.Pitch, c instruments.Clef) int {
	lines := 0
	middle := MiddleLine(c)
	for _, p := range pitches {
		lines += max(0, (pitch.Abs(p.Place()-middle)-4)/2)
	}
	return lines
}

// BestClef is the clef with the fewest ledger lines; of those as good the first.
func BestClef(pitches []pitch.Pitch, clefs []instruments.Clef) instruments.Clef {
	best, least := Treble, -1
	for i, c := range clefs {
		if !music.Clef(c).Lettered() {
			continue
		}
		// The first is the usual one: another must save a line at every other note.
		lines := 2 * LedgerLines(pitches, c)
		if i > 0 {
			lines += len(pitches)
		}
		if least < 0 || lines < least {
			best, least = c, lines
		}
	}
	return best
}

var errStaves = errors.New("the part has several staves; choose a part that is written on one")

// SetClef gives a part of one staff one clef from start to end.
func SetClef(part *etree.Element, c instruments.Clef) error {
	for i, m := range musicxml.Children(part, "measure") {
		attributes := musicxml.Children(m, "attributes")
		if len(attributes) == 0 && i == 0 {
			a := etree.NewElement("attributes")
			m.InsertChildAt(0, a)
			attributes = append(attributes, a)
		}
		for k, a := range attributes {
			if n := musicxml.ChildText(a, "staves"); n != "" && n != "1" {
				return errStaves
			}
			musicxml.RemoveChildren(a, "clef")
			if i == 0 && k == 0 {
				musicxml.AddInOrder(a, clefElement(c))
			}
			dropIfEmpty(a)
		}
	}
	return nil
}

// ClefOf reads the clef that a part begins with; false where it says none.
func ClefOf(part *etree.Element) (instruments.Clef, bool) {
	for _, e := range musicxml.Along(musicxml.Child(part, "measure"), "attributes", "clef") {
		if !music.IsAdditional(e) {
			return ReadClef(e), true
		}
	}
	return Treble, false
}

// ReadClef reads a <clef>.
func ReadClef(e *etree.Element) instruments.Clef { return instruments.Clef(music.ReadClef(e)) }
