// Package pitch is the arithmetic of spelled pitches, intervals and signatures.
//
// An [Interval] counts letter steps and semitones, so that moving there and back
// restores the spelling, not only the sound. It needs the standard library alone;
// the instruments use it as well as whatever moves.
package pitch
