//go:build !unix

package batch

// openWithoutWaiting: there are no pipes among files here.
const openWithoutWaiting = 0

// ignoreBrokenPipes has nothing to do where there is no SIGPIPE.
func ignoreBrokenPipes() {}
