package divisi

import (
	"cmp"
	"math/bits"
	"strconv"
)

// MaxPlayers is the most players that may share one part.
const MaxPlayers = 16

// Player is one of those who share a staff.
type Player struct {
	// Number is the player's number as the score's words have it: 3 and 4 for
	// "Horns 3 & 4".
	Number int
	// Instruments are the ids of the player's score-instruments. Default: none,
	// the notes do not say who plays them.
	Instruments []string
}

// players is a set of players by their place, from the top of the staff.
type players uint32

func only(i int) players { return 1 << i }

// span is the set of the places from, from+1 … to-1.
func places(from, to int) players { return 1<<to - 1<<from }

func (p players) has(i int) bool { return p&only(i) != 0 }

func (p players) count() int { return bits.OnesCount32(uint32(p)) }

// list returns the places in order.
func (p players) list() []int {
	var all []int
	for rest := p; rest != 0; rest &= rest - 1 {
		all = append(all, bits.TrailingZeros32(uint32(rest)))
	}
	return all
}

// share returns the players of layer i of k: as many for each as can be, the
// upper layers getting one more where they do not come out even. Where there are
// more layers than players, the last player has the layers that remain.
func (p players) share(i, k int) players {
	all := p.list()
	n := len(all)
	if k >= n {
		return only(all[min(i, n-1)])
	}
	size, more := n/k, n%k
	from := i*size + min(i, more)
	to := from + size
	if i < more {
		to++
	}
	var share players
	for _, place := range all[from:to] {
		share |= only(place)
	}
	return share
}

// voiceBefore orders voices as musicians number them.
func voiceBefore(a, b string) bool {
	x, errX := strconv.Atoi(a)
	y, errY := strconv.Atoi(b)
	if errX == nil && errY == nil {
		return cmp.Or(cmp.Compare(x, y), cmp.Compare(a, b)) < 0
	}
	return a < b
}
