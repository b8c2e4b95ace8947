// Package pitch is the arithmetic of spelled pitches, intervals and keys, with
// their names. It needs the standard library alone.
//
// A [Pitch] is a letter, an alteration and an octave: F sharp and G flat are two
// pitches of one sound. An [Interval] counts letter steps and semitones, both
// signed, so that moving there and back restores the spelling, not only the sound.
// On the line of fifths (… B♭ F C G D …) an interval moves every key by the same
// number of places, [Interval.Fifths]; a [Key] is its signature's place on that
// line, and the mode.
//
// [Parse], [ParseInterval] and [ParseKey] read what String of each writes, and what
// musicians write for it; anything else is an error that says what was expected.
// Alterations are exact decimals ([Alter]), so that microtones move without
// rounding.
package pitch
