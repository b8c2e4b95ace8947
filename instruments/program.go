package instruments

import "io/fs"

var programColumns = []string{"program", "kind", "name", "source"}

// readPrograms reads which kind of instrument a playback program of General MIDI is
// named for.
func (c *Catalogue) readPrograms(files fs.FS) error {
	c.programs = map[int]string{}
	return readRows(files, "programs.csv", programColumns, func(r row) error {
		program, err := r.number("program", 1, 128)
		if err != nil {
			return err
		}
		kind := r.text("kind")
		if len(c.byKind[kind]) == 0 {
			return r.errorf("kind", "%q is no kind of instrument", kind)
		}
		if c.programs[program] != "" {
			return r.errorf("program", "%d stands twice", program)
		}
		c.programs[program] = kind
		return nil
	})
}
