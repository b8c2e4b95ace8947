package engraving

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// attributes reads clefs, keys, time signatures and staff lines. An element
// without a staff number holds for all staves.
func (m *measureReader) attributes(e *musicxml.Event) {
	for _, child := range e.Element.ChildElements() {
		hidden := musicxml.Attr(child, "print-object") == "no"
		change := Change{Onset: e.Onset, Hidden: hidden}
		switch child.Tag {
		case "clef":
			clef := readClef(child)
			change.Clef = &clef
			if musicxml.Attr(child, "number") == "" {
				m.change(1, change) // a clef without a number is the first staff's
				continue
			}
		case "key":
			key := readKey(child)
			change.Key = &key
		case "time":
			time := readTime(child)
			change.Time = &time
		case "staff-details":
			change.Lines = elementNumber(child, "staff-lines")
			if change.Lines < 1 || change.Lines > 20 {
				continue
			}
		case "measure-style":
			if n := elementNumber(child, "multiple-rest"); n > 1 {
				m.rests[m.bar] = n
			}
			continue
		default:
			continue
		}
		staff, err := strconv.Atoi(musicxml.Attr(child, "number"))
		if err != nil {
			staff = 0
		}
		m.change(staff, change)
	}
}

// change adds a change to one staff, or to all for 0.
func (m *measureReader) change(staff int, c Change) {
	for s := range m.measures {
		if staff == 0 || s == m.staff(staff) {
			if c.Lines > 0 {
				m.lines[s] = c.Lines
			}
			m.measures[s].Changes = append(m.measures[s].Changes, c)
		}
	}
}

// elementNumber reads a whole number from a child element; 0 where there is none.
func elementNumber(e *etree.Element, tag string) int {
	n, err := strconv.Atoi(musicxml.ChildText(e, tag))
	if err != nil || n < -1000000 || n > 1000000 {
		return 0
	}
	return n
}

var clefSignNames = map[string]ClefSign{"G": ClefG, "F": ClefF, "C": ClefC, "percussion": ClefPercussion,
	"TAB": ClefTab, "none": ClefNone, "jianpu": ClefNone}

func readClef(e *etree.Element) Clef {
	return Clef{
		Sign: clefSignNames[musicxml.ChildText(e, "sign")], Line: max(0, min(elementNumber(e, "line"), 9)),
		Octave: max(-4, min(elementNumber(e, "clef-octave-change"), 4)), AfterBarline: musicxml.Attr(e, "after-barline") == "yes",
	}
}

// stepOf turns a note letter into C to B as 0 to 6.
func stepOf(letter string) int {
	return max(0, strings.Index("CDEFGAB", letter))
}

func readKey(e *etree.Element) Key {
	key := Key{Cancel: elementNumber(e, "cancel")}
	if musicxml.Child(e, "fifths") != nil {
		key.Fifths = max(-14, min(14, elementNumber(e, "fifths")))
		placeKeySigns(e, &key)
		return key
	}
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "key-step":
			key.Signs = append(key.Signs, KeySign{Step: stepOf(musicxml.Text(child))})
		case "key-alter":
			if n := len(key.Signs); n > 0 {
				alter, _ := strconv.ParseFloat(musicxml.Text(child), 64)
				key.Signs[n-1].Sign = signOf(alter)
			}
		case "key-accidental":
			if n := len(key.Signs); n > 0 {
				key.Signs[n-1].Sign = musicxml.Text(child)
			}
		}
	}
	placeKeySigns(e, &key)
	return key
}

// placeKeySigns takes over the octaves that a key gives its signs.
func placeKeySigns(e *etree.Element, key *Key) {
	octaves := musicxml.Children(e, "key-octave")
	if len(octaves) == 0 {
		return
	}
	if len(key.Signs) == 0 {
		for _, s := range keySigns(Treble(), *key) {
			key.Signs = append(key.Signs, KeySign{Step: s.step, Sign: s.name})
		}
	}
	for _, o := range octaves {
		at, err := strconv.Atoi(musicxml.Attr(o, "number"))
		octave, err2 := strconv.Atoi(musicxml.Text(o))
		octave = clampOctave(octave)
		if err == nil && err2 == nil && at >= 1 && at <= len(key.Signs) && musicxml.Attr(o, "cancel") != "yes" {
			key.Signs[at-1].Octave, key.Signs[at-1].HasOctave = octave, true
		}
	}
}

func readTime(e *etree.Element) Time {
	if musicxml.Child(e, "senza-misura") != nil {
		return Time{Symbol: TimeFree}
	}
	t := readFractions(e)
	switch musicxml.Attr(e, "symbol") {
	case "common":
		t.Symbol = TimeCommon
	case "cut":
		t.Symbol = TimeCut
	case "single-number":
		t.Symbol = TimeSingle
	}
	if other := musicxml.Child(e, "interchangeable"); other != nil {
		second := readFractions(other)
		t.Alternate = &second
	}
	return t
}

func readFractions(e *etree.Element) Time {
	var list []Time
	for _, child := range e.ChildElements() {
		switch child.Tag {
		case "beats":
			list = append(list, Time{Beats: firstRunes(musicxml.Text(child), 16)})
		case "beat-type":
			if n := len(list); n > 0 {
				list[n-1].BeatType = firstRunes(musicxml.Text(child), 8)
			}
		}
	}
	if len(list) == 0 {
		return Time{Symbol: TimeFree}
	}
	list[0].More = list[1:]
	return list[0]
}
