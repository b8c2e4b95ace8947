// Package batch does one job over many files and loses none of them. It finds
// the inputs, shares the processors and the memory among them, writes every
// result whole or not at all, remembers what is done, and says at the end what
// needs a person. It knows nothing of music: what is done with a file is a
// function that a command hands in.
//
// A run is always the same few steps:
//
//	inputs, problems, err := batch.Search{Paths: args, Output: dir}.Find(ctx)
//	output := batch.NewOutput(inputs)
//	crew := batch.NewCrew(jobs, memory)
//	err = batch.Run(ctx, crew, inputs, batch.Work[batch.Input, Row]{Cost: …, Do: …, Deliver: …})
//	err = output.Close()
//
// Nothing here depends on the clock, on the order in which workers end, or on
// the machine: the same inputs and settings give the same bytes.
package batch
