// Package collate holds existing parts against a score: do they still agree?
//
// A part and the staff of the score that it belongs to are each read into a
// transcript: bar by bar what sounds, by package reading, and what is marked. Marks
// that hold for all players are those that the copyist would write into the part.
// [Score.Collate] then lists the differences, each with its bar and beat, as an errata
// list has them: what stands, and what should.
//
// One fault is one difference. Bars are aligned with the least cost of changes
// before their contents are compared, so that a missing bar is not a hundred
// wrong notes; notes are aligned in the same way within a bar; and what one cause
// explains (a part a tone too high, a signature that is lost) is said once.
//
// What moves with the notes is compared by what does not: keys by the scale that they
// make, chord symbols as they sound, the sign of an ornament by the interval to its
// auxiliary note. Left aside is what does not change what a player plays:
//
//   - layout: clefs and octave lines (a note's pitch says where it stands), stems, beams,
//     brackets of tuplets, rests' places, cross-staff notes, breaks, and how long a
//     multi-bar rest is, which another part breaks elsewhere. A bar or beat that is
//     written out for a repeat sign, or the other way, is a difference: it is read
//     otherwise, and wrongly where the bar before differs
//   - what only a program hears: sound, play, MIDI, listening, and the instruments of
//     pitched notes. Those of unpitched ones are compared by name
//   - what the words or signs beside it say, too: dashes and brackets behind words, the
//     shapes of breath marks and caesuras, dashed bar lines, letters in noteheads, hyphens
//     and lines of sung words, the status of accidentals
//   - aids to another reading of the same notes: diagrams of chords, the tuning and capo of
//     tablature, the signs at figures of a figured bass, which change with the key
//   - what another player has: cue notes
package collate
