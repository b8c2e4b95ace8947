// Package audit looks over a finished part, as it will be written, for what a schema
// cannot see and a player would trip over.
//
// It reads the document once, bar by bar, and knows nothing of how it was made:
//
//   - every staff, voice and number that is named is there;
//   - bars are as long as the time signature in force says, and that is printed;
//   - where the transposition changes, a name is printed or something was said;
//   - no name or playback speaks of another instrument;
//   - the printed text of a chord symbol does not contradict its root and bass;
//   - what starts, stops: slurs, hairpins, dashes, octave lines, endings, tuplets,
//     beams, and other lines; ties meet a note of the same pitch;
//   - a multi-bar rest covers empty bars, all of which are there;
//   - the player reads the clefs;
//   - nothing refers to what is not there, and nothing is left that belongs to a
//     concert score alone.
//
// What it finds is a [musicxml.Warning] with bar and beat; [Codes] lists them. A fault
// of the score that the part was made of is found as well: the player meets it, too.
//
// The rules are those of the MusicXML 4.0 schema's documentation and, for multi-bar
// rests, of common practice.
package audit
