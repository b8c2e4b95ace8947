// Package gather reads every part of a score for the first time and keeps what the copyist
// will want of it beside what package survey tells: the marks of the whole system, signs
// of several players on a staff, where there is something to hear for cue notes.
package gather
