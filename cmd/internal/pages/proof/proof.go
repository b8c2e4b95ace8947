package proof

import (
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
	"deskpart/transpose/verify"
)

// Proof is what the page says of a score.
type Proof struct {
	// Score is the name of the score's file.
	Score string `json:"score"`
	Title string `json:"title"`
	// Pitch is what the score was taken for, "concert", "written" or "mixed", and
	// Reason why.
	Pitch  string  `json:"pitch"`
	Reason string  `json:"reason"`
	Parts  []*Part `json:"parts"`
	// Movements are those of a work, and Players who plays them; Parts are then all that
	// they have, movement by movement. Default: the score is no work.
	Movements []Movement `json:"movements,omitempty"`
	Players   []Player   `json:"players,omitempty"`
}

// Movement is a score of a work.
type Movement struct {
	Score  string `json:"score"`
	Title  string `json:"title"` // with its number
	Pitch  string `json:"pitch"`
	Reason string `json:"reason"`
}

// Player is one of the one set of players of a work.
type Player struct {
	Label string `json:"label"`
	// Parts are the places among the parts, from 1, of what the player has in each
	// movement; 0 where the player is silent.
	Parts []int `json:"parts"`
}

// Part is what the page says of one part.
type Part struct {
	Number int    `json:"number"`
	ID     string `json:"source_part"`
	Name   string `json:"source_name"`
	Label  string `json:"label"`
	// Movement of a work, from 1. Default: 0.
	Movement int `json:"movement,omitempty"`
	// Staves are the names of the score's staves that the player has, where there are
	// several. Default: the part's own.
	Staves       []string `json:"staves,omitempty"`
	Instrument   string   `json:"instrument"`
	RecognisedBy string   `json:"recognised_by"`
	Assumed      bool     `json:"assumed"`
	// Transpose stands at the start of the part; Sounds says it in words.
	Transpose transpose.Transposition `json:"transpose"`
	Sounds    string                  `json:"sounds"`
	Bars      int                     `json:"bars"`
	Notes     int                     `json:"notes"`
	Tacet     bool                    `json:"tacet"`
	Opening   Opening                 `json:"opening"`
	Keys      []KeyRow                `json:"keys"`
	Range     *Range                  `json:"range"` // nil where there is none to hold the notes against
	Warnings  []musicxml.Warning      `json:"warnings"`
	Check     Check                   `json:"check"`
	// Failure says why the part could not be made, "" if it was.
	Failure string `json:"failure,omitempty"`

	// whole is the part drawn from start to end, packed; lines counts its lines.
	whole string
	lines int
	// numbers are the bars' numbers in order.
	numbers []string
	// drawings hold the glyphs that the part needs.
	drawings []*engraving.Drawing
}

// NeedsPerson reports whether the part could not be made, or failed its check.
func (p *Part) NeedsPerson() bool { return p.Failure != "" || !p.Check.Passed() }

// NeedsPerson reports whether any part does.
func (p *Proof) NeedsPerson() bool {
	return slices.ContainsFunc(p.Parts, (*Part).NeedsPerson)
}

// Examiner looks at the parts of one score. It may look at several at once.
type Examiner struct {
	Job *parts.Job
	// Verification says how the way there and back is tried.
	Verification verify.Options
	// Level of the players whose range the notes are held against. Default:
	// instruments.Professional.
	Level instruments.Level
}
