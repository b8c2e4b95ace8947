package fit

import (
	"math"
	"slices"

	"deskpart/musicxml/parts/octaves"
)

// What a note counts for while it sounds, as the ear misses it: the melody first, then
// the bass, then each further note of the harmony (common practice, no source). What
// another voice doubles is missed only if neither is played, and where nothing is left
// that sounds there is a hole.
const (
	asTop     = 2.5
	asBottom  = 1.5
	asOctave  = 0.5 // the highest or the lowest in its own octave, beside the octave nearer the middle
	asInner   = 1.0
	asSound   = 1.0 // anything at all: who plays alone is missed more than by a melody
	asStrokes = 0.5 // of percussion without pitch, a bar with strokes
)

// allTheTime is the weight of a note of the harmony that sounds all through.
const allTheTime = 1_000_000

// need is a note of the whole, over all the time in which the same lines have it.
type need struct {
	weight    int64
	leading   bool // the melody, the bass, or that anything sounds
	once      bool // one player is enough
	suppliers []supplier
	played    int // by how many players
}

// supplier is a line that has the note, in some of the octaves in which it may be
// played: a bit for each, that of octaves.Farthest for the score's.
type supplier struct {
	line    int
	octaves uint16
}

func (s supplier) compare(line int) int { return s.line - line }

func octaveBit(octave int) uint16 { return 1 << (octave + octaves.Farthest) }

const anyOctave = 1<<(2*octaves.Farthest+1) - 1

// supplies reports whether the line has the need when it is played in an octave.
func (n *need) supplies(line, octave int) bool {
	i, ok := slices.BinarySearchFunc(n.suppliers, line, supplier.compare)
	return ok && n.suppliers[i].octaves&octaveBit(octave) != 0
}

// needs are what the ear would miss of a score.
type needs []need

// needsOf lists what is to be heard: at every moment the highest note, the lowest, and
// each other pitch class, with the lines that have it. Most of what the highest and the
// lowest count for is also supplied an octave nearer the middle; a line that is played
// octaves away may lose them.
func needsOf(all []*Music) needs {
	lines := make([]Line, len(all))
	for i, m := range all {
		lines[i] = m.Line
	}
	notes, length := soundings(lines)
	list := needList{place: map[string]int{}}
	sweep(notes, func(time float64, active []sounding) {
		list.moment(active, time/length)
	})
	for i, m := range all {
		if m.Unpitched > 0 {
			list.add(need{suppliers: []supplier{{i, anyOctave}}}, asStrokes*busyShare(m))
		}
	}
	return list.all
}

// needList gathers needs with the same suppliers into one.
type needList struct {
	all   needs
	place map[string]int
	key   []byte
}

func (l *needList) add(n need, share float64) {
	l.key = append(l.key[:0], n.kind())
	for _, s := range n.suppliers {
		l.key = append(l.key, byte(s.line), byte(s.line>>8), byte(s.octaves), byte(s.octaves>>8))
	}
	at, ok := l.place[string(l.key)]
	if !ok {
		at = len(l.all)
		l.place[string(l.key)] = at
		l.all = append(l.all, n)
	}
	l.all[at].weight += int64(math.Round(share * allTheTime))
}

// kind tells needs apart that the same lines have.
func (n *need) kind() byte {
	switch {
	case n.once:
		return 'o'
	case n.leading:
		return 'l'
	}
	return 'n'
}

// moment adds the needs of notes that sound together for a share of the piece.
func (l *needList) moment(active []sounding, share float64) {
	high, low := active[0].midi, active[0].midi
	for _, n := range active {
		high, low = max(high, n.midi), min(low, n.midi)
	}
	l.edge(active, high, -1, asTop*share, share)
	if low != high {
		l.edge(active, low, 1, asBottom*share, share)
	}
	for class := range 12 {
		if class == high%12 || class == low%12 {
			continue
		}
		if s := suppliersOf(active, class, always); len(s) > 0 {
			l.add(need{suppliers: s}, asInner*share)
		}
	}
	l.add(need{suppliers: sounders(active), leading: true, once: true}, asSound*share)
}

// edge adds the highest or the lowest note: most of it is supplied in the octave that
// lies inward, too.
func (l *needList) edge(active []sounding, midi, inward int, most, share float64) {
	l.add(need{suppliers: suppliersOf(active, midi, func(octave int) bool { return octave == 0 || octave == inward }), leading: true}, most)
	l.add(need{suppliers: suppliersOf(active, midi, func(octave int) bool { return octave == 0 })}, asOctave*share)
}

func always(int) bool { return true }

// sounders are the lines that sound, each in any octave.
func sounders(active []sounding) []supplier {
	var all []supplier
	for _, n := range active {
		if i, known := slices.BinarySearchFunc(all, n.music, supplier.compare); !known {
			all = slices.Insert(all, i, supplier{n.music, anyOctave})
		}
	}
	return all
}

// suppliersOf lists the lines that have a note of the wanted one's pitch class, with
// the octaves in which to play them so that they are as many octaves from it as may be.
func suppliersOf(active []sounding, wanted int, may func(octave int) bool) []supplier {
	var all []supplier
	for _, n := range active {
		if (n.midi-wanted)%12 != 0 {
			continue
		}
		var allowed uint16
		for octave := -octaves.Farthest; octave <= octaves.Farthest; octave++ {
			if may((n.midi-wanted)/12 + octave) {
				allowed |= octaveBit(octave)
			}
		}
		i, known := slices.BinarySearchFunc(all, n.music, supplier.compare)
		if known {
			all[i].octaves |= allowed
		} else if allowed != 0 {
			all = slices.Insert(all, i, supplier{n.music, allowed})
		}
	}
	return all
}

// missed is what one more player of a line, played in an octave, would add: all of what
// nobody plays, half of what one player has, a third of what two have. Where one is
// enough, more add nothing.
func (all needs) missed(line, octave int) int64 {
	sum := int64(0)
	for i := range all {
		if n := &all[i]; !(n.once && n.played > 0) && n.supplies(line, octave) {
			sum += n.weight / int64(n.played+1)
		}
	}
	return sum
}

// unheard is what a line, played in an octave, has of what nobody plays; leading, what of
// that is melody or bass, or sounds alone.
func (all needs) unheard(line, octave int) (sum, leading int64) {
	for i := range all {
		n := &all[i]
		if n.played > 0 || !n.supplies(line, octave) {
			continue
		}
		sum += n.weight
		if n.leading {
			leading += n.weight
		}
	}
	return sum, leading
}

// play counts one more player of a line in an octave.
func (all needs) play(line, octave int) {
	for i := range all {
		if all[i].supplies(line, octave) {
			all[i].played++
		}
	}
}

// busyShare is the share of the bars in which something is played.
func busyShare(m *Music) float64 {
	return float64(m.marks.BusyBars()) / float64(max(1, m.Bars))
}
