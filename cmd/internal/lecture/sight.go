package lecture

import (
	"errors"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

var errNothingImagined = errors.New("this instrument keeps every note's name: there is no other clef to imagine; choose one such as a clarinet or a horn")

// sight says how a part is read at sounding pitch by an imagined clef.
func (m *maker) sight() error {
	t := m.t
	i := m.Instrument
	if i == nil {
		i = m.catalogue.ByID("clarinet-bflat")
	}
	if len(i.Clefs) == 0 || i.Interval().Diatonic%7 == 0 {
		return errNothingImagined
	}
	written := i.Clefs[0]
	imagined := exercise.ImaginedClef(written, i.Interval())
	plain := imagined
	plain.OctaveChange = 0
	m.step("idea", t.Say("lecture.sight-idea", nil), t.Say("lecture.sight-idea-text", nil))
	table := m.step("clefs", t.Say("lecture.sight-clefs", texts.Fill{"clef": m.clef(written)}), t.Say("lecture.sight-clefs-text", nil))
	table.Table = m.imagined(written)
	this := m.step("instrument", t.InstrumentTitle(i), t.Say("lecture.sight-this", texts.Fill{"interval": t.Off(i.Interval()), "clef": m.clef(plain)}))
	if n := imagined.OctaveChange; n != 0 {
		this.Text = append(this.Text, t.Say("lecture.sight-octave", texts.Fill{"off": t.Off(pitch.Octaves(n))}))
	}
	if err := m.readTwice(this, i, written, imagined); err != nil {
		return err
	}
	by := i.Interval().Fifths()
	m.step("signature", t.Say("lecture.sight-signature", nil), t.Say("lecture.sight-signature-text", texts.Fill{"against": m.against(by)}))
	m.step("signs", t.Say("lecture.sight-signs", nil), m.signsRule(by), t.Say("lecture.sight-signs-others", nil))
	return nil
}

// imagined lists for each clef by how much notes sound lower in it than they read in
// the written one.
func (m *maker) imagined(written instruments.Clef) *Table {
	t := m.t
	table := &Table{Head: []string{t.Say("lecture.column-clef", nil), t.Say("lecture.column-middle", nil), t.Say("lecture.column-serves", nil)}}
	for _, c := range exercise.MovableClefs {
		if c == written {
			continue
		}
		var serves []string
		for _, id := range []string{"clarinet-eflat", "clarinet-d", "clarinet-bflat", "clarinet-a", "alto-flute-g", "horn-f", "horn-e", "horn-eflat", "horn-d", "alto-saxophone-eflat"} {
			i := m.catalogue.ByID(id)
			if clef := exercise.ImaginedClef(written, i.Interval()); clef.Sign == c.Sign && clef.Line == c.Line {
				serves = append(serves, t.InstrumentTitle(i))
			}
		}
		table.Rows = append(table.Rows, []string{m.clef(c), t.Letter(pitch.At(explain.MiddleLine(c)).Step), strings.Join(serves, ", ")})
	}
	return table
}

// readTwice shows a scale that the instrument reads, and the same heads in the imagined
// clef.
func (m *maker) readTwice(s *Step, i *instruments.Instrument, written, imagined instruments.Clef) error {
	key := pitch.Key{Mode: pitch.Major}
	sounding := key.Moved(i.Interval())
	low := pitch.At(explain.MiddleLine(written) - 6) // the C below the staff, in the treble clef
	first := pitch.Pitch{Step: pitch.C, Octave: low.Octave}
	var above, below []pitch.Pitch
	for n := range 8 {
		p := pitch.At(first.Place() + n)
		above, below = append(above, p), append(below, i.Interval().Apply(p))
	}
	reads, sounds := m.row(m.t.Say("lesson.written", nil), above), m.row(m.t.Say("lesson.sounds", nil), below)
	s.Rows = []Row{reads, sounds}
	return s.draw(staff{reads.Name, row(written, &key, above...), reads.Notes}, staff{sounds.Name, row(imagined, &sounding, below...), sounds.Notes})
}

// signsRule says before which letters, as they are read, a printed accidental means
// something else: as many as the signature has moved, in the order of its signs.
func (m *maker) signsRule(fifths int) string {
	var letters []string
	order := pitch.BySharps()
	for n := range pitch.Abs(fifths) {
		at := n
		if fifths < 0 {
			at = len(order) - 1 - n
		}
		letters = append(letters, m.t.Letter(order[at]))
	}
	fill := texts.Fill{"letters": strings.Join(letters, ", ")}
	if fifths > 0 {
		return m.t.Say("lecture.signs-higher", fill)
	}
	return m.t.Say("lecture.signs-lower", fill)
}
