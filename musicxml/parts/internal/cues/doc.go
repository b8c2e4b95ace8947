// Package cues writes cue notes: before an entry after a long rest, what the player hears
// from another part.
package cues
