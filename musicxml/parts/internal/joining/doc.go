// Package joining makes one part of the staves that one player has: in turn on one staff,
// with every change of instrument announced and named, or one above the other where they
// sound at once. It also takes such a part to pieces again: the part says which bars come
// from which staff of the score.
package joining
