//go:build !unix

package files

// openWithoutWaiting: there are no pipes among files here.
const openWithoutWaiting = 0

// syncNeedsWriter: whether a folder that is opened for reading cannot be synced.
const syncNeedsWriter = true
