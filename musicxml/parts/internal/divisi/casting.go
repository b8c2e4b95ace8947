package divisi

import (
	"cmp"
	"slices"
	"sort"

	"deskpart/musicxml"
)

// castBar decides for every note of a staff in one bar who plays it.
func (d *division) castBar(b *bar, s *staff) {
	groups := b.on(s.number)
	c := &casting{division: d, staff: s, groups: groups}
	c.findHomes()
	waiting := d.instructions(b, s)
	for _, g := range groups {
		waiting = s.obey(d, waiting, g.onset)
		if !g.rest {
			c.group(g)
		}
		for _, small := range slices.Concat(g.before, g.after) {
			c.graceGroup(small, g)
		}
	}
	s.obey(d, waiting, b.measure.Length)
}

// casting is the work on one bar of one staff.
type casting struct {
	*division
	staff  *staff
	groups []*group
	homes  map[string]players // whose voice a voice is
	ranks  map[string]int     // place of a voice from the top
}

// findHomes says whose each voice is: the voices of the whole staff, from the
// top, are shared out among its players. A staff with more voices than players
// (software numbers them freely) is counted bar by bar.
func (c *casting) findHomes() {
	voices := c.staff.voices
	if len(voices) > c.staff.players.count() {
		voices = c.voicesHere()
	}
	c.homes, c.ranks = map[string]players{}, map[string]int{}
	for i, voice := range voices {
		c.homes[voice], c.ranks[voice] = c.staff.players.share(i, len(voices)), i
	}
}

// voicesHere lists the voices that say something in the bar, in order.
func (c *casting) voicesHere() []string {
	var voices []string
	for _, g := range c.groups {
		if g.active() && !slices.Contains(voices, g.voice) {
			voices = append(voices, g.voice)
		}
	}
	sort.Slice(voices, func(i, j int) bool { return voiceBefore(voices[i], voices[j]) })
	return voices
}

// candidates are those who may play a group: the players whose voice it is, and
// those whose own voice is silent without a rest while it sounds.
func (c *casting) candidates(g *group) players {
	free := c.staff.players
	for voice, owners := range c.homes {
		if voice != g.voice && c.busy(voice, g) {
			free &^= owners
		}
	}
	return free | c.homes[g.voice]
}

// busy reports whether a voice says something while a group sounds.
func (c *casting) busy(voice string, g *group) bool {
	return slices.ContainsFunc(c.groups, func(other *group) bool { return other.voice == voice && other.active() && other.overlaps(g) })
}

// layers counts the voices that sound at once with a group, its own among them.
func (c *casting) layers(g *group) int {
	voices := []string{g.voice}
	for _, other := range c.groups {
		if !other.rest && other.overlaps(g) && !slices.Contains(voices, other.voice) {
			voices = append(voices, other.voice)
		}
	}
	return len(voices)
}

// group decides who plays a group's notes.
func (c *casting) group(g *group) {
	who := cmp.Or(c.candidates(g), c.staff.players)
	layers := max(c.layers(g), len(g.notes))
	if s := &c.staff.saying; s.kind == named && layers > s.who.count() {
		*s = saying{} // "1." cannot go on where two play
	}
	doubt := false
	switch {
	case c.castByInstruments(g, layers):
	case c.castByTies(g, who):
	case len(g.notes) == 1:
		g.notes[0].who, doubt = c.single(g, who)
	default:
		doubt = c.chord(g, who)
	}
	if doubt {
		c.staff.doubt.goOn(g, g.onset)
	} else {
		c.settle(&c.staff.doubt)
	}
	if at, crowded := c.crowdedFrom(g); crowded {
		c.staff.crowd.goOn(g, at)
	} else if len(g.notes) > who.count() {
		c.staff.crowd.goOn(g, g.onset)
	}
	c.holdTies(g)
}

// crowdedFrom is the first place within a group at which the staff has more notes at once
// than players; false where none is.
func (c *casting) crowdedFrom(g *group) (musicxml.Fraction, bool) {
	sounding := []*group{g}
	for _, other := range c.groups {
		if other != g && !other.rest && other.overlaps(g) {
			sounding = append(sounding, other)
		}
	}
	for _, entry := range sounding { // in the order of time but for the group itself, which is there before or with them
		at := entry.onset.Max(g.onset)
		notes := 0
		for _, s := range sounding {
			if !at.Less(s.onset) && (at.Less(s.end) || s.onset == s.end) {
				notes += len(s.notes)
			}
		}
		if notes > c.staff.players.count() {
			return at, true
		}
	}
	return musicxml.Fraction{}, false
}

// single decides who plays one notehead for which several may be meant, and
// whether that is in doubt.
func (c *casting) single(g *group, who players) (players, bool) {
	home := c.homes[g.voice]
	said := c.staff.saying
	switch {
	case who.count() == 1:
		return who, false
	case said.kind == named && said.who&home == 0 && c.ranks[g.voice] > 0:
		return home, home.count() > 1
	case said.kind == named && said.who&who != 0:
		return said.who & who, false
	case said.kind == everybody && (said.count == 0 || said.count >= who.count()):
		return who, false
	case c.ranks[g.voice] > 0:
		// Alone on the staff, a lower voice is still that of its player.
		return home, home.count() > 1
	}
	return who, true
}

// chord deals the notes of a chord, the upper ones first.
func (c *casting) chord(g *group, who players) (doubt bool) {
	if said := c.staff.saying; said.kind == named && (said.who&who).count() >= len(g.notes) {
		who &= said.who
	}
	notes := fromTheTop(g.notes)
	for i, n := range notes {
		n.who = who.share(i, len(notes))
	}
	return len(notes) < who.count() && c.staff.saying.kind != everybody
}

// fromTheTop sorts noteheads by pitch, the highest first.
func fromTheTop(notes []*note) []*note {
	sorted := append([]*note(nil), notes...)
	sort.SliceStable(sorted, func(i, j int) bool {
		a, b := sorted[i], sorted[j]
		return a.pitched && b.pitched && a.pitch.MIDI() > b.pitch.MIDI()
	})
	return sorted
}

// castByInstruments follows the notes' <instrument> ids, where all notes of the
// group have some that name players. Where notes for both do not carry both ids,
// "a 2" over a single line says more than the id does.
func (c *casting) castByInstruments(g *group, layers int) bool {
	if c.byID == nil {
		return false
	}
	owners := make([]players, len(g.notes))
	for i, n := range g.notes {
		for _, id := range musicxml.Children(n.element, "instrument") {
			owners[i] |= c.byID[musicxml.Attr(id, "id")]
		}
		if owners[i] == 0 {
			return false
		}
	}
	if !c.shared && layers == 1 && c.staff.saying.kind == everybody {
		return false
	}
	for i, n := range g.notes {
		n.who = owners[i]
	}
	return true
}

// castByTies leaves a note that is only held to those who hold it, whatever the
// words above it say: they are for the next note.
func (c *casting) castByTies(g *group, who players) bool {
	held := make([]players, len(g.notes))
	for i, n := range g.notes {
		if held[i] = c.staff.ties[n.tieEnd(g.start())] & who; !n.tieFrom || held[i] == 0 {
			return false
		}
	}
	for i, n := range g.notes {
		n.who = held[i]
	}
	return true
}

// holdTies remembers who holds the notes that are tied on.
func (c *casting) holdTies(g *group) {
	for _, n := range g.notes {
		if n.tieTo && n.pitched {
			c.staff.ties[n.tieEnd(g.stop())] |= n.who
		}
	}
}

// graceGroup gives grace notes to those who play what they lead to: note by note
// where both are chords of one size, else all of them to all.
func (c *casting) graceGroup(small, lead *group) {
	together := lead.who()
	if together == 0 {
		c.group(small)
		return
	}
	if len(small.notes) == len(lead.notes) {
		below := fromTheTop(lead.notes)
		for i, n := range fromTheTop(small.notes) {
			n.who = below[i].who
		}
		return
	}
	for i, n := range fromTheTop(small.notes) {
		n.who = together.share(i, len(small.notes))
	}
}
