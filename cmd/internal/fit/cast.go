package fit

import (
	"errors"
	"fmt"
	"strconv"

	"deskpart/instruments"
	"deskpart/musicxml/parts"
)

// Role is a player's music in a cast.
type Role struct {
	Part       string  `json:"part"`
	PartID     string  `json:"part_id"`
	PlanName   string  `json:"plan_name"` // what the plan calls it
	Instrument string  `json:"instrument"`
	Label      string  `json:"label"`
	Octave     int     `json:"octave"`
	InRange    float64 `json:"in_range"`
	Importance float64 `json:"importance"` // of the line in the whole
	// Doubling: another player has the music already. Copy: it is the same sheet,
	// so that the plan has no row of its own for it.
	Doubling bool   `json:"doubling"`
	Copy     bool   `json:"copy,omitempty"`
	Text     string `json:"text"`
}

// Uncovered is music that nobody is left for.
type Uncovered struct {
	Part       string  `json:"part"`
	PartID     string  `json:"part_id"`
	PlanName   string  `json:"plan_name"`
	Importance float64 `json:"importance"`
	Text       string  `json:"text"`
}

// Casting is a whole score given to the players of a band.
type Casting struct {
	File      string      `json:"plan"`
	Roles     []Role      `json:"roles"`
	Uncovered []Uncovered `json:"uncovered"`
	Idle      []string    `json:"idle"` // players for whom no music was found
	// Shared: some roles are one player's of a shared staff, so that the parts are
	// to be extracted with --players.
	Shared bool `json:"players"`

	music []*Music
}

// worthPlaying is the least fit (0 to 1) at which music is given to a player,
// worthDoubling that at which a player who is left over doubles it.
const worthPlaying, worthDoubling = 0.15, 0.4

// caster is the work on one casting.
type caster struct {
	music      []*Music
	names      []string // in the plan
	importance []float64
	players    []player
	judged     map[judgement]Candidate
	level      string
}

// player is one member of the band.
type player struct {
	instrument *instruments.Instrument
	number     int // among those of the instrument, from 1, given at the end
	alone      bool
}

type judgement struct {
	music      int
	instrument *instruments.Instrument
}

// Cast gives the music of a score to the players of a band: each line to one
// player, such that the sum over all lines of importance times fit is the greatest
// there is. Players that are left over double lines, the next best in the same
// sense, again and again until each has music or nothing fits.
func Cast(music []*Music, band Band, level string) (*Casting, error) {
	c := &caster{music: music, importance: importance(music), level: level, judged: map[judgement]Candidate{}}
	c.names = planNames(music)
	for _, s := range band {
		for range s.Count {
			c.players = append(c.players, player{instrument: s.Instrument, alone: s.Count == 1})
		}
	}
	if len(c.players) == 0 {
		return nil, errors.New("the ensemble has no players")
	}
	rounds := c.rounds()
	c.numberPlayers(rounds)
	return c.casting(rounds), nil
}

// pairing is a player with a line.
type pairing struct{ music, player int }

// rounds solves the assignment for all players, then again for those who are left.
func (c *caster) rounds() [][]pairing {
	var free []int
	for i := range c.players {
		free = append(free, i)
	}
	var rounds [][]pairing
	for least := worthPlaying; len(free) > 0; least = worthDoubling {
		values := make([][]int64, len(c.music))
		for m := range c.music {
			values[m] = make([]int64, len(free))
			for k, p := range free {
				values[m][k] = c.value(m, c.players[p].instrument, least)
			}
		}
		var round []pairing
		taken := map[int]bool{}
		for m, k := range bestAssignment(values) {
			if k >= 0 {
				round = append(round, pairing{m, free[k]})
				taken[free[k]] = true
			}
		}
		if len(round) == 0 {
			break
		}
		rounds = append(rounds, round)
		var left []int
		for _, p := range free {
			if !taken[p] {
				left = append(left, p)
			}
		}
		free = left
	}
	return rounds
}

// judge weighs an instrument for a line, once for all its players.
func (c *caster) judge(music int, in *instruments.Instrument) Candidate {
	key := judgement{music, in}
	if known, ok := c.judged[key]; ok {
		return known
	}
	played := playedBy(c.music[music], in)
	candidate, able := judge(c.music[music], played, c.level)
	if !able || c.music[music].silent() || strangeToIt(c.music[music], played) {
		candidate.fit = 0
	}
	c.judged[key] = candidate
	return candidate
}

// playedBy is the instrument on which a player takes a line: percussion players
// play whatever of the percussion it is for, kettledrums and bells too (common
// practice, no source).
func playedBy(m *Music, in *instruments.Instrument) *instruments.Instrument {
	if in.Kind == "percussion" && m.From != nil && m.From.Group == "percussion" {
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

// value is what a line is worth with an instrument, in millionths; nothing below
// the least fit.
func (c *caster) value(music int, in *instruments.Instrument, least float64) int64 {
	fit := c.judge(music, in).fit
	if fit < least {
		return 0
	}
	weight := c.importance[music]
	if m := c.music[music]; m.From != nil && playedBy(m, in) == m.From {
		weight += forOwnPart
	}
	return 1 + int64(weight*fit*1e6)
}

// forOwnPart is added to the importance, at most 1, of a line for a player of the
// instrument that it was written for: trumpets play the trumpets' part, short as
// it is, before they help out (taste; common practice, no source).
const forOwnPart = 1

// numberPlayers numbers the players of one instrument in the order of the score,
// those with lines of their own first.
func (c *caster) numberPlayers(rounds [][]pairing) {
	count := map[*instruments.Instrument]int{}
	for _, round := range rounds {
		for _, p := range round { // in the order of the score
			in := c.players[p.player].instrument
			count[in]++
			c.players[p.player].number = count[in]
		}
	}
}

func (c *caster) label(p int) string {
	player := &c.players[p]
	if player.alone {
		return player.instrument.Label("en", "")
	}
	return player.instrument.Label("en", strconv.Itoa(player.number))
}

// casting writes the rounds down in the order of the score.
func (c *caster) casting(rounds [][]pairing) *Casting {
	result := &Casting{Roles: []Role{}, Uncovered: []Uncovered{}, Idle: []string{}, music: c.music}
	placed := map[int]bool{}
	for m := range c.music {
		a := &c.music[m].Assignment
		result.Shared = result.Shared || a.Player > 0
		covered := false
		var sheets []Role
		for n, round := range rounds {
			for _, p := range round {
				if p.music != m {
					continue
				}
				role := c.role(p, n > 0)
				for _, other := range sheets {
					role.Copy = role.Copy || other.Instrument == role.Instrument && other.Octave == role.Octave
				}
				sheets = append(sheets, role)
				covered, placed[p.player] = true, true
			}
		}
		result.Roles = append(result.Roles, sheets...)
		if !covered {
			result.Uncovered = append(result.Uncovered, c.uncovered(m))
		}
	}
	for p := range c.players {
		if !placed[p] {
			result.Idle = append(result.Idle, c.players[p].instrument.ID)
		}
	}
	return result
}

func (c *caster) role(p pairing, doubling bool) Role {
	in := c.players[p.player].instrument
	candidate := c.judge(p.music, in)
	a := &c.music[p.music].Assignment
	label := c.label(p.player)
	if played := playedBy(c.music[p.music], in); played != in {
		label = played.Label("en", "")
	}
	return Role{Part: a.Name, PartID: a.ID, PlanName: c.names[p.music], Instrument: candidate.Instrument, Label: label, Octave: candidate.Octave,
		InRange: candidate.InRange, Importance: round(c.importance[p.music]), Doubling: doubling, Text: candidate.Text}
}

// uncovered says why nobody has a line.
func (c *caster) uncovered(m int) Uncovered {
	a := &c.music[m].Assignment
	u := Uncovered{Part: a.Name, PartID: a.ID, PlanName: c.names[m], Importance: round(c.importance[m])}
	switch best := c.bestFor(m); {
	case c.music[m].silent():
		u.Text = "silent all through"
	case best == nil:
		u.Text = "none of the players can take it"
	default:
		u.Text = fmt.Sprintf("%s could take it, but is needed elsewhere", best.Label("en", ""))
	}
	return u
}

func (c *caster) bestFor(m int) *instruments.Instrument {
	var best *instruments.Instrument
	most := int64(0)
	for i := range c.players {
		if v := c.value(m, c.players[i].instrument, worthPlaying); v > most {
			best, most = c.players[i].instrument, v
		}
	}
	return best
}

// planNames are what a plan calls each player's music: the part's name, or the
// player's label on a shared staff, where that means nothing else; else the part's
// id, with the player's place after a colon.
func planNames(music []*Music) []string {
	names := make([]string, len(music))
	for i, m := range music {
		a := &m.Assignment
		name, id := a.Name, a.ID
		if a.Player > 0 {
			name, id = a.Label, a.PlayerID()
		}
		names[i] = name
		for k, other := range music {
			if name == "" || k != i && other.called(name) {
				names[i] = id
			}
		}
	}
	return names
}

func (m *Music) called(name string) bool {
	a := &m.Assignment
	return parts.MatchesPattern(name, a.ID, a.Name, a.Label)
}

// PlanRows is the casting as a plan for extract: a row for each sheet, and one that
// says "none" for what nobody plays.
func (c *Casting) PlanRows() []parts.PlanRow {
	var rows []parts.PlanRow
	roles, uncovered := c.Roles, c.Uncovered
	for _, m := range c.music {
		for len(roles) > 0 && roles[0].PartID == m.Assignment.ID {
			if r := roles[0]; !r.Copy {
				rows = append(rows, parts.PlanRow{Part: r.PlanName, Instrument: r.Instrument, Octave: octaveCell(r.Octave), Label: r.Label})
			}
			roles = roles[1:]
		}
		for len(uncovered) > 0 && uncovered[0].PartID == m.Assignment.ID {
			rows = append(rows, parts.PlanRow{Part: uncovered[0].PlanName, Instrument: "none"})
			uncovered = uncovered[1:]
		}
	}
	return rows
}

func octaveCell(octave int) string {
	if octave == 0 {
		return ""
	}
	return strconv.Itoa(octave)
}
