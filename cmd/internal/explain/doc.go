// Package explain teaches transposition: it works one out aloud, as a teacher does
// at the board.
//
// A [Task] says what is asked: an instrument, and which of its two pitches is
// given. Music is a <part> of MusicXML all the way, given and answer alike, so
// that what is explained, drawn, handed out and marked is moved by the very code
// that makes the players' parts (package transpose). A [Tune] builds such a part
// from nothing, an [Excerpt] cuts one out of a score.
//
// The explanations follow the order in which the craft is taught (trade/teaching.md,
// section 5): which way and why, the interval, the signature on the line of fifths,
// clef and octave, then each note by its letter and each accidental by what it does
// to the note of the signature.
//
// Packages exercise and marking, below this one, make sheets of tasks and mark the
// answers.
package explain
