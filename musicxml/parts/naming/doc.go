// Package naming finds the parts of a score by what people call them: one way for every
// flag, plan and completion.
//
// A part is named by its id, by its name in any spelling of its signs ("Clarinet in
// Bb", "Clarinet in B♭", "clarinet in B-flat"), by a pattern in which * stands for
// anything, by its instrument ("clarinet", "horn-f", "woodwind"), or by any name that
// means its instrument, key and number in one of the five languages ("1. Klarinette in
// B"). What comes first in this list goes first: where a part is called just "Flute",
// "flute" means that part and no other.
//
//	r := naming.New(catalogue, list)
//	i, err := r.One("clarinet in Bb 1") // or *naming.NotFound with the nearest names, or *naming.Ambiguous
package naming
