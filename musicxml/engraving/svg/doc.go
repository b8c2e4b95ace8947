// Package svg writes what is drawn as SVG, for pages in a browser. It has one
// reason to exist: it is the one place that knows SVG. It knows no music.
//
// A staff space is ten units, with one decimal, so that the same list gives the
// same bytes. Signs are <use> elements whose href names the sign and whose x and
// y are the sign's own place; their outlines stand once on a page, see
// [Definitions], and the look of lines and letters in [Style].
package svg
