// Package works finds the players of a work of several movements: one set for the whole
// work, matched by instrument and number over the movements.
//
// A player who changes from the clarinet in A to that in B flat stays one, and so does a
// horn player whose crook changes. Who has no number is the first of the kind that is
// free, in score order. Where one movement has two players on a shared staff and another
// has them on staves of their own, the shared staff is divided. Common practice, no
// source.
package works
