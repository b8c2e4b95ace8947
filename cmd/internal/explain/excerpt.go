package explain

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Excerpt says which bars of a score are taken.
type Excerpt struct {
	// Part is what the part is called, as naming finds it. Default: the score's only part.
	Part string
	// First and Last are the printed numbers of the outermost bars. Default: the
	// part's first and last bar.
	First, Last string
	// Octave is by how many octaves the music is moved to suit the task's instrument.
	// Default: as many as bring it into the instrument's range.
	Octave *int
}

// Passage is what was cut out of a score, on the task's side.
type Passage struct {
	Part *etree.Element
	// Octaves is by how many octaves it was moved.
	Octaves int
}

// ParseMeasures reads "5-12" or "7".
func ParseMeasures(text string) (first, last string, err error) {
	first, last, ranged := strings.Cut(strings.TrimSpace(text), "-")
	first, last = strings.TrimSpace(first), strings.TrimSpace(last)
	if !ranged {
		last = first
	}
	if first == "" || last == "" {
		return "", "", fmt.Errorf("measures %q are no range such as 5-12", text)
	}
	return first, last, nil
}

// Read cuts the bars out of the score and writes them on the task's side, on a
// staff of their own: notes, rests, ties, slurs and articulations. What the
// part's own <transpose> says, or its name where the score is in written pitch
// and says nothing, is taken into account.
func (x Excerpt) Read(score *musicxml.Score, catalogue *instruments.Catalogue, t Task) (Passage, error) {
	surveyed, err := parts.Survey(score, catalogue, parts.DefaultOptions())
	if err != nil {
		return Passage{}, err
	}
	i := 0
	if len(score.Parts) != 1 || x.Part != "" {
		if i, err = surveyed.Find(x.Part); err != nil {
			return Passage{}, musicxml.Locate(fmt.Errorf("--part: %w", err), musicxml.Error{File: score.Name})
		}
	}
	name, id := surveyed.PartName(i)
	at := musicxml.Error{File: score.Name, PartName: name, PartID: id}
	if surveyed.Part(i).Staves > 1 {
		return Passage{}, musicxml.Locate(errStaves, at)
	}
	part, _, err := surveyed.Source(nil, i)
	if err != nil {
		return Passage{}, err
	}
	if part, err = x.cut(part); err != nil {
		return Passage{}, musicxml.Locate(err, at)
	}
	octaves, err := t.put(part, x.Octave)
	if err != nil {
		return Passage{}, musicxml.Locate(err, at)
	}
	return Passage{part, octaves}, nil
}

var errNothing = errors.New("no notes are there; choose other measures")

// cut copies the bars into a part of their own.
func (x Excerpt) cut(source *etree.Element) (*etree.Element, error) {
	part := etree.NewElement("part")
	part.CreateAttr("id", PartID)
	before := opening{}
	inside, done := x.First == "", false
	tempo := 0
	for _, m := range musicxml.Children(source, "measure") {
		number := musicxml.Attr(m, "number")
		inside = inside || number == x.First
		if !inside || done {
			before.pass(m)
			if n := tempoOf(m); n > 0 && !done {
				tempo = n
			}
			continue
		}
		bar := m.Copy()
		if len(part.ChildElements()) == 0 {
			before.enter(bar)
			if n := tempoOf(m); n > 0 {
				tempo = n
			}
		}
		part.AddChild(bar)
		done = number == x.Last
	}
	if len(part.ChildElements()) == 0 || x.Last != "" && !done {
		return nil, fmt.Errorf("it has no measures %s to %s", x.First, x.Last)
	}
	clean(part)
	setTempo(part, tempo)
	return part, nil
}

// put moves the part to the task's side, and by octaves as was asked or as suits the
// instrument.
func (t Task) put(part *etree.Element, octave *int) (octaves int, err error) {
	if _, err := t.move(part, t.From, t.WithoutSignature && t.From == Written); err != nil {
		return 0, err
	}
	pitches, err := pitchesIn(part)
	if err != nil {
		return 0, err
	}
	if len(pitches) == 0 {
		return 0, errNothing
	}
	if octaves = t.SuitableOctave(pitches); octave != nil {
		octaves = *octave
	}
	if err := MoveOctaves(part, octaves); err != nil {
		return 0, err
	}
	for i := range pitches {
		pitches[i].Octave += octaves
	}
	return octaves, SetClef(part, t.ClefFor(t.From, pitches))
}

func pitchesIn(part *etree.Element) ([]pitch.Pitch, error) {
	notes, err := readNotes(part)
	if err != nil {
		return nil, err
	}
	var pitches []pitch.Pitch
	for _, n := range notes {
		pitches = append(pitches, n.From)
	}
	return pitches, nil
}

// opening is what is in force where the excerpt begins.
type opening map[string]*etree.Element

// carried are the attributes that stay in force.
var carried = []string{"divisions", "key", "time", "clef", "transpose"}

// pass takes in the attributes of a bar that is left out.
func (o opening) pass(m *etree.Element) {
	for _, a := range musicxml.Children(m, "attributes") {
		for _, tag := range carried {
			if e := musicxml.Child(a, tag); e != nil {
				o[tag] = e
			}
		}
	}
}

// enter writes what is in force into the first bar, unless the bar itself says
// something else before its first note.
func (o opening) enter(m *etree.Element) {
	var first *etree.Element
	for _, e := range m.ChildElements() {
		if e.Tag == "note" || e.Tag == "backup" || e.Tag == "forward" {
			break
		}
		if e.Tag == "attributes" {
			first = e
			break
		}
	}
	if first == nil {
		first = etree.NewElement("attributes")
		m.InsertChildAt(0, first)
	}
	for _, tag := range carried {
		if musicxml.Child(first, tag) == nil && o[tag] != nil {
			musicxml.AddInOrder(first, o[tag].Copy())
		}
	}
	for _, k := range musicxml.Children(first, "key") {
		musicxml.RemoveChildren(k, "cancel") // nothing stands before it
	}
}

// Section copies the measures from first to last, counted from 0, of one staff of a
// part (counted from 1) as a part of its own, with what is in force where it begins,
// and what an exercise shows of it.
func Section(part *etree.Element, first, last, staff int) *etree.Element {
	section := etree.NewElement("part")
	section.CreateAttr("id", PartID)
	before := opening{}
	for i, m := range musicxml.Children(part, "measure") {
		if i > last {
			break
		}
		bar := m.Copy()
		keepStaff(bar, staff)
		if i < first {
			before.pass(bar)
			continue
		}
		if i == first {
			before.enter(bar)
		}
		section.AddChild(bar)
	}
	clean(section)
	return section
}

// keepStaff leaves one staff of a measure.
func keepStaff(m *etree.Element, staff int) {
	number := strconv.Itoa(staff)
	for _, e := range m.ChildElements() {
		switch {
		case e.Tag == "note" && musicxml.ChildText(e, "staff") != "" && musicxml.ChildText(e, "staff") != number:
			m.RemoveChild(e)
		case e.Tag == "note":
			musicxml.RemoveChildren(e, "staff")
		case e.Tag == "attributes":
			keepStaffSigns(e, number)
		}
	}
}

// keepStaffSigns leaves the signs of one staff, which then is the only one.
func keepStaffSigns(attributes *etree.Element, number string) {
	for _, e := range attributes.ChildElements() {
		switch n := musicxml.Attr(e, "number"); {
		case n == "":
		case n == number:
			e.RemoveAttr("number")
		default:
			attributes.RemoveChild(e)
		}
	}
	musicxml.RemoveChildren(attributes, "staves")
}
