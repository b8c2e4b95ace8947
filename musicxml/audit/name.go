package audit

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// names are what the part is called in its list, folded.
type names []string

// header reads what stands before the music.
func (a *auditor) header() {
	if musicxml.Descend(a.Root, "defaults", "concert-score") != nil {
		a.find(place{}, notice.RefersToNothing, "the part calls itself a concert score")
	}
	part := musicxml.Child(a.Root, "part")
	entries := musicxml.Children(musicxml.Child(a.Root, "part-list"), "score-part")
	if part == nil || len(entries) != 1 || musicxml.Attr(entries[0], "id") != musicxml.Attr(part, "id") {
		a.find(place{}, notice.RefersToNothing, "the list of parts does not name this part alone")
	}
	if len(entries) == 0 {
		return
	}
	entry := entries[0]
	a.ids.declare(entry)
	a.entryNames(entry)
	if a.Given && a.Instrument != nil {
		a.playback(entry)
	}
}

// entryNames takes down the names of the part. A name-display stands in place of the
// name (MusicXML 4.0, part-name-display); where the instrument is known, both say it.
func (a *auditor) entryNames(entry *etree.Element) {
	for _, tag := range []string{"part-name", "part-abbreviation"} {
		name := musicxml.ChildText(entry, tag)
		if name != "" {
			a.names = append(a.names, foldName(name))
		}
		display := musicxml.Child(entry, tag+"-display")
		if display == nil {
			continue
		}
		shown := foldName(musicxml.DisplayText(display))
		if a.Instrument != nil && name != "" && shown != foldName(name) {
			a.find(place{}, notice.OtherInstrument, "the part is called "+quoted(name)+" and shown as "+quoted(musicxml.DisplayText(display)))
		}
		a.names = append(a.names, shown)
	}
}

var folder = strings.NewReplacer("♭", "b", "♯", "#", " ", "", "\u00a0", "", "\n", "")

func foldName(name string) string { return strings.ToLower(folder.Replace(name)) }

// playback holds what the part's entry says of sound and names against the
// instrument that the part was given to.
func (a *auditor) playback(entry *etree.Element) {
	for c := range entry.ChildElementsSeq() {
		switch c.Tag {
		case "score-instrument":
			a.instrumentName(musicxml.ChildText(c, "instrument-name"), place{})
			a.sounds(c, place{})
			if musicxml.Child(c, "virtual-instrument") != nil {
				a.find(place{}, notice.OtherInstrument, "a virtual instrument is left from another instrument")
			}
		case "midi-instrument":
			a.program(c, place{})
		}
	}
}

// instrumentName finds a name that means another kind of instrument.
func (a *auditor) instrumentName(name string, at place) {
	if name == "" || a.Catalogue == nil || slices.Contains(a.names, foldName(name)) {
		return
	}
	if m := a.Catalogue.Match(instruments.Query{Name: name}); m.Instrument != nil && m.Instrument.Kind != a.Instrument.Kind {
		a.find(at, notice.OtherInstrument, "an instrument is called "+quoted(name))
	}
}

func (a *auditor) sounds(e *etree.Element, at place) {
	sound := musicxml.ChildText(e, "instrument-sound")
	if sound != "" && !slices.Contains(a.Instrument.Sounds, sound) {
		a.find(at, notice.OtherInstrument, "it is played back with the sound "+sound)
	}
}

func (a *auditor) program(e *etree.Element, at place) {
	n, ok := musicxml.Digits(musicxml.ChildText(e, "midi-program"))
	if ok && a.Instrument.MIDIProgram > 0 && n != a.Instrument.MIDIProgram {
		a.find(at, notice.OtherInstrument, "it is played back with the program "+musicxml.ChildText(e, "midi-program"))
	}
}

// print reads names that take effect in mid-part.
func (a *auditor) print(e *etree.Element) {
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "part-name-display", "part-abbreviation-display":
			a.changes.name(a, musicxml.DisplayText(c))
		case "measure-numbering":
			if staff := musicxml.Attr(c, "staff"); staff != "" {
				if n, ok := musicxml.Digits(staff); !ok || n > a.staves {
					a.find(a.at(), notice.NoSuchStaff, "bar numbers stand at staff "+staff+"; the part has "+notice.Counted(a.staves, "staff", "staves"))
				}
			}
		case "staff-layout":
			a.checkNumber(c)
		}
	}
}

// sound reads playback in mid-part.
func (a *auditor) sound(e *etree.Element) {
	a.metre.jumps(e)
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "instrument-change":
			a.ids.instrument(a, c)
			a.changes.playback = true
			if a.Given && a.Instrument != nil {
				a.sounds(c, a.at())
			}
		case "midi-instrument":
			a.ids.instrument(a, c)
			if a.Given && a.Instrument != nil {
				a.program(c, a.at())
			}
		case "midi-device", "play":
			a.ids.instrument(a, c)
		}
	}
}
