// Package parts is the copyist: it makes the parts that stand on the players'
// desks out of a score, in three phases, each of which is a type.
//
//   - [Survey] reads every part of the score once, so that it is known what holds for
//     all players and how the score is to be read;
//   - [Surveyed.Assign] says which part files there will be, and for whom;
//   - [Job.Make] makes one of them.
//
// Nothing can be asked before it is known, and what a phase has found out does not
// change any more: a [Surveyed] and a [Job] may be used by several goroutines at once.
// A score need not become parts: [Surveyed.Convert] writes it in concert pitch or as
// its players read it.
//
// Who plays what is said in a table, which package plan reads; package bundle puts a score
// and its parts in one container, package apart takes a finished part to pieces again.
//
// Whoever works through many parts gives each worker a [Workspace], which saves
// memory that is touched for the first time.
package parts
