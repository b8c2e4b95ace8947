package divisi

import (
	"errors"
	"fmt"
	"slices"
	"sort"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// Options say how a part is divided.
type Options struct {
	// Players share the part, from the top of the staff; where it has several
	// staves, from the top of the upper one.
	Players []Player
	// Keep is the place among them of the player whose music is wanted.
	Keep int
	// Lexicon holds the words that say who plays.
	Lexicon *Lexicon
	// Names are those of the instrument, which may stand beside a number in such
	// words ("Fl. 1"). Default: none.
	Names []string
	// System reports whether a direction holds for all players, wherever it
	// stands. Default: only marks that always do, such as rehearsal marks.
	System func(direction *etree.Element) bool
	// Voiced says that the marks of the staff name their player by the number of a
	// voice, from the top, and are everybody's where they name none: so a staff is
	// that was put together of parts.
	Voiced bool
}

// Report says what was taken, and what is to be looked at.
type Report struct {
	Staff    int // of the part, from which the player's music was taken
	Warnings []musicxml.Warning
}

// Divide takes out of a part, laid out in time, everything that is not for the
// player to be kept, and makes what remains whole: one staff, one voice where the
// player has one, every bar filled. The timeline's tree is changed in place; lay
// it out again afterwards. The error is an *musicxml.Error with measure and beat.
func Divide(t *musicxml.Timeline, o Options) (Report, error) {
	d, err := cast(t, o)
	if err != nil {
		return Report{}, err
	}
	d.report.Staff = d.keep()
	return d.report, nil
}

// cast reads a part and decides who plays what.
func cast(t *musicxml.Timeline, o Options) (*division, error) {
	n := len(o.Players)
	if n == 0 || n > MaxPlayers || o.Keep < 0 || o.Keep >= n {
		return nil, fmt.Errorf("a part cannot be divided among %d players (at most %d)", n, MaxPlayers)
	}
	if o.Lexicon == nil {
		return nil, errors.New("no words are known that say who plays")
	}
	bars, err := readBars(t)
	if err != nil {
		return nil, err
	}
	d := &division{Options: o, bars: bars, addressed: map[*etree.Element]players{}}
	d.findStaves()
	d.findInstruments()
	d.findBareNumbers()
	for _, b := range bars {
		for _, s := range d.staves {
			d.castBar(b, s)
		}
	}
	for _, s := range d.staves {
		d.settle(&s.doubt)
		d.settle(&s.crowd)
	}
	return d, nil
}

// division is the work on one part.
type division struct {
	Options
	bars   []*bar
	staves []*staff
	byID   map[string]players // of the instruments that name players
	// shared: notes for several players carry several ids, so that the ids alone
	// say who plays.
	shared bool
	// counting: bare digits count something other than players.
	counting bool
	// addressed are those whom the words of each marker mean.
	addressed map[*etree.Element]players
	report    Report
}

// staff is one staff of the part while it is being cast.
type staff struct {
	number  int
	players players
	voices  []string // that have notes, in order
	saying  saying
	doubt   stretch            // nothing says who plays
	crowd   stretch            // more notes than players
	ties    map[tieEnd]players // who holds a tie that ends there
}

// tieEnd is where a tie leads.
type tieEnd struct {
	at    musicxml.Fraction // from the start of the piece
	pitch string
}

// tieEnd is where a tie of the note leads that meets another note at a moment.
func (n *note) tieEnd(at musicxml.Fraction) tieEnd { return tieEnd{at, n.pitch.String()} }

// findStaves lists the staves with notes, their voices and who shares each.
func (d *division) findStaves() {
	voices := map[int][]string{}
	highest := 1
	for _, b := range d.bars {
		for _, g := range b.groups {
			highest = max(highest, g.staff)
			if !g.rest && !slices.Contains(voices[g.staff], g.voice) {
				voices[g.staff] = append(voices[g.staff], g.voice)
			}
		}
	}
	all := places(0, len(d.Players))
	for number := 1; number <= highest; number++ {
		s := &staff{number: number, players: all.share(number-1, highest), voices: voices[number], ties: map[tieEnd]players{},
			doubt: inDoubt(), crowd: crowded()}
		sort.Slice(s.voices, func(i, j int) bool { return voiceBefore(s.voices[i], s.voices[j]) })
		d.staves = append(d.staves, s)
	}
}

// staff returns a staff by its number; one past the last reads as the last.
func (d *division) staff(number int) *staff {
	return d.staves[min(max(number, 1), len(d.staves))-1]
}

// findInstruments finds out whether the notes' <instrument> ids name players:
// they do where those of at least two players are in use.
func (d *division) findInstruments() {
	owner := map[string]players{}
	for i, p := range d.Players {
		for _, id := range p.Instruments {
			owner[id] |= only(i)
		}
	}
	var used players
	for _, b := range d.bars {
		for n := range b.notes() {
			ids := musicxml.Children(n.element, "instrument")
			for _, id := range ids {
				used |= owner[musicxml.Attr(id, "id")]
			}
			d.shared = d.shared || len(ids) > 1
		}
	}
	if used.count() > 1 {
		d.byID = owner
	}
}

// findBareNumbers finds out whether bare digits above the staff count something
// else, such as repeated bars: one of them is higher than there are players.
func (d *division) findBareNumbers() {
	known := map[int]bool{}
	for i, p := range d.Players {
		known[p.Number], known[i+1] = true, true
	}
	for _, b := range d.bars {
		for _, f := range b.fixed {
			for _, words := range wordsOf(f) {
				m, ok := d.Lexicon.Read(musicxml.Text(words), d.Names)
				d.counting = d.counting || ok && m.Bare && !known[m.Numbers[0]]
			}
		}
	}
}

// wordsOf returns the <words> of a direction.
func wordsOf(f *fixture) []*etree.Element {
	if f.kind != musicxml.Direction {
		return nil
	}
	return musicxml.Along(f.element, "direction-type", "words")
}

// marker reads words as a marker of this part.
func (d *division) marker(words *etree.Element) (Marker, bool) {
	m, ok := d.Lexicon.Read(musicxml.Text(words), d.Names)
	if !ok || m.Bare && d.counting {
		return Marker{}, false
	}
	for _, n := range m.Numbers {
		if d.named(n) == 0 {
			return Marker{}, false
		}
	}
	return m, true
}

// named finds the player of a number: by the numbers of the part's name, else
// counted from the top.
func (d *division) named(number int) players {
	for i, p := range d.Players {
		if p.Number == number {
			return only(i)
		}
	}
	if number >= 1 && number <= len(d.Players) {
		return only(number - 1)
	}
	return 0
}
