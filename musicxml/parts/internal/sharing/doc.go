// Package sharing takes out of a part what one player has: the player's music off a
// staff that several share, the upper line for an instrument of one.
package sharing
