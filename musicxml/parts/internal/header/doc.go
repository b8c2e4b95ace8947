// Package header puts what a part needs above its music: the titles, the page, the
// part-list with one entry, what resolves the references; and links a score to its parts.
package header
