// Package engraving draws music: staves for the printed part, the proof page, the
// lesson and the exercises. It has one reason to exist: whatever a page shows in
// notes is laid out here, so that every page looks alike and one test reads them
// all. What it makes is a list of what is drawn (package display), which writers
// turn into files: package svg for pages in a browser, package pdf for paper.
//
// What is drawn is described by a [Music]: bars shared by all staves, and for
// each staff and bar the changes of clef, key and time, the voices with their
// notes and rests, and the marks. Lesson code fills it directly:
//
//	m := engraving.NewMusic("Flute", engraving.Treble(), engraving.Key{Fifths: 1}, engraving.Time{Beats: "4", BeatType: "4"})
//	m.AddBar(engraving.Pitched(engraving.Half, 0, 4, 4, 0), engraving.Pitched(engraving.Half, 0, 3, 4, 1))
//	drawing, err := engraving.Draw(m, engraving.Options{Width: 90})
//
// and package notate fills it from the part tree of a MusicXML document. A drawing
// prints what it is told to print: it works out positions, stems, beams and
// distances, but never which accidental a note needs.
//
// # Lengths
//
// All lengths are staff spaces (the distance of two staff lines), in the SVG ten
// units each, with one decimal, so that the same music gives the same bytes.
// Positions on a staff count steps of the scale from the middle line of five,
// upwards.
//
// # What a reader finds in the SVG
//
// Glyphs are <use> elements whose href names the sign and whose x and y are the
// sign's own place: a note head's and an accidental's y is the line or space it
// stands on, a clef's the line it names. Package svgread (for tests) reads the
// pitches back from these facts alone.
package engraving
