//go:build !unix

package files

// openWithoutWaiting: there are no pipes among files here.
const openWithoutWaiting = 0
