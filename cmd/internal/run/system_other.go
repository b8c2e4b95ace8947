//go:build !unix

package run

// terminated says that the process was asked to end, as Windows asks when the window is
// closed or somebody signs off (os/signal).
const terminated = "stopped because its window was closed"

// ignoreBrokenPipes has nothing to do where there is no SIGPIPE.
func ignoreBrokenPipes() {}
