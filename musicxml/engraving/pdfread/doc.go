// Package pdfread reads printed music back: from the text layer and the lines of a
// PDF document to the notes that a player would play from it, and to slurs,
// hairpins, dynamics and words with where they begin and end. It is the check on the
// whole way from a part to paper, so that it knows nothing of the engraver: what a
// document says is decoded by a general library and by the standard's rules for
// content streams, signs are known by their Unicode and everything else by its
// place. It is for tests only and reads what this program prints: one staff space
// is a quarter of the em of the signs' font, and a system is a tagged figure.
//
// The order of reading is that of a player: staves, barlines, clefs and signatures
// (staff.go, signature.go), notes with their stems, beams, flags and dots (note.go),
// values and tuplets (value.go), the moment of each column (moment.go), and then
// what stands around the notes (bow.go, around.go).
package pdfread
