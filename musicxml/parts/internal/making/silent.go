package making

import (
	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/sounding"
)

// Silent says where the players of a shared staff are silent together and the score
// sounds: warnings for the part file of the first of them, by its number. What was heard
// of each part file is beside it, nil where nothing may be lost. A staff of which not
// every player has a part file is not looked at.
func Silent(files []assign.Assignment, heard []*draft.Heard) map[int][]musicxml.Warning {
	silent := map[int][]musicxml.Warning{}
	for i, a := range files {
		if a.Player != 1 || a.StandsFor != "" || i >= len(heard) || heard[i] == nil {
			continue
		}
		if all, together := together(files, &a, heard); all {
			if w := draft.Silences(heard[i].Score.Missing(together), "every player"); len(w) > 0 {
				silent[i] = w
			}
		}
	}
	return silent
}

// together is when any of the players of a part sounds, in one edition, and whether all of
// them have part files. Instruments that stand in do not count: what the part itself has
// lost they do not make good.
func together(files []assign.Assignment, of *assign.Assignment, heard []*draft.Heard) (all bool, together sounding.Times) {
	made := map[int]bool{}
	var times []sounding.Times
	for i, a := range files {
		if a.Part == of.Part && a.Player > 0 && a.Edition == of.Edition && a.StandsFor == "" && i < len(heard) && heard[i] != nil {
			made[a.Player] = true
			times = append(times, heard[i].Part)
		}
	}
	return len(made) == of.PlayerCount, sounding.Union(times...)
}
