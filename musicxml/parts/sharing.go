package parts

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/transpose/pitch"
)

// evidence is what the music of a part says about how many players share it.
type evidence struct {
	said   int  // <instruments>, the most that the part says
	layers int  // most notes on one stem, or voices on one staff
	number int  // highest number in words such as "2." and "a 2"
	double bool // a <double>: one staff for two instruments an octave apart
	above  bool // the octave above the written notes is doubled
}

// gatherEvidence looks for signs of several players.
func gatherEvidence(t *musicxml.Timeline, lexicon *divisi.Lexicon) evidence {
	var e evidence
	chord := 1
	for i := range t.Measures {
		voices := map[voiceOnStaff]bool{}
		for k := range t.Measures[i].Events {
			ev := &t.Measures[i].Events[k]
			switch ev.Kind {
			case musicxml.Note:
				if chord++; !ev.Chord {
					chord = 1
				}
				if !ev.Rest {
					voices[voiceOnStaff{ev.Staff, ev.Voice}] = true
				}
				e.layers = max(e.layers, chord, voicesOn(voices, ev.Staff))
			case musicxml.Attributes:
				e.attributes(ev.Element)
			case musicxml.Direction:
				e.words(ev.Element, lexicon)
			}
		}
	}
	return e
}

type voiceOnStaff struct {
	staff int
	voice string
}

func voicesOn(voices map[voiceOnStaff]bool, staff int) int {
	n := 0
	for v := range voices {
		if v.staff == staff {
			n++
		}
	}
	return n
}

func (e *evidence) attributes(attributes *etree.Element) {
	if n, err := strconv.Atoi(musicxml.ChildText(attributes, "instruments")); err == nil {
		e.said = max(e.said, min(n, divisi.MaxPlayers))
	}
	for _, t := range musicxml.Children(attributes, "transpose") {
		if double := musicxml.Child(t, "double"); double != nil {
			e.double, e.above = true, musicxml.Attr(double, "above") == "yes"
		}
	}
}

func (e *evidence) words(direction *etree.Element, lexicon *divisi.Lexicon) {
	for _, t := range musicxml.Children(direction, "direction-type") {
		for _, words := range musicxml.Children(t, "words") {
			if m, ok := lexicon.Read(musicxml.Text(words), nil); ok && !m.Bare {
				for _, n := range append(m.Numbers, m.Count) {
					e.number = max(e.number, n)
				}
			}
		}
	}
}

// desk is one of the players that share a part.
type desk struct {
	player     divisi.Player
	instrument *instruments.Instrument // where the players' instruments differ, else nil
	// shift is added to the sound: the double bass under the cello's line.
	shift pitch.Interval
}

// playersOf parts an assignment among the players of a shared staff.
func (c *Copyist) playersOf(a Assignment) []Assignment {
	desks := c.desksOf(a)
	if !c.options.Players || len(desks) < 2 {
		return []Assignment{a}
	}
	all := make([]Assignment, len(desks))
	for i, d := range desks {
		all[i] = a
		all[i].Player, all[i].PlayerCount, all[i].desks = i+1, len(desks), desks
		if d.instrument != nil {
			all[i].Instrument = d.instrument
		}
		all[i].Label = c.playerLabel(a, d)
	}
	return all
}

// playerLabel heads the sheet of one player of a shared staff.
func (c *Copyist) playerLabel(a Assignment, d desk) string {
	number := ""
	if d.player.Number > 0 {
		number = strconv.Itoa(d.player.Number)
	}
	m := c.surveys[a.Part].Match
	m.Number = number
	switch {
	case d.instrument != nil:
		return d.instrument.Label(c.options.Language, number)
	case a.planLabel || a.Instrument == nil:
		return strings.TrimSpace(a.Label + " " + number)
	case a.RecognisedBy == ByPlan || m.Instrument == nil:
		return a.Instrument.Label(c.options.Language, number)
	}
	m.Instrument = a.Instrument
	return m.Label(c.options.Language)
}

// desksOf finds the players that share a part: as many as its name numbers, else
// as its <instruments> and score-instruments say; two where a name in the plural
// stands over music in two parts. A section of strings, percussion or a keyboard
// is not divided unless its name numbers the players. Nil for one player.
func (c *Copyist) desksOf(a Assignment) []desk {
	s := &c.surveys[a.Part]
	if pair := c.cellosAndBasses(s); pair != nil {
		return pair
	}
	numbers := s.Match.Players
	if len(numbers) > divisi.MaxPlayers {
		return nil
	}
	if len(numbers) < 2 {
		for n := 1; n <= c.unnumbered(a, s); n++ {
			numbers = append(numbers[:n-1:n-1], n)
		}
	}
	if len(numbers) < 2 || !divides(s.Match.Instrument, len(s.Match.Players) > 1) {
		return nil
	}
	desks := make([]desk, len(numbers))
	for i, n := range numbers {
		desks[i].player.Number = n
	}
	c.nameInstruments(a.Part, desks)
	return desks
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

// unnumbered counts the players of a part whose name numbers none.
func (c *Copyist) unnumbered(a Assignment, s *Survey) int {
	if s.evidence.said > 1 {
		return s.evidence.said
	}
	if n := c.likeInstruments(a.Part); n > 1 {
		return n
	}
	if !plural(s.Match.Instrument, s.Name) || max(s.evidence.layers, s.evidence.number) < 2 {
		return 0
	}
	return max(2, min(s.evidence.layers, 4), min(s.evidence.number, 4))
}

// likeInstruments counts the part's score-instruments where all are of one kind
// and their names number the players: "Flute 1", "Flute 2".
func (c *Copyist) likeInstruments(part int) int {
	seen := map[int]bool{}
	for _, in := range c.scoreParts[part].Instruments {
		m := c.catalogue.Match(instruments.Query{Name: in.Name})
		if len(m.Players) != 1 {
			return 0
		}
		seen[m.Players[0]] = true
	}
	return len(seen)
}

// plural reports whether a part's name has the instrument in the plural.
func plural(i *instruments.Instrument, name string) bool {
	if i == nil {
		return false
	}
	for _, language := range []string{"en", "de", "fr", "it", "es"} {
		n := i.Names(language)
		if n.Plural != n.Singular && strings.Contains(strings.ToLower(name), strings.ToLower(n.Plural)) {
			return true
		}
	}
	return false
}

// nameInstruments gives the players the score-instruments that are theirs: by the
// number in the name, else one after another where there are as many as players.
func (c *Copyist) nameInstruments(part int, desks []desk) {
	ins := c.scoreParts[part].Instruments
	byNumber := map[int]string{}
	for _, in := range ins {
		if m := c.catalogue.Match(instruments.Query{Name: in.Name}); len(m.Players) == 1 {
			byNumber[m.Players[0]] = in.ID
		}
	}
	for i := range desks {
		p := &desks[i].player
		if id := byNumber[p.Number]; id != "" && len(byNumber) == len(desks) {
			p.Instruments = []string{id}
		} else if len(ins) == len(desks) && len(byNumber) == 0 {
			p.Instruments = []string{ins[i].ID}
		}
	}
}

// cellosAndBasses finds the two players of a staff for cello and double bass, or
// for others an octave apart: one reads the same notes as the other and sounds an
// octave lower, or higher where <double> says so (MusicXML 4.0, double;
// notation-rules, 7).
func (c *Copyist) cellosAndBasses(s *Survey) []desk {
	if len(s.Match.Doubles) != 1 || s.Match.Instrument == nil || len(s.Match.Players) > 0 {
		return nil
	}
	first, second := s.Match.Instrument, s.Match.Doubles[0]
	bass := first.Kind == "cello" && second.Kind == "double-bass"
	if !s.evidence.double && !bass {
		return nil
	}
	octave := -1
	if s.evidence.above {
		octave = 1
	}
	pair := []desk{{instrument: first}, {instrument: second}}
	away := second
	if (first.OctaveChange-second.OctaveChange)*octave > 0 {
		away = first
	}
	for i := range pair {
		if pair[i].instrument == away {
			pair[i].shift = pitch.Octaves(octave)
		}
	}
	return pair
}
