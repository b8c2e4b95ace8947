// Package octaves chooses in which octaves an instrument plays a line that was
// written for another, as an arranger would: whole phrases at a time.
//
// The notes that an instrument has are law. An octave changes where the player
// breathes or rests; in the middle of a phrase, at a barline or before a slur, only to
// spare a note that no player has, or where the line leaps and the change makes the leap
// no wider. The range that young players are expected to have is a preference, and so is
// the octave of the score. [Choose] finds the cheapest way
// through all phrases together, so that no choice for one spoils the next, and
// [Weigh] says what came of it.
package octaves
