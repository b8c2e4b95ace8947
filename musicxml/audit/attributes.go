package audit

import (
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// attributes reads key, time, staves, clef, transposition and measure styles.
func (a *auditor) attributes(e *etree.Element) {
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "divisions":
			a.setDivisions(musicxml.Text(c))
		case "staves":
			if n, ok := musicxml.Digits(musicxml.Text(c)); ok && n > 0 {
				a.staves = n
			}
		}
	}
	for c := range e.ChildElementsSeq() {
		a.checkNumber(c)
		a.rest.change(a, c)
		switch c.Tag {
		case "key":
			a.key(c)
		case "time":
			a.metre.time(c)
		case "clef":
			a.clef(c)
		case "transpose":
			a.changes.transpose(a, c)
		case "measure-style":
			a.style(c)
		case "for-part":
			a.find(a.at(), notice.RefersToNothing, "a note for the maker of parts is left from a concert score")
		}
	}
}

// checkNumber checks the staff that a child of attributes is for.
func (a *auditor) checkNumber(e *etree.Element) {
	number := musicxml.Attr(e, "number")
	if number == "" {
		return
	}
	if n, err := strconv.Atoi(number); err != nil || n < 1 || n > a.staves {
		a.find(a.at(), notice.NoSuchStaff, "the "+attributeWord(e.Tag)+" is for staff "+number+"; the part has "+notice.Counted(a.staves, "staff", "staves"))
	}
}

func attributeWord(tag string) string {
	switch tag {
	case "key":
		return "key signature"
	case "time":
		return "time signature"
	case "transpose":
		return "transposition"
	case "staff-details":
		return "staff's description"
	case "measure-style":
		return "measure style"
	}
	return tag
}

// key checks that what is cancelled was in force (trade/musicxml-coverage.md, 15).
func (a *auditor) key(e *etree.Element) {
	staff := 0
	if n, err := strconv.Atoi(musicxml.Attr(e, "number")); err == nil && n > 0 {
		staff = n
	}
	for len(a.keys) <= max(staff, a.staves) {
		a.keys = append(a.keys, 0)
	}
	fifths, err := strconv.Atoi(musicxml.ChildText(e, "fifths"))
	if cancel, bad := strconv.Atoi(musicxml.ChildText(e, "cancel")); bad == nil && cancel != a.keys[staff] {
		a.find(a.at(), notice.CancelsAnotherKey, "the signature cancels "+strconv.Itoa(cancel)+" fifths where "+strconv.Itoa(a.keys[staff])+" were in force")
	}
	if err != nil {
		return
	}
	if staff > 0 {
		a.keys[staff] = fifths
		return
	}
	for i := range a.keys {
		a.keys[i] = fifths
	}
}

// clef checks that the player reads it; small 8s aside, which say how an edition
// counts octaves.
func (a *auditor) clef(e *etree.Element) {
	if len(a.Clefs) == 0 || musicxml.Attr(e, "additional") == "yes" || musicxml.Attr(e, "print-object") == "no" {
		return
	}
	sign := musicxml.ChildText(e, "sign")
	line := usualLine(sign)
	if n, ok := musicxml.Digits(musicxml.ChildText(e, "line")); ok && line > 0 {
		line = n
	}
	if sign == "TAB" && a.Instrument != nil && a.Instrument.Flags.Fretted {
		return // its other notation
	}
	if !slices.ContainsFunc(a.Clefs, func(c instruments.Clef) bool { return c.Sign == sign && (c.Line == line || line == 0) }) {
		a.find(a.at(), notice.ClefNotRead, "the player does not read "+clefWords(sign, line))
	}
}

// clefWords names a clef: "the C clef on line 1".
func clefWords(sign string, line int) string {
	if line == 0 {
		return "the " + sign + " clef"
	}
	return "the " + sign + " clef on line " + strconv.Itoa(line)
}

// usualLine is where a clef stands if it does not say (MusicXML 4.0, clef), 0 for one
// that names no letter.
func usualLine(sign string) int {
	switch sign {
	case "G":
		return 2
	case "F":
		return 4
	case "C":
		return 3
	}
	return 0
}

// style reads a measure style.
func (a *auditor) style(e *etree.Element) {
	number := musicxml.Attr(e, "number")
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "multiple-rest":
			a.rest.count(a, musicxml.Text(c))
		case "measure-repeat", "beat-repeat", "slash":
			a.lines.take(line{kind: c.Tag, number: number, at: a.at()}, musicxml.Attr(c, "type") == "start")
			for v := range musicxml.Each(c, "except-voice") {
				a.voiceNamed(musicxml.Text(v), "slashes leave out")
			}
		}
	}
}
