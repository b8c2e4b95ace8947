// Package music says what a part means: its bars, voices, notes and chords, ties,
// grace and cue notes, marks, and what reaches from one place to another. It is
// read once, and every piece of it points to its element:
//
//	part, err := music.ReadPart(element)
//	for i := range part.Notes {
//		n := &part.Notes[i]
//		fmt.Println(n.Pitch, n.Sounding(), n.Duration, n.TiedTo != nil)
//	}
//
// Nothing is changed in the tree, and nothing is judged: the package knows neither
// instruments nor pages. A [Part] is what the timeline was when it was read; where
// the tree has changed since, it is read anew.
//
// # Notes
//
// A [Note] is a <note>: a note, a rest, or one head of a chord. What its own children
// say is read in one go, by [ReadNote], which serves who needs a note alone.
// Time is exact, in quarter notes; a chord note has the onset of the note it stands
// with, and may be shorter (MusicXML 4.0, chord). A cue note is silent, whatever its
// size (cue). A grace note takes no time of its own (grace).
//
// # Ties
//
// "The tie element indicates sound; the tied element indicates notation" (MusicXML
// 4.0, tie). Most files have both; some have the first alone, as those that were
// played in, and some the second, as those that were drawn. A note of which one
// element says that a tie begins or ends there has it: the sound that is held is
// drawn, and the curve between two notes of one pitch is held. [Ties] keeps the
// two apart for who writes them again.
//
//   - A tie joins two notes: the second begins where the first ends, sounds the same,
//     however it is spelled ("enharmonically equivalent", MusicXML 4.0, tied), and says
//     that a tie leads to it. Of several such it is that of the first note's own voice
//     and staff.
//   - An end without its other end joins nothing: a tie into or out of a repeat or a
//     coda is drawn at one note alone (tied). [Note.TiedFrom] and [Note.TiedTo] are
//     nil, though [Ties] says what stands there, and the note is struck.
//   - "continue" is a note in the middle, to which a tie leads and from which one goes
//     on; "let-ring" is no tie but a sign that the note rings on (tied-type).
//
// # Spans
//
// A [Span] is what begins in one place and ends in another: slurs, glissandi, tuplets,
// hairpins, dashes, brackets, octave lines, pedals, endings and their like. The
// numbers of its ends distinguish what is open at one time in the document, not in
// the music, and an end may stand in the document before its beginning (MusicXML 4.0,
// number-level, start-stop-continue). So ends are paired by kind and number, and among
// several by voice, staff and time: a span does not end before it begins, nor, if
// there is a choice, at the note at which it begins. An end whose other end the part
// does not have stands alone.
//
// # Marks and changes
//
// A [Mark] is anything that is printed at notes or beside them: what stands in
// <notations> and <direction-type>, chord symbols, figures, syllables, and what a
// <barline> shows. It is told by its element's own name, which is the standard's
// word. A [Change] is a child of <attributes>: clef, key, time and the like;
// [ReadClef], [ReadKey], [ReadTime] and [ReadTransposition] say what it says.
//
// Package reading works the notes out from what is printed, and shares no code with
// this one: it is the check on it.
package music
