package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// Role is a player's music in a cast.
type Role struct {
	Part       string  `json:"part"`
	PartID     string  `json:"part_id"`
	PlanName   string  `json:"plan_name"` // what the plan calls it
	Instrument string  `json:"instrument"`
	Label      string  `json:"label"`
	Octave     int     `json:"octave"`  // that most of the notes are moved by
	Changes    int     `json:"changes"` // of octave on the way
	InRange    float64 `json:"in_range"`
	Importance float64 `json:"importance"` // of the line in the whole
	// Doubling: another player has the music already. Copy: it is the same sheet,
	// so that the plan has no row of its own for it.
	Doubling bool   `json:"doubling"`
	Copy     bool   `json:"copy,omitempty"`
	Text     string `json:"text"`
	// Player has several parts, in turn. Default: the part is all that its player has.
	Player string `json:"player,omitempty"`

	octaveCell string // in the plan
	candidate  Candidate
}

// Uncovered is music that nobody is left for.
type Uncovered struct {
	Part       string  `json:"part"`
	PartID     string  `json:"part_id"`
	PlanName   string  `json:"plan_name"`
	Importance float64 `json:"importance"`
	Text       string  `json:"text"`
	// Elsewhere are lines that are played and have the same notes, those first that have
	// most; Missing is the share of its time that none has, in bars MissingIn, by their
	// numbers ("12-19").
	Elsewhere []Elsewhere `json:"elsewhere,omitempty"`
	Missing   float64     `json:"missing"`
	MissingIn []string    `json:"missing_in,omitempty"`
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
	// Level of the players, for which octaves were chosen: extract is to be told.
	Level instruments.Level `json:"level"`

	music []*Music
}

// PlanRows is the casting as a plan for extract: a row for each sheet, and one that
// says "none" for what nobody plays.
func (c *Casting) PlanRows() []parts.PlanRow {
	var rows []parts.PlanRow
	roles, uncovered := c.Roles, c.Uncovered
	for _, m := range c.music {
		for len(roles) > 0 && roles[0].PartID == m.Assignment.ID {
			if r := roles[0]; !r.Copy {
				rows = append(rows, parts.PlanRow{Part: r.PlanName, Instrument: r.Instrument, Octave: r.octaveCell, Label: c.heading(r), Player: r.Player, Copies: c.copies(r)})
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

// copies is how many players read a sheet, where they are several.
func (c *Casting) copies(r Role) string {
	n := 1
	for _, o := range c.Roles {
		if o.Copy && o.PartID == r.PartID && o.PlanName == r.PlanName && o.Instrument == r.Instrument && o.octaveCell == r.octaveCell {
			n++
		}
	}
	if n == 1 {
		return ""
	}
	return strconv.Itoa(n)
}

// heading is what the plan heads a sheet with: that of a player who has several parts in
// turn with what is taken up beside the first, "Flute 2 (Piccolo)".
func (c *Casting) heading(r Role) string {
	if r.Player == "" || r.Label != r.Player {
		return r.Label
	}
	var others []string
	for _, o := range c.Roles {
		if o.Player == r.Player && o.Label != r.Label && !slices.Contains(others, o.Label) {
			others = append(others, o.Label)
		}
	}
	if len(others) == 0 {
		return r.Label
	}
	return r.Label + " (" + strings.Join(others, ", ") + ")"
}

// sayTurns says of parts that one player has in turn what the others are.
func (c *Casting) sayTurns() {
	for i := range c.Roles {
		r := &c.Roles[i]
		var others []string
		for k := range c.Roles {
			if o := &c.Roles[k]; k != i && r.Player != "" && o.Player == r.Player {
				others = append(others, o.PlanName)
			}
		}
		if len(others) > 0 {
			r.Text += "; in turn with " + strings.Join(others, " and ")
		}
	}
}

// numberPlayers numbers the players of one instrument: those with their own chairs in
// the order of the score, then those with other lines, then those who double.
func (c *caster) numberPlayers(pairings []pairing) {
	count := map[*instruments.Instrument]int{}
	number := func(belongs func(pairing) bool) {
		for _, p := range pairings {
			if in := c.instrumentOf(p); !p.inTurn && belongs(p) {
				count[in]++
				c.players[p.player].number, c.players[p.player].on = count[in], p.on
			}
		}
	}
	number(func(p pairing) bool { return !p.doubling && c.hasOwn(p.music, c.players[p.player].instrument) })
	number(func(p pairing) bool { return !p.doubling && !c.hasOwn(p.music, c.players[p.player].instrument) })
	number(func(p pairing) bool { return p.doubling })
	for p := range c.players {
		if player := &c.players[p]; player.on != nil {
			player.alone = count[player.on] == 1
		}
	}
}

func (c *caster) label(p int) string {
	player := &c.players[p]
	if player.alone {
		return player.plays().Label("en", "")
	}
	return player.plays().Label("en", strconv.Itoa(player.number))
}

// plays is the instrument of a player's main line.
func (p *player) plays() *instruments.Instrument {
	if p.on != nil {
		return p.on
	}
	return p.instrument
}

// casting writes the pairings down in the order of the score.
func (c *caster) casting(pairings []pairing) *Casting {
	result := &Casting{Roles: []Role{}, Uncovered: []Uncovered{}, Idle: []string{}, Level: c.level, music: c.music}
	idle := make([]bool, len(c.players))
	for p := range idle {
		idle[p] = true
	}
	for m := range c.music {
		result.Shared = result.Shared || c.music[m].Assignment.Player > 0
		var sheets []Role
		for _, p := range pairings {
			if p.music == m {
				role := c.role(p, sheets)
				if isSeveral(pairings, p.player) {
					role.Player = c.label(p.player)
				}
				sheets = append(sheets, role)
				idle[p.player] = false
			}
		}
		result.Roles = append(result.Roles, sheets...)
		if len(sheets) == 0 {
			u := c.uncovered(m)
			c.hear(&u, m, pairings)
			result.Uncovered = append(result.Uncovered, u)
		}
	}
	result.sayTurns()
	for p, nothing := range idle {
		if nothing {
			result.Idle = append(result.Idle, c.players[p].instrument.ID)
		}
	}
	return result
}

// role describes a pairing; sheets are those of the same line that there are already.
func (c *caster) role(p pairing, sheets []Role) Role {
	in := c.instrumentOf(p)
	candidate := c.judge(p.music, in)
	a := &c.music[p.music].Assignment
	label := c.label(p.player)
	if played := playedBy(c.music[p.music], in); played != c.players[p.player].plays() {
		label = played.Label("en", "")
	}
	r := Role{Part: a.Name, PartID: a.ID, PlanName: c.music[p.music].planName, Instrument: candidate.Instrument, Label: label, Octave: candidate.Octave,
		Changes: candidate.lie.Changes, InRange: candidate.InRange, Importance: c.importance(p.music), Doubling: p.doubling, Text: candidate.Text}
	r.octaveCell, r.candidate = c.octaveCell(p), candidate
	for _, other := range sheets {
		r.Copy = r.Copy || other.Instrument == r.Instrument && other.octaveCell == r.octaveCell
	}
	return r
}

// importance is what the ear would miss of a line, 1 for a note of the harmony all
// through.
func (c *caster) importance(music int) float64 {
	return round(float64(c.weights[music]) / allTheTime)
}

// octaveCell is what the plan says of the octave: nothing for the instrument that the
// line was written for, else the whole octaves, or that they change by phrase.
func (c *caster) octaveCell(p pairing) string {
	m, candidate := c.music[p.music], c.judge(p.music, c.instrumentOf(p))
	switch {
	case candidate.lie.Changes > 0:
		return "auto"
	case candidate.lie.Main == 0 && candidate.instrument == m.From, candidate.lie.Notes == 0:
		return ""
	}
	return strconv.Itoa(candidate.lie.Main)
}

// uncovered says why nobody has a line.
func (c *caster) uncovered(m int) Uncovered {
	a := &c.music[m].Assignment
	u := Uncovered{Part: a.Name, PartID: a.ID, PlanName: c.music[m].planName, Importance: c.importance(m)}
	switch best := c.bestFor(m); {
	case c.music[m].silent():
		u.Text = "silent all through"
	case best == nil:
		u.Text = "left out: " + c.whyNobody(m)
	default:
		u.Text = fmt.Sprintf("left out: %s could take it, but is needed elsewhere", best.Label("en", ""))
	}
	return u
}

// bestFor is the instrument whose player could best take a line, nil for none.
func (c *caster) bestFor(m int) *instruments.Instrument {
	var best *instruments.Instrument
	most := 0.0
	for p := range c.players {
		if fit := c.fits(m, c.players[p].instrument); fit > most {
			best, most = c.players[p].instrument, fit
		}
	}
	return best
}

// whyNobody says what stands against the player who is nearest to a line that nobody
// can sensibly take.
func (c *caster) whyNobody(m int) string {
	nearest, fewest := "", math.MaxInt
	for p := range c.players {
		in := c.players[p].instrument
		candidate, able := judge(c.music[m], playedBy(c.music[m], in), c.level)
		if l := candidate.lie; able && l.Notes > 0 && !strangeToIt(c.music[m], in) && l.Missing < fewest {
			nearest, fewest = against(&candidate), l.Missing
		}
	}
	if nearest == "" {
		return "none of the players plays such a part"
	}
	return "no player can take it sensibly; " + nearest
}

// against says what an arranger has against a candidate.
func against(c *Candidate) string {
	name := c.instrument.Label("en", "")
	switch {
	case c.lie.Missing > 0:
		return fmt.Sprintf("%s does not have %s of it", name, notice.Counted(c.lie.Missing, "note", "notes"))
	case c.lost > mostLost:
		return fmt.Sprintf("%s would leave out %s of it, the lower notes of chords", name, Percent(c.lost))
	case c.meanAway() > farthestAway:
		return fmt.Sprintf("%s would play it %s", name, octaveWords(c.Octave))
	}
	return name + " is too far from it in sound and height"
}
