package header

import (
	"fmt"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// references are what in a part points to something outside it, and what tags it
// has.
type references struct {
	tags        map[string]bool  // nil where nobody asks
	instruments []*etree.Element // with the id of a score-instrument
	players     []*etree.Element // with the id of a player
	links       []*etree.Element
	images      []*etree.Element
	ids         map[string]bool // that something in the part has
}

// references reads the finished part.
func (s *maker) references(root *etree.Element) *references {
	r := &references{ids: map[string]bool{}}
	if encoding := musicxml.Descend(root, "identification", "encoding"); encoding != nil {
		for _, e := range musicxml.Children(encoding, "supports") {
			if musicxml.Attr(e, "type") == "no" {
				r.tags = map[string]bool{}
			}
		}
	}
	r.read(s.Part)
	return r
}

func (r *references) read(e *etree.Element) {
	switch e.Tag {
	case "instrument", "midi-instrument", "midi-device", "instrument-change", "play":
		if musicxml.Attr(e, "id") != "" {
			r.instruments = append(r.instruments, e)
		}
	case "assess", "wait", "other-listen", "sync", "other-listening":
		if musicxml.Attr(e, "player") != "" {
			r.players = append(r.players, e)
		}
	case "link":
		r.links = append(r.links, e)
	case "image":
		r.images = append(r.images, e)
	default:
		if id := musicxml.Attr(e, "id"); id != "" {
			r.ids[id] = true
		}
	}
	if r.tags != nil && !r.tags[e.Tag] {
		r.tags[e.Tag] = true
	}
	for c := range e.ChildElementsSeq() {
		if len(c.Attr) == 0 && r.tags == nil && plainText(c) {
			continue // as most are: it points to nothing
		}
		r.read(c)
	}
}

// plainText reports whether there is no element inside.
func plainText(e *etree.Element) bool {
	if len(e.Child) == 0 {
		return true
	}
	_, text := e.Child[0].(*etree.CharData)
	return text && len(e.Child) == 1
}

// instruments makes every id of an instrument or player in the part and in the
// entry resolve.
func (s *maker) instruments(entry *etree.Element, used *references) {
	s.ownPlayer(entry)
	keepInstruments(entry, s.Assignment.TakesInstrument) // that a percussionist plays
	for _, e := range musicxml.Children(entry, "score-instrument") {
		s.Report.Instruments = append(s.Report.Instruments, musicxml.Attr(e, "id"))
	}
	if s.OtherInstrument() {
		keepFirstInstrument(entry)
	}
	s.completeInstruments(entry)
	known := idsOf(entry, "score-instrument")
	for _, e := range used.instruments {
		if !known[musicxml.Attr(e, "id")] || s.OtherInstrument() && isPlayback(e) {
			dropReference(e)
		}
	}
	players := idsOf(entry, "player")
	for _, e := range used.players {
		if !players[musicxml.Attr(e, "player")] {
			draft.RemoveAttr(e, "player")
		}
	}
	if s.OtherInstrument() {
		s.rename(entry)
	}
}

// isPlayback reports whether an element sets in mid-part how an instrument is played
// back: of another instrument it would be wrong.
func isPlayback(e *etree.Element) bool {
	return e.Tag == "instrument-change" || e.Tag == "midi-instrument"
}

// keepFirstInstrument leaves one of the instruments of a part that goes to another
// player: the one that is renamed.
func keepFirstInstrument(entry *etree.Element) {
	all := musicxml.Children(entry, "score-instrument")
	for i, e := range all {
		if i == 0 {
			continue
		}
		entry.RemoveChild(e)
		for _, tag := range []string{"midi-instrument", "midi-device"} {
			for _, m := range musicxml.Children(entry, tag) {
				if musicxml.Attr(m, "id") == musicxml.Attr(e, "id") {
					entry.RemoveChild(m)
				}
			}
		}
	}
}

// idsOf lists the ids of an entry's children of one name.
func idsOf(entry *etree.Element, tag string) map[string]bool {
	ids := map[string]bool{}
	for _, e := range musicxml.Children(entry, tag) {
		ids[musicxml.Attr(e, "id")] = true
	}
	return ids
}

// dropReference takes away what points to an instrument that the score does not
// have. A midi-device and a play may stand without an id (MusicXML 4.0).
func dropReference(e *etree.Element) {
	if e.Tag == "midi-device" || e.Tag == "play" {
		draft.RemoveAttr(e, "id")
		return
	}
	parent := e.Parent()
	if parent == nil {
		return
	}
	parent.RemoveChild(e)
	if around := parent.Parent(); parent.Tag == "sound" && around != nil && draft.SaysNothing(parent) {
		around.RemoveChild(parent)
	}
}

// ownPlayer leaves out, for one player of a shared staff, the others' <player>.
func (s *maker) ownPlayer(entry *etree.Element) {
	all := musicxml.Children(entry, "player")
	if len(all) != s.Assignment.PlayerCount {
		return
	}
	for i, e := range all {
		if i != s.Assignment.Player-1 {
			entry.RemoveChild(e)
		}
	}
}

// completeInstruments adds the score-instrument that a midi-instrument or
// midi-device is for, where the source left it out.
func (s *maker) completeInstruments(entry *etree.Element) {
	known := idsOf(entry, "score-instrument")
	for _, tag := range []string{"midi-instrument", "midi-device"} {
		for _, e := range musicxml.Children(entry, tag) {
			id := musicxml.Attr(e, "id")
			if id == "" || known[id] {
				continue
			}
			known[id] = true
			in := etree.NewElement("score-instrument")
			in.CreateAttr("id", id)
			musicxml.SetChildText(in, "instrument-name", s.Assignment.Label)
			musicxml.AddInOrder(entry, in)
		}
	}
}

// rename makes a single instrument that the plan replaces the new one, for
// playback too.
func (s *maker) rename(entry *etree.Element) {
	all := musicxml.Children(entry, "score-instrument")
	in := s.Assignment.Instrument
	if len(all) != 1 || in == nil {
		return
	}
	musicxml.SetChildText(all[0], "instrument-name", s.Assignment.Label)
	musicxml.RemoveChildren(all[0], "instrument-sound", "virtual-instrument", "instrument-abbreviation")
	if sound := in.Sound(); sound != "" {
		musicxml.SetChildText(all[0], "instrument-sound", sound)
	}
	for _, m := range musicxml.Children(entry, "midi-instrument") {
		musicxml.RemoveChildren(m, "midi-name", "midi-bank", "midi-program", "midi-unpitched")
		if in.MIDIProgram > 0 {
			musicxml.SetChildText(m, "midi-program", formatNumber(float64(in.MIDIProgram)))
		}
	}
}

// dropDeadLinks takes out links whose target did not come along.
func dropDeadLinks(root *etree.Element, used *references) {
	links := used.links
	for _, credit := range musicxml.Children(root, "credit") {
		for _, e := range credit.ChildElements() {
			if id := musicxml.Attr(e, "id"); id != "" {
				used.ids[id] = true
			}
			if e.Tag == "link" {
				links = append(links, e)
			}
		}
	}
	for _, link := range links {
		target, inside := strings.CutPrefix(LinkTarget(link), "#")
		if parent := link.Parent(); inside && !used.ids[target] && parent != nil {
			parent.RemoveChild(link)
		}
	}
}

// LinkTarget is where a link leads, "" where it says nothing.
func LinkTarget(link *etree.Element) string {
	for _, a := range link.Attr {
		if a.Key == "href" {
			return a.Value
		}
	}
	return ""
}

// reportPictures says which pictures the sheet shows: their files lie beside the
// score, and must go along with it.
func (s *maker) reportPictures(root *etree.Element, used *references) {
	pictures := used.images
	for _, credit := range musicxml.Children(root, "credit") {
		pictures = append(pictures, musicxml.Children(credit, "credit-image")...)
	}
	for _, e := range pictures {
		s.Warn(musicxml.Warning{Code: notice.Picture,
			Text: fmt.Sprintf("the sheet shows the picture %q, which is a file of its own", musicxml.Attr(e, "source"))})
	}
}
