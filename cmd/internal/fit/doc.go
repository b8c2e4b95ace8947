// Package fit answers what an ensemble asks of a score: which of the players there are
// could play what, and how a part reads on another instrument.
//
//   - [Fit] ranks the instruments that could take a part; [Cast] gives the whole
//     score to the players of a [Band], each part once, important lines first.
//   - [Reassign] writes one part for another instrument.
//
// Ranges are those of package instruments. For young players they are a guide, and
// their teacher decides.
package fit
