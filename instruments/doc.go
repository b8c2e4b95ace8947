// Package instruments is the catalogue of what players read: which instrument
// sounds what when it reads a C, in which clef, over which range, and what it is
// called in five languages; names of thirty more are recognised.
//
// An instrument "in X" sounds X when it reads C. The octave is not settled by
// that name (the alto and the baritone saxophone are both in E flat), nor is the
// notation (a bass clarinet sounds a ninth lower than its treble clef and a
// second lower than its bass clef). So each notation of an instrument has a row
// of its own, with the interval that is added to written pitch to get sounding
// pitch, in the form of the <transpose> of MusicXML: steps and semitones within
// an octave, and octaves apart.
//
// The rows are plain CSV files in the folder data, which a musician reads and
// corrects in a spreadsheet; every value names its source. Load checks each cell
// and says line, column and what is wrong.
//
// Names of parts are recognised as scores have them, in any order and in any of
// the languages:
//
//	c, err := instruments.Load()
//	m := c.Match(instruments.Query{Name: "2. Klarinette in B"})
//	// m.Instrument.ID is "clarinet-bflat", m.Number "2", m.By "name"
//
// The package knows no files of scores. Its intervals and pitches are those of package
// pitch.
package instruments
