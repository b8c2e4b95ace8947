package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Courtesies finds the printed signs of a part that neither the rule calls for nor
// any note before them in the bar or the bar before: the editor's own. A part that
// is going to lose a voice has to be asked before it does: afterwards nothing tells
// such a sign from one that answered the lost voice. See Options.Courtesies. The
// error is an *musicxml.Error with measure and beat.
func Courtesies(t *musicxml.Timeline) (map[*etree.Element]bool, error) {
	m := &mover{timeline: t, options: DefaultOptions()}
	if len(t.Measures) == 0 {
		return nil, nil
	}
	var err error
	if m.states, err = readStates(t, m.options); err != nil {
		return nil, err
	}
	if m.bars, err = readNotes(t, m.states, new(Memory)); err != nil {
		return nil, err
	}
	signs := map[*etree.Element]bool{}
	m.readPageOfSource(func(n *note, v verdict) {
		if n.accidental != nil && !v.needed && !v.answers {
			signs[n.accidental] = true
		}
	}, nil)
	return signs, nil
}
