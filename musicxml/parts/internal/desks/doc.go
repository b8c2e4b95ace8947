// Package desks decides what one player can have on the desk: which staves never sound
// at once, when the player changes from one to the next and how long that takes, which
// percussionist plays which instrument.
//
// It knows staves only by when they sound, bar by bar, and says nothing of notation.
package desks
