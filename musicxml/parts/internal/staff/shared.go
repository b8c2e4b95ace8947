package staff

import "deskpart/musicxml/parts/internal/draft"

// SetShared settles a staff that was put together of several players' parts: where their
// clefs differ those that serve all of them best, changed at barlines and after rests
// alone; and the stems of what stands in one voice.
func (p *Page) SetShared(d *draft.Draft, differ bool) error {
	if err := p.Read(d); err != nil {
		return err
	}
	s := &layout{d, p}
	if reads, _ := s.clefsRead(1); differ && len(reads) > 0 && p.staff(1).lines == 5 {
		c := s.chooser(1, reads)
		c.passages = withRoom(c.passages)
		if s.setClefs(1, c.wanted()) {
			s.Rearranged()
			if err := s.Settle(); err != nil {
				return err
			}
		}
	}
	p.settle()
	p.standNow()
	return p.TurnStems(true)
}

// withRoom joins passages between which a clef would stand straight from note to note.
func withRoom(passages []Passage) []Passage {
	var joined []Passage
	for i, passage := range passages {
		if i > 0 && passage.Start == inBar {
			joined[len(joined)-1].Last = passage.Last
			continue
		}
		joined = append(joined, passage)
	}
	return joined
}
