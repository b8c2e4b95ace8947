// Package exercise makes up melodies to transpose, and the sheets they stand on.
//
// What is asked at each of five levels, and what makes a melody sound, is
// trade/teaching.md, sections 2 and 3: [Level] is the table there, the rules of
// melody are the functions of rules.go, one a rule. A melody is a walk over the
// tones of a key in which every three tones in a row obey the rules; composer
// finds such a walk for a given rhythm, with the accidentals, the leaps and the
// highest note where the plan wants them, by looking ahead exactly (dynamic
// programming over pairs of tones), so that nothing has to be repaired afterwards.
//
// Every exercise tests its point: there is a note that a forgotten or unmoved
// signature would spoil, and its accidentals change kind as often as its level
// says.
//
// The same seed and settings give the same exercises (math/rand/v2, PCG).
package exercise
