// Package verify proves of a part that moving it changes nothing in sound,
// and that the way back restores it.
//
// A part goes forward to the transposition its player reads, or to concert pitch
// where the source is what the player reads, and back. [Compare] then holds the
// two trees against each other, element by element. Beside it, and by separate
// code (package reading), the written part is read off the page as a player
// would and its sounding notes are compared with the source's.
package verify
