// Package divisi deals the music of a staff that several players share among
// the players.
//
// A conductor's score saves room: "Flutes 1 & 2" stand on one staff. Where they
// play different notes, the first player has the upper voice or the upper note of
// each chord; where one staff line serves both, words say who plays: "1." the
// first alone, "a 2" both, until the next such word. The player of one part sees
// neither the other's notes nor those words, but rests in their place.
//
// [Divide] keeps one player's music of a part laid out in time:
//
//	report, err := divisi.Divide(timeline, divisi.Options{
//		Players: []divisi.Player{{Number: 1}, {Number: 2}}, Keep: 1, Lexicon: lexicon})
//
// No note is lost: every note of the staff is dealt to at least one player. Where
// the score does not say who plays, all do, and a warning says at which bar.
//
// The package decides who plays and makes the player's bars whole: rests, chords,
// beams, ties, slurs, tuplets. It knows nothing of transposition, of clefs or of
// what holds for the whole orchestra.
package divisi
