// Package apart takes a finished part of several staves of a score to pieces again, so that
// each can be held against its own staff. The part itself says which bars are whose.
package apart

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/internal/divided"
	"deskpart/musicxml/parts/internal/joining"
)

// Piece is what a player has of one staff of the score, as a score of one part.
type Piece struct {
	Part   string // id of the part in the score
	Player int    // of a shared staff; 0 for the whole
	Score  *musicxml.Score
	Some   bool // the player has some passages of the staff only
}

// Pieces takes a file that holds one part to pieces: what a player with several staves has
// of each, what each of the players has who share a staff, and a part of divisi without
// the staff that was added for them; none for any other.
func Pieces(file *musicxml.Score) ([]Piece, error) {
	list := file.ScoreParts()
	if len(file.Parts) != 1 || len(list) != 1 || list[0].Element == nil {
		return nil, nil
	}
	entry := list[0].Element
	if ids := joining.Sharers(entry); len(ids) > 0 {
		return sharers(file, ids)
	}
	if text := joining.Divided(entry); text != "" {
		return undivided(file, list[0].ID, text)
	}
	if origins, err := joining.Origins(entry); len(origins) == 0 {
		return nil, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return nil, err
	}
	taken, err := joining.Apart(file.Assemble([]*etree.Element{part}).Root())
	if err != nil {
		return nil, err
	}
	var all []Piece
	for _, t := range taken {
		score, err := reread(etree.NewDocumentWithRoot(t.Root), file.Name)
		if err != nil {
			return nil, err
		}
		all = append(all, Piece{t.Part, t.Player, score, t.Some})
	}
	return all, nil
}

// undivided takes out of a part what was added for the two staves of its divisi.
func undivided(file *musicxml.Score, id, text string) ([]Piece, error) {
	passages, err := divided.Parse(text)
	if err != nil {
		return nil, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return nil, err
	}
	if err := divided.Apart(part, passages); err != nil {
		return nil, err
	}
	score, err := reread(file.Assemble([]*etree.Element{part}), file.Name)
	return []Piece{{Part: id, Score: score}}, err
}

func reread(doc *etree.Document, name string) (*musicxml.Score, error) {
	return musicxml.Read(musicxml.Append(nil, doc, musicxml.WriteOptions{}), musicxml.ReadOptions{Name: name})
}

// sharers takes a staff that was put together apart for its players, as any shared staff
// is.
func sharers(file *musicxml.Score, ids []string) ([]Piece, error) {
	catalogue, err := instruments.Load()
	if err != nil {
		return nil, err
	}
	o := parts.DefaultOptions()
	o.Players, o.Input, o.RestBars = true, parts.Written, 0
	surveyed, err := parts.Survey(file, catalogue, o)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	if err != nil || len(job.Assignments()) != len(ids) {
		return nil, err
	}
	var all []Piece
	for i, id := range ids {
		made, err := job.Make(i)
		if err != nil {
			return nil, err
		}
		score, err := reread(made.Document, file.Name)
		if err != nil {
			return nil, err
		}
		all = append(all, Piece{Part: id, Score: score})
	}
	return all, nil
}
