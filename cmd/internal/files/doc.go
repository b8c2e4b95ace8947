// Package files is everything between a command and the disk. It finds the scores
// that were named, gives results names that every system takes, writes each file
// whole or not at all and never over what is somebody else's, makes bags, and
// remembers what is done.
//
//	inputs, problems, err := files.Search{Paths: args, Output: dir}.Find(ctx)
//	output := files.NewOutput(inputs)
//	wrote, err := output.WriteFile(path, data)
//	err = output.Close()
//
// It knows nothing of music. Nothing here depends on the clock or on the machine:
// the same inputs and settings give the same bytes.
package files
