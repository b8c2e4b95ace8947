package parts

import (
	"slices"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/making"
)

// DeskScore is what a player with several staves has of one staff of the score, as a score
// of one part.
type DeskScore struct {
	Part   string // id of the part in the score
	Player int    // of a shared staff; 0 for the whole
	Score  *musicxml.Score
	Some   bool // the player has some passages of the staff only
}

// ScoresApart takes a file that holds one joined part to pieces, each a score of one part;
// none for any other.
func ScoresApart(file *musicxml.Score) ([]DeskScore, error) {
	pieces, sharers, err := making.Apart(file)
	if len(sharers) > 0 {
		return sharersApart(file, sharers)
	}
	var all []DeskScore
	for _, p := range pieces {
		all = append(all, DeskScore(p))
	}
	return all, err
}

// sharersApart takes a staff that was put together apart for its players, as any shared
// staff is.
func sharersApart(file *musicxml.Score, ids []string) ([]DeskScore, error) {
	catalogue, err := instruments.Load()
	if err != nil {
		return nil, err
	}
	o := DefaultOptions()
	o.Players, o.Input, o.RestBars = true, Written, 0
	surveyed, err := Survey(file, catalogue, o)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	if err != nil || len(job.assignments) != len(ids) {
		return nil, err
	}
	var all []DeskScore
	for i, id := range ids {
		made, err := job.Make(i)
		if err != nil {
			return nil, err
		}
		score, err := musicxml.Read(slices.Clone(made.Bytes(musicxml.WriteOptions{})), musicxml.ReadOptions{Name: file.Name})
		if err != nil {
			return nil, err
		}
		all = append(all, DeskScore{id, 0, score, false})
	}
	return all, nil
}
