package fit

import (
	"errors"
	"slices"

	"deskpart/instruments"
)

// worthPlaying is the least fit (0 to 1) at which music is given to a player,
// worthDoubling that at which a player who is left over doubles it.
const worthPlaying, worthDoubling = 0.15, 0.3

// What an arranger would not do with a line, whatever else speaks for it.
const (
	farthestAway = 1.25 // octaves that its notes move on average
	mostLost     = 0.25 // share of its notes, the lower ones of chords, that are left out
)

// caster is the work on one casting.
type caster struct {
	music   []*Music
	weights []int64 // what the ear would miss of each line if nothing were played
	lacking needs   // what the ear would miss if nothing were played
	players []player
	judged  map[judgement]Candidate
	// Pairs that were tried and set two neighbours against each other: to be left, or to
	// be played in another octave than would suit alone.
	refused map[judgement]bool
	follows map[judgement]int
	// yielding are tunes that nobody has whole: a note or two may be missing.
	yielding map[int]bool
	level    instruments.Level
}

// player is one member of the band.
type player struct {
	instrument *instruments.Instrument
	doubles    []*instruments.Instrument
	number     int // among those of the instrument, from 1, given at the end
	alone      bool
	on         *instruments.Instrument // taken up beside the own for all that the player has, else nil
}

type judgement struct {
	music      int
	instrument *instruments.Instrument
}

// pairing is a player with a line.
type pairing struct {
	music, player int
	doubling      bool // somebody else has the line already
	// inTurn: the player has another line, too; on is what this one is played on, nil for
	// the player's own instrument.
	inTurn bool
	on     *instruments.Instrument
}

// Cast gives the music of a score to the players of a band as an arranger would: what
// the ear would miss first is covered first, players keep their own chairs, the lines
// chosen go to those whom they suit best, all taken together, and players who are left
// over double what is thin. A line that a player would take badly is played on what is
// named beside the player's instrument, where that suits better.
//
// What is left is taken in turn by players who have a line already, where inTurn says that
// they can; nil: nobody does.
func Cast(music []*Music, band Band, level instruments.Level, inTurn InTurn) (*Casting, error) {
	c := &caster{music: music, level: level, judged: map[judgement]Candidate{}, refused: map[judgement]bool{}, follows: map[judgement]int{}, yielding: map[int]bool{}}
	c.lacking = needsOf(music)
	for line := range music {
		c.weights = append(c.weights, c.lacking.missed(line, 0))
	}
	for _, s := range band {
		for range s.Count {
			c.players = append(c.players, player{instrument: s.Instrument, doubles: s.Doubles, alone: band.playersOf(s.Instrument) == 1})
		}
	}
	if len(c.players) == 0 {
		return nil, errors.New("the ensemble has no players")
	}
	c.yieldTunes()
	pairings := c.takeUp(c.seatLines())
	pairings = c.takeTurns(pairings, inTurn)
	pairings = append(pairings, c.double(pairings)...)
	c.numberPlayers(pairings)
	return c.casting(pairings), nil
}

// seatLines gives each line that is played to one player. Where that sets neighbours
// against each other, one of them goes with the other or to somebody else, and it is
// done again.
func (c *caster) seatLines() []pairing {
	for {
		pairings := c.cover()
		upper, lower, ok := c.crossing(pairings)
		if !ok {
			return pairings
		}
		c.part(upper, lower)
	}
}

// allNeeds is what the ear would miss while nobody plays, to be counted down.
func (c *caster) allNeeds() needs { return slices.Clone(c.lacking) }

// judge weighs an instrument for a line, once for all its players.
func (c *caster) judge(music int, in *instruments.Instrument) Candidate {
	key := judgement{music, in}
	if known, ok := c.judged[key]; ok {
		return known
	}
	m := c.music[music]
	played := playedBy(m, in)
	candidate, able := c.judgeAt(key, played)
	if !able || m.silent() || !m.own(played) && (strangeToIt(m, played) || unlikely(&candidate, c.mostMissing(music))) {
		candidate.fit, candidate.asDoubling = 0, 0
	}
	c.judged[key] = candidate
	return candidate
}

// judgeAt weighs it in the octave in which the line goes with its neighbour, or in
// those that suit it.
func (c *caster) judgeAt(key judgement, played *instruments.Instrument) (Candidate, bool) {
	m := c.music[key.music]
	if octave, ok := c.follows[key]; ok {
		return judge(m, played, c.level, octave)
	}
	return judge(m, played, c.level)
}

// fits is how well a line suits an instrument, 0 where its players would not be given
// it.
func (c *caster) fits(music int, in *instruments.Instrument) float64 {
	return c.unlessRefused(music, in, c.judge(music, in).fit, worthPlaying)
}

// doubles is how well a player of an instrument could double a line, 0 for not at all.
func (c *caster) doubles(music int, in *instruments.Instrument) float64 {
	return c.unlessRefused(music, in, c.judge(music, in).asDoubling, worthDoubling)
}

func (c *caster) unlessRefused(music int, in *instruments.Instrument, fit, least float64) float64 {
	if fit < least || c.refused[judgement{music, in}] {
		return 0
	}
	return fit
}

// playedBy is the instrument on which a player takes a line: percussion players
// play whatever of the percussion it is for, kettledrums and bells too (common
// practice, no source).
func playedBy(m *Music, in *instruments.Instrument) *instruments.Instrument {
	if in.Kind == "percussion" && m.From != nil && m.From.Group == instruments.Percussion {
		return m.From
	}
	return in
}

// strangeToIt reports whether a line asks for what an instrument is not there for:
// kettledrums play their own part and nobody else does, singers what has words.
func strangeToIt(m *Music, in *instruments.Instrument) bool {
	if m.From != nil && m.From.Family == "timpani" && in.Family != "timpani" {
		return true
	}
	return m.From != in && !m.suits(in) && !in.Flags.Rare
}

// unlikely reports whether an arranger would not give a line to an instrument: it
// lacks notes, more than so many, it would play octaves away, or chords would be cut down
// to one line.
func unlikely(c *Candidate, mostMissing int) bool {
	return c.lie.Missing > mostMissing || c.meanAway() > farthestAway || c.lost > mostLost
}
