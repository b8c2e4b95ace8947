// Package svgread reads drawn music back into pitches, for tests. It looks at
// the page as a player does: where heads, clefs and accidentals stand, which
// signature is in force, how far an accidental holds. It shares no code with
// package engraving and knows none of its model.
//
// A staff is a <g class="staff">, a bar in it a <g data-bar="N">; signs are <use>
// elements whose href ends in the name of the glyph and whose y is the line or
// space they stand on; ten units are one staff space.
package svgread
