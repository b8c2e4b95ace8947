package plan

import "deskpart/musicxml/parts/naming"

// Missing is what was asked for and names no part of the score. Its error says what may
// be meant.
type Missing struct {
	*naming.NotFound
	Row *Row // of the plan, nil where something else asked for it
}
