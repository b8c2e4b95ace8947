package joining

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/draft"
)

// Taken is the music of one staff of the score, taken out of a joined part.
type Taken struct {
	Origin
	Root *etree.Element // a <score-partwise> with that part alone
}

// Apart takes a part to pieces that Join made: for each staff of the score the bars that
// the player has of it, with rests in the others. It returns nothing for any other
// document. The document stays as it is.
func Apart(root *etree.Element) ([]Taken, error) {
	entry, part := musicxml.Descend(root, "part-list", "score-part"), musicxml.Child(root, "part")
	if entry == nil || part == nil {
		return nil, nil
	}
	part = part.Copy()
	origins, err := Origins(entry)
	if err != nil {
		return nil, err
	}
	named := map[string]bool{}
	for _, o := range origins {
		named[o.Label] = true
		for _, announcement := range changes.Announcements(o.Label) {
			named[announcement] = true
		}
	}
	dropList(part, named)
	var all []Taken
	for _, o := range origins {
		own := part.Copy()
		timeline, err := musicxml.NewTimeline(own)
		if err != nil {
			return nil, err
		}
		all = append(all, Taken{o, o.document(root, o.take(own, timeline, named))})
	}
	return all, nil
}

// withOthers is what the list of a percussionist's instruments says of those that others
// have, too.
var withOthers = regexp.MustCompile(` \(with [^)]*\)`)

// dropList takes out the list of the player's instruments that stands at the head of a
// percussionist's part.
func dropList(part *etree.Element, named map[string]bool) {
	first := musicxml.Child(part, "measure")
	for direction := range musicxml.Each(first, "direction") {
		text := musicxml.Text(musicxml.Descend(direction, "direction-type", "words"))
		names := strings.Split(withOthers.ReplaceAllString(text, ""), ", ")
		if !slices.ContainsFunc(names, func(name string) bool { return !named[name] }) {
			first.RemoveChild(direction)
			return
		}
	}
}

// document puts a part under the header of the document that it was taken out of.
func (o *Origin) document(root, part *etree.Element) *etree.Element {
	doc := root.Copy()
	musicxml.RemoveChildren(doc, "part")
	entry := musicxml.Descend(doc, "part-list", "score-part")
	musicxml.RemoveChildren(entry, "identification", "part-name-display", "part-abbreviation", "part-abbreviation-display")
	musicxml.SetChildText(entry, "part-name", o.Label)
	part.CreateAttr("id", musicxml.Attr(entry, "id"))
	doc.AddChild(part)
	return doc
}

// take makes the part that the staff had in the score.
func (o *Origin) take(joined *etree.Element, timeline *musicxml.Timeline, named map[string]bool) *etree.Element {
	part := etree.NewElement("part")
	divisions := musicxml.NewFraction(draft.CommonDivisions(joined), 1)
	own := newMusic(timeline, o.Staff, o.Staves)
	own.named = named
	force := inForce{}
	for i := range timeline.Measures {
		m := &timeline.Measures[i]
		b := newBar(m, divisions, force)
		if i == 0 {
			attributes := etree.NewElement("attributes")
			musicxml.SetChildText(attributes, "divisions", divisions.String())
			if o.Staves > 1 {
				musicxml.SetChildText(attributes, "staves", strconv.Itoa(o.Staves))
			}
			b.put(attributes, musicxml.Fraction{}, musicxml.Fraction{})
		}
		b.system, b.staff = own, 1
		b.pieces(o.piecesOf(m, own))
		part.AddChild(b.bar)
	}
	return part
}

// piecesOf cuts a bar into what the player has of the staff, and rests.
func (o *Origin) piecesOf(m *musicxml.Measure, of *music) []piece {
	var pieces []piece
	var at musicxml.Fraction
	for _, s := range o.Stretches {
		from, to := within(m, s.From), within(m, s.To)
		if !from.Less(to) {
			continue
		}
		if at.Less(from) {
			pieces = append(pieces, piece{nil, at, from})
		}
		pieces = append(pieces, piece{of, from, to})
		at = to
	}
	if at.Less(m.Length) || len(pieces) == 0 {
		pieces = append(pieces, piece{nil, at, m.Length})
	}
	return pieces
}

// within is a place as a time of a bar, its beginning or end where it lies outside.
func within(m *musicxml.Measure, p musicxml.Position) musicxml.Fraction {
	switch {
	case p.Measure < m.Index:
		return musicxml.Fraction{}
	case p.Measure > m.Index || m.Length.Less(p.Onset):
		return m.Length
	}
	return p.Onset
}
