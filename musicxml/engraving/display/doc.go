// Package display is the list of what is drawn: signs, lines, curves, bows,
// beams, boxes and texts at their places, each with the role it plays and the
// bar, voice and note it belongs to. It has one reason to exist: the engraver
// writes this list and knows no file format; writers (SVG, PDF) turn it into
// files and know no music; whoever counts collisions or looks for what stands
// where reads the list instead of a file.
//
// Lengths are staff spaces ([Spaces]), y downwards. In a staff's list y is
// counted from the middle line of five and x from the left end of the system; in
// a system's own lists from its top edge. [Millimetres] and [Points] are lengths
// on paper.
package display
