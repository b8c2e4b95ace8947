package music

import (
	"strconv"

	"deskpart/musicxml"
)

// Ratio is how many notes the time modification puts in the time of how many; 0 and
// 0 where there is none or it cannot be read.
func (n *Note) Ratio() (actual, normal int) {
	if n.TimeModification == nil {
		return 0, 0
	}
	actual, err := strconv.Atoi(musicxml.ChildText(n.TimeModification, "actual-notes"))
	normal, err2 := strconv.Atoi(musicxml.ChildText(n.TimeModification, "normal-notes"))
	if err != nil || err2 != nil || actual < 1 || normal < 1 {
		return 0, 0
	}
	return actual, normal
}
