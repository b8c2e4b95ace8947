// Package reading reads a part as its player does.
//
// A player sees no <pitch>. A note is a head on a line or space; the clef gives
// that place a letter and an octave, and the alteration comes from, in this
// order, the sign printed at the note, the tie that leads to it, an earlier sign
// in the same bar, the key signature. [Read] works out every note in that way and
// keeps beside it what <pitch> says. [Page.Mismatches] are the notes at which a
// player would play something else; [Page.Needless] are signs that tell the
// player nothing new.
//
// # The rules
//
//   - A sign holds to the end of the bar, on its own staff, in its own octave
//     (Gehrkens 1914, s. 24), for every voice on the staff: a
//     player reads what is printed, whoever's note it stands at.
//   - Signs are read in the order of time. Grace notes come before the notes at
//     the same moment. At one moment all signs are seen before the unsigned
//     notes are read, so two different alterations of one place need two signs.
//   - A tie carries the alteration to the tied note alone, over any number of
//     barlines; later notes of that bar return to the signature.
//   - A signature that is not printed (print-object="no") is no signature.
//   - A new signature in mid-bar ends the signs before it.
//   - Notes that are not printed are not read, and their signs are not seen.
//   - Octave, clef and octave line: a sign holds for its letter and sounding
//     octave, so a change of clef or the end of an 8va in mid-bar does not hand it
//     on to another pitch.
//
// The rules were tried on 31 published editions (144,577 notes). They
// misread two notes, for which the edition has its sign on a hidden note. Were
// signs read voice by voice, 61 would be misread; for all octaves, 37; without
// the signs of other voices at the same moment, 77.
//
// # Sound
//
// [Page.Sounding] is what is heard: written pitch plus the <transpose> in force,
// as MIDI numbers (MIDI 1.0: 60 is middle C), exact for microtones. [Compare]
// lists where two such lists differ.
//
// The package is a check on package transpose and shares no code with it.
package reading
