// Package browsertest opens the program's pages in a real browser, Debian's
// chromium, driven over its debugging protocol, for tests: what a page asks of
// the network, what it complains of, what it draws, and how it takes clicks and
// keys.
package browsertest
