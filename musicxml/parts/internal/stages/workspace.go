package stages

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/staff"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// Workspace is the memory that one worker makes parts in, one after the other. The zero
// value is ready. What was made in it is valid until the next part is begun.
type Workspace struct {
	Slabs    musicxml.Slabs
	Timeline musicxml.Timeline
	Page     staff.Page
	Move     transpose.Memory
	text     []byte
	score    *musicxml.Score // whose part it holds
	size     int             // of the text of the score's largest part
}

// Begin makes room for a part of a score. What the workspace still holds of another
// score goes, lest it keep that score's text in memory.
func (w *Workspace) Begin(score *musicxml.Score) {
	if w.score == nil || w.score == score {
		w.Slabs.Reset()
	} else {
		w.Slabs.Forget()
		w.Timeline.Forget()
		w.Page.Forget()
		w.Move.Forget()
	}
	if w.score != score || w.size == 0 {
		w.size = 0
		for i := range score.Parts {
			w.size = max(w.size, score.Parts[i].Size())
		}
	}
	w.score = score
}

// Draft begins a part of a score.
func (w *Workspace) Draft(score *survey.Score, a assign.Assignment) *draft.Draft {
	w.Begin(score.Music)
	return draft.New(score, a, &w.Slabs, &w.Timeline)
}

// ReadPart reads part i of a score as it stands there.
func (w *Workspace) ReadPart(score *musicxml.Score, i int) (*etree.Element, error) {
	w.Begin(score)
	return score.ReadPart(i, &w.Slabs)
}

// Text is what is written into the room that there is.
func (w *Workspace) Text(write func(room []byte) []byte) []byte {
	w.text = write(slices.Grow(w.text[:0], w.size))
	return w.text
}
