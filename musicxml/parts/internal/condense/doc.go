// Package condense puts the parts of two or three players of one instrument on one staff,
// as copyists do: one line with "a 2" where all play the same, "1." or "2." where one plays
// alone, chords where the rhythm agrees, and a voice for each where it does not. Package
// divisi takes such a staff apart again.
package condense
