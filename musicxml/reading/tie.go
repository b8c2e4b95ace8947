package reading

import "deskpart/musicxml"

// ties are the ties that have been started and not yet ended, by the line or
// space with its octave.
type ties map[spot][]openTie

type openTie struct {
	voice   string
	staff   int
	measure int
	end     musicxml.Fraction // where the first note ends, from the start of the piece
	alter   musicxml.Fraction // as it was read
}

// start opens a tie where the note starts one.
func (t ties) start(n *Note) {
	if !n.TieStart || n.From == Unread && !n.Hidden {
		return
	}
	place := spot{n.Read.Step, n.Read.Octave}
	open := openTie{n.Voice, n.Staff, n.MeasureIndex, n.Start.Add(n.Duration), n.Read.Alter}
	t[place] = append(t[place], open)
}

// stop ends the tie that leads to the note and returns the alteration that it
// carries. Among several the nearest is taken: one that ends where the note
// starts, in the same voice, on the same staff. A tie out of an earlier bar
// than the last (into a second ending, say) is not seen to lead here.
func (t ties) stop(n *Note) (musicxml.Fraction, bool) {
	place := spot{n.Read.Step, n.Read.Octave}
	best, found := -1, -1
	for i, open := range t[place] {
		rank := open.rank(n)
		if rank >= best && rank >= 0 {
			best, found = rank, i
		}
	}
	if found < 0 {
		return musicxml.Fraction{}, false
	}
	alter := t[place][found].alter
	t[place] = append(t[place][:found], t[place][found+1:]...)
	return alter, true
}

// rank says how well a tie fits the note that it may lead to, −1 for not at all.
func (o openTie) rank(n *Note) int {
	rank := 0
	switch {
	case o.end == n.Start:
		rank += 4
	case n.Start.Less(o.end) || n.MeasureIndex-o.measure > 1 || o.voice != n.Voice:
		return -1
	}
	if o.voice == n.Voice {
		rank += 2
	}
	if o.staff == n.Staff {
		rank++
	}
	return rank
}
