// Package transpose moves written music by an interval. An interval counts
// steps and semitones, so that moving there and back restores the spelling, not
// only the sound.
//
// MusicXML's <transpose> is what is added to written pitch to get sounding
// pitch. Everything here follows from one line, for every part and every bar,
// whatever the source looked like:
//
//	written (new) = written (source) + transpose (source) − transpose (new)
//
// [Move] applies it to a part laid out in time: pitches, key signatures, printed
// accidentals, chord symbols and whatever else is tied to written pitch. The
// package knows no files and no instruments.
package transpose
