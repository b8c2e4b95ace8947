package making

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
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

// Apart takes a file that holds one part of several staves to pieces; none for any other.
// A staff that several players share is not taken apart: sharers are the ids of their
// parts.
func Apart(file *musicxml.Score) (pieces []Piece, sharers []string, err error) {
	list := file.ScoreParts()
	if len(file.Parts) != 1 || len(list) != 1 || list[0].Element == nil {
		return nil, nil, nil
	}
	entry := list[0].Element
	if ids := joining.Sharers(entry); len(ids) > 0 {
		return nil, ids, nil
	}
	if text := joining.Divided(entry); text != "" {
		piece, err := undivided(file, list[0].ID, text)
		return []Piece{piece}, nil, err
	}
	if origins, err := joining.Origins(entry); len(origins) == 0 {
		return nil, nil, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return nil, nil, err
	}
	taken, err := joining.Apart(file.Assemble([]*etree.Element{part}).Root())
	if err != nil {
		return nil, nil, err
	}
	for _, t := range taken {
		score, err := reread(etree.NewDocumentWithRoot(t.Root), file.Name)
		if err != nil {
			return nil, nil, err
		}
		pieces = append(pieces, Piece{t.Part, t.Player, score, t.Some})
	}
	return pieces, nil, nil
}

// undivided takes out of a part what was added for the two staves of its divisi.
func undivided(file *musicxml.Score, id, text string) (Piece, error) {
	passages, err := divided.Parse(text)
	if err != nil {
		return Piece{}, err
	}
	part, err := file.ReadPart(0, nil)
	if err != nil {
		return Piece{}, err
	}
	if err := divided.Apart(part, passages); err != nil {
		return Piece{}, err
	}
	score, err := reread(file.Assemble([]*etree.Element{part}), file.Name)
	return Piece{Part: id, Score: score}, err
}

func reread(doc *etree.Document, name string) (*musicxml.Score, error) {
	return musicxml.Read(musicxml.Append(nil, doc, musicxml.WriteOptions{}), musicxml.ReadOptions{Name: name})
}
