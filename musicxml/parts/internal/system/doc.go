// Package system is what holds for the whole system: tempo, rehearsal marks, repeats and
// endings, pauses, time signatures, chord symbols. It gathers them from all parts of a
// score ([Gather], [Join]) and writes into each part what stands in others ([Marks.Add]).
package system
