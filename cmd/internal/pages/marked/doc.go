// Package marked makes the pages of marked answers: one for each pupil, to print and
// hand back, and one for the class.
//
// A pupil's page shows each answer between the question and what was right, every
// mistake with a number at its notes (colour comes on top of that and tells nothing
// by itself), the rule in words for a twelve-year-old, and what to practise. The
// class's page is the table of pupils and exercises, the commonest mistakes, and
// what to teach again.
package marked
