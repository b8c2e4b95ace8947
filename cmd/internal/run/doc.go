// Package run does one job over many items and loses none of them: it shares the
// processors and the memory of the machine among them, hands the results on in the
// order of the items, shows how far it is, and stops in good order when a signal
// says so. It knows no files: what is done with an item is a function that a
// command hands in.
//
//	pool := run.NewPool(jobs, memory)
//	err := run.All(ctx, pool, items, run.Work[Item, Row]{Cost: …, Do: …, Deliver: …})
//
// Nothing here depends on the order in which workers end.
package run
