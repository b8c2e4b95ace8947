// Package paper lays out what a player has on the stand: pages of a size, with
// heads, titles and rights, filled with lines of engraved music so that the pages
// can be turned. It has one reason to exist: lines, pages and turns are broken in
// one sum over all bars, because a line that is a little looser is a small price
// for a page that ends in a rest.
//
// A [Book] is all that one player plays, movement by movement; [Lay] makes its
// pages. Sizes and distances are those of published guides for parts, named at each
// value.
package paper
