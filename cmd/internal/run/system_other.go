//go:build !unix

package run

// ignoreBrokenPipes has nothing to do where there is no SIGPIPE.
func ignoreBrokenPipes() {}
