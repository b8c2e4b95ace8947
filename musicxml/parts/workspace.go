package parts

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/stages"
)

// Workspace is the memory that one worker makes parts in, used again for part after
// part, because memory that is touched for the first time is slow. The zero value is
// ready. What was made in a workspace is valid until the next part is begun there. A
// workspace serves one goroutine at a time; nil stands for a new one.
type Workspace struct {
	slabs    musicxml.Slabs
	timeline musicxml.Timeline
	stages   stages.Memory
	text     []byte
	score    *musicxml.Score // whose part it holds
	size     int             // of the text of the score's largest part
}

// begin makes room for a part of a score. What the workspace still holds of another
// score goes, lest it keep that score's text in memory.
func (w *Workspace) begin(score *musicxml.Score) *Workspace {
	if w == nil {
		w = new(Workspace)
	}
	if w.score == nil || w.score == score {
		w.slabs.Reset()
	} else {
		w.slabs.Forget()
		w.timeline.Forget()
		w.stages.Forget()
	}
	if w.score != score || w.size == 0 {
		w.size = 0
		for i := range score.Parts {
			w.size = max(w.size, score.Parts[i].Size())
		}
	}
	w.score = score
	return w
}

// ReadPart reads part i of a score as it stands there.
func (w *Workspace) ReadPart(score *musicxml.Score, i int) (*etree.Element, error) {
	return score.ReadPart(i, &w.begin(score).slabs)
}
