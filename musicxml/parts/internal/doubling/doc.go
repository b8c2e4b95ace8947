// Package doubling is about players who have several staves of the score, a second
// instrument as a rule: when each staff sounds, which of them can share a line, what
// nobody can play, and who of a section could take an instrument more.
package doubling
