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
type Workspace struct{ of stages.Workspace }

func (w *Workspace) stages() *stages.Workspace {
	if w == nil {
		w = new(Workspace)
	}
	return &w.of
}

// ReadPart reads part i of a score as it stands there.
func (w *Workspace) ReadPart(score *musicxml.Score, i int) (*etree.Element, error) {
	return w.stages().ReadPart(score, i)
}
