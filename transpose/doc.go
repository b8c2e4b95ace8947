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
// accidentals, chord symbols and whatever else is tied to written pitch. Where a
// part goes is said in stretches: [Stretches] reads those that it has, by which
// it also comes back; [ConcertStretches] are those of a concert score, and
// [ForPart] those that a concert score asks for. The package knows no files and
// no instruments.
//
// Past the limit of its signature a stretch takes the enharmonic twin: the
// interval one diminished second away, one letter step more or less at the same
// semitones. The diatonic value of the <transpose> that is written says so, and
// so the file itself holds what the way back needs.
//
// A page for a player is made complete: each note that would be misread gets its
// sign. A page that is moved as printed keeps its omissions, and remembers in
// processing instructions what the new key cannot hold, so that it comes back
// element by element.
package transpose
