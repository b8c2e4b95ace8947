package assign

import (
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/transpose/pitch"
)

// Sharer is one of the players that share a part.
type Sharer struct {
	divisi.Player
	Instrument *instruments.Instrument // where the players' instruments differ, else nil
	// Shift is added to the sound: the double bass under the cello's line.
	Shift pitch.Interval
}

// playersOf parts an assignment among the players of a shared staff.
func (c *Assigner) playersOf(a Assignment) []Assignment {
	sharers := c.sharersOf(a.Part)
	a.Shared = sharers != nil
	if !c.options.Players && !c.options.Divide[a.ID] || sharers == nil {
		return []Assignment{a}
	}
	all := make([]Assignment, len(sharers))
	for i, d := range sharers {
		all[i] = a
		all[i].Player, all[i].PlayerCount, all[i].Sharers = i+1, len(sharers), sharers
		if d.Instrument != nil {
			all[i].Instrument = d.Instrument
		}
		all[i].Label = c.playerLabel(a, d)
	}
	return all
}

// playerLabel heads the sheet of one player of a shared staff.
func (c *Assigner) playerLabel(a Assignment, d Sharer) string {
	number := ""
	if d.Number > 0 {
		number = strconv.Itoa(d.Number)
	}
	m := c.Parts[a.Part].Match
	m.Number = number
	switch {
	case d.Instrument != nil:
		return d.Instrument.Label(c.options.Language, number)
	case a.planLabel || a.Instrument == nil:
		return strings.TrimSpace(a.Label + " " + number)
	case a.RecognisedBy == ByPlan:
		return a.Instrument.Label(c.options.Language, number)
	}
	m.Instrument = a.Instrument
	return m.Label(c.options.Language)
}

// sharersOf finds the players that share a part: as many as its name numbers, else
// as its <instruments> and score-instruments say; two where a name in the plural
// stands over music in two parts. A section of strings, percussion or a keyboard
// is not divided unless its name numbers the players. Nil for one player.
func (c *Assigner) sharersOf(part int) []Sharer {
	s := &c.Parts[part]
	if pair := c.cellosAndBasses(part); pair != nil {
		return pair
	}
	numbers := s.Match.Players
	if len(numbers) > divisi.MaxPlayers {
		return nil
	}
	if len(numbers) < 2 {
		for n := 1; n <= c.unnumbered(part); n++ {
			numbers = append(numbers[:n-1:n-1], n)
		}
	}
	if len(numbers) < 2 || !divides(s.Match.Instrument, len(s.Match.Players) > 1) {
		return nil
	}
	sharers := make([]Sharer, len(numbers))
	for i, n := range numbers {
		sharers[i].Number = n
	}
	c.nameInstruments(part, sharers)
	return sharers
}

// divides reports whether the players of an instrument have parts of their own.
func divides(i *instruments.Instrument, numbered bool) bool {
	if i == nil {
		return true
	}
	switch i.Group {
	case "percussion", "keyboard", "plucked":
		return false
	case "string", "voice":
		return numbered
	}
	return true
}

// unnumbered counts the players of a part whose name numbers none, at most one where
// nobody shares it.
func (c *Assigner) unnumbered(part int) (players int) {
	s, e := &c.Parts[part], &c.evidence[part]
	if e.said > 1 {
		return e.said
	}
	if ids, all := c.numberedInstruments(part); all && len(ids) > 1 {
		return len(ids)
	}
	if plural(s.Match.Instrument, s.Name) {
		players = min(max(e.layers, e.number), 4)
	}
	return players
}

// numberedInstruments are the ids of the part's score-instruments by the player whom their
// name numbers: "Flute 1", "Flute 2"; all: every one numbers a player.
func (c *Assigner) numberedInstruments(part int) (ids map[int]string, all bool) {
	ids, all = map[int]string{}, true
	for _, in := range c.ScoreParts[part].Instruments {
		m := c.Catalogue.Match(instruments.Query{Name: in.Name})
		if all = all && len(m.Players) == 1; len(m.Players) == 1 {
			ids[m.Players[0]] = in.ID
		}
	}
	return ids, all
}

// plural reports whether a part's name has the instrument in the plural.
func plural(i *instruments.Instrument, name string) bool {
	if i == nil {
		return false
	}
	for _, language := range pitch.Languages() {
		n := i.Names(language)
		if n.Plural != n.Singular && strings.Contains(strings.ToLower(name), strings.ToLower(n.Plural)) {
			return true
		}
	}
	return false
}

// nameInstruments gives the players the score-instruments that are theirs: by the
// number in the name, else one after another where there are as many as players.
func (c *Assigner) nameInstruments(part int, sharers []Sharer) {
	ins := c.ScoreParts[part].Instruments
	byNumber, _ := c.numberedInstruments(part)
	for i := range sharers {
		p := &sharers[i].Player
		if id := byNumber[p.Number]; id != "" && len(byNumber) == len(sharers) {
			p.Instruments = []string{id}
		} else if len(ins) == len(sharers) && len(byNumber) == 0 {
			p.Instruments = []string{ins[i].ID}
		}
	}
}

// cellosAndBasses finds the two players of a staff for cello and double bass, or
// for others an octave apart: one reads the same notes as the other and sounds an
// octave lower, or higher where <double> says so (MusicXML 4.0, double;
// notation-rules, 7).
func (c *Assigner) cellosAndBasses(part int) []Sharer {
	s, e := &c.Parts[part], &c.evidence[part]
	if len(s.Match.Doubles) != 1 || s.Match.Instrument == nil || len(s.Match.Players) > 0 {
		return nil
	}
	first, second := s.Match.Instrument, s.Match.Doubles[0]
	bass := first.Kind == "cello" && second.Kind == "double-bass"
	if !e.double && !bass {
		return nil
	}
	octave := -1
	if e.above {
		octave = 1
	}
	pair := []Sharer{{Instrument: first}, {Instrument: second}}
	away := second
	if (first.OctaveChange-second.OctaveChange)*octave > 0 {
		away = first
	}
	for i := range pair {
		if pair[i].Instrument == away {
			pair[i].Shift = pitch.Octaves(octave)
		}
	}
	return pair
}
