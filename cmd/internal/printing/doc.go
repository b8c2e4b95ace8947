// Package printing makes the paper for the desks: out of the documents of one
// player's part, movement by movement, a printed part with all that is to be said
// of it, and out of the parts of a score the job that prints them all. It knows no
// files and no flags, so that a command and a page can print alike.
package printing
