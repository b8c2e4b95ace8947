// Package casting says which part files there are of a score and who plays them: what the
// plan says, staves that several share, the percussion shared out, and what nobody can
// play.
package casting
