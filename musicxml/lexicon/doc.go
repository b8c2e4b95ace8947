// Package lexicon knows what words over or under a staff mean, and whom they concern:
// everybody, as a tempo does, or one player. It knows no file format.
package lexicon
