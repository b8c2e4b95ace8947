package staff

import (
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/draft"
)

// Reading is in which clef a player reads the notes of a part, in the order of time.
type Reading []readNote

type readNote struct {
	musicxml.Position
	clef instruments.Clef
}

// ReadClefs takes down in which clefs a part on one staff is read.
func ReadClefs(d *draft.Draft) (Reading, error) {
	var p Page
	if err := p.Read(d); err != nil {
		return nil, err
	}
	var all Reading
	for _, i := range p.InTime(1) {
		n := &p.Notes[i]
		all = append(all, readNote{n.At(), p.staff(1).clefAt(n)})
	}
	return all, nil
}

// SetShared settles a staff that was put together of several players' parts, read so: its
// clefs and the stems of what stands in one voice. Where all who play read one clef that
// stays; where they read several, that of them serves which needs the fewest ledger lines,
// changed at barlines and after rests alone.
func (p *Page) SetShared(d *draft.Draft, readings []Reading) error {
	if err := p.Read(d); err != nil {
		return err
	}
	s := &layout{d, p}
	if reads, _ := s.clefsRead(1); len(reads) > 0 && p.staff(1).lines == 5 {
		c := s.chooser(1, reads)
		c.share(readings)
		if s.setClefs(1, c.wanted()) {
			s.Rearranged()
			if err := s.Settle(); err != nil {
				return err
			}
		}
	}
	p.standNow()
	return p.TurnStems(true)
}

// share leaves for every passage the clefs that those who play in it read, and joins
// passages between which a clef would stand straight from note to note, unless all have it
// there.
func (c *chooser) share(readings []Reading) {
	var joined []Passage
	var shared [][]instruments.Clef
	for i, passage := range c.passages {
		var end *musicxml.Position
		if i+1 < len(c.passages) {
			end = &c.passages[i+1].At
		}
		var clefs []instruments.Clef
		for _, r := range readings {
			clefs = r.add(clefs, passage.At, end)
		}
		last := len(joined) - 1
		if i == 0 || passage.Start != inBar || len(clefs) == 1 && len(shared[last]) == 1 {
			joined, shared = append(joined, passage), append(shared, clefs)
			continue
		}
		joined[last].Last = passage.Last
		for _, clef := range clefs {
			if !slices.Contains(shared[last], clef) {
				shared[last] = append(shared[last], clef)
			}
		}
	}
	c.passages, c.shared = joined, shared
}

// add adds the clefs of a stretch to those of other players; end nil: to the end.
func (r Reading) add(clefs []instruments.Clef, from musicxml.Position, end *musicxml.Position) []instruments.Clef {
	first, _ := slices.BinarySearchFunc(r, from, func(n readNote, at musicxml.Position) int { return n.Compare(at) })
	for _, n := range r[first:] {
		if end != nil && n.Compare(*end) >= 0 {
			break
		}
		if !slices.Contains(clefs, n.clef) {
			clefs = append(clefs, n.clef)
		}
	}
	return clefs
}
