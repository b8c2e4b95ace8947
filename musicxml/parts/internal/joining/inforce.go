package joining

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	musicread "deskpart/musicxml/music"
)

// inForce are the clef, key and so on that hold at a place, by name; of one staff.
type inForce map[string]*etree.Element

// lasting are the attributes that hold until they are said anew, in the schema's order.
var lasting = []string{"key", "time", "clef", "staff-details", "transpose"}

// take notes what attributes change, on a staff; 0 is for a part of one.
func (f inForce) take(attributes *etree.Element, staff int) {
	for _, tag := range lasting {
		for e := range musicxml.Each(attributes, tag) {
			if onStaff(e, staff) && !musicread.IsAdditional(e) {
				f[tag] = e
			}
		}
	}
}

// onStaff reports whether an attribute holds for a staff: a clef without a number is the
// first staff's (MusicXML 4.0, clef).
func onStaff(attribute *etree.Element, staff int) bool {
	number := musicxml.Attr(attribute, "number")
	return number == "" && (attribute.Tag != "clef" || staff <= 1) || staff == 0 || number == strconv.Itoa(staff)
}

// usual is what holds where nothing was said (MusicXML 4.0, clef, staff-details,
// transpose).
var usual = map[string]string{
	"clef":          "<clef><sign>G</sign><line>2</line></clef>",
	"staff-details": "<staff-details><staff-lines>5</staff-lines></staff-details>",
	"transpose":     "<transpose><diatonic>0</diatonic><chromatic>0</chromatic></transpose>",
}

func usually(tag string) *etree.Element {
	doc := etree.NewDocument()
	if text := usual[tag]; text == "" || doc.ReadFromString(text) != nil {
		return nil
	}
	return doc.Root()
}

// missing lists what has to be said anew where one thing holds and another is to.
func (f inForce) missing(want inForce) []*etree.Element {
	var anew []*etree.Element
	for _, tag := range lasting {
		has, wants := f[tag], want[tag]
		if has == nil {
			has = usually(tag)
		}
		if wants == nil {
			wants = usually(tag)
		}
		if wants != nil && (has == nil || musicxml.Content(has) != musicxml.Content(wants)) {
			e := wants.Copy()
			e.RemoveAttr("number")
			anew = append(anew, e)
		}
	}
	return anew
}
