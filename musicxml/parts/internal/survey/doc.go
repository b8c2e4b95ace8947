// Package survey is what a first reading tells of a score: of each part its bars, keys,
// transposition, compass and the instrument that its names mean, and of the whole which
// pitch it is in and where its parts disagree. It changes nothing.
package survey
