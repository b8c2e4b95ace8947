// Package collate holds existing parts against a score: do they still agree?
//
// A part and the staff of the score that it belongs to are each read into a
// transcript: bar by bar what sounds, by package reading, and what is marked. Marks
// that hold for all players are those that the copyist would write into the part.
// [Score.Collate] then lists the differences, each with its bar and beat, as an errata
// list has them: what stands, and what should.
//
// One fault is one difference. Bars are aligned with the least cost of changes
// before their contents are compared, so that a missing bar is not a hundred
// wrong notes; notes are aligned in the same way within a bar; and what one cause
// explains (a part a tone too high, a signature that is lost) is said once.
package collate
