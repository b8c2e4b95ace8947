package instruments

import (
	"io/fs"

	"deskpart/transpose/pitch"
)

var tuningColumns = []string{"kind", "strings", "source"}

// readTunings gives the members of a kind their open strings.
func (c *Catalogue) readTunings(files fs.FS) error {
	return readRows(files, "tunings.csv", tuningColumns, func(r row) error {
		members := c.byKind[r.text("kind")]
		if len(members) == 0 {
			return r.errorf("kind", "%q is no kind of instrument", r.text("kind"))
		}
		var strings []pitch.Pitch
		for _, text := range r.list("strings") {
			p, err := pitch.Parse(text)
			if err != nil {
				return r.errorf("strings", "%w", err)
			}
			strings = append(strings, p)
		}
		for _, i := range members {
			i.tuning = strings
		}
		return nil
	})
}
