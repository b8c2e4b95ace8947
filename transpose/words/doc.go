// Package words is what musicians call things, in five languages: notes, intervals,
// keys, signatures, signs, clefs, note values, beats; and the tables from which
// whole sentences are made.
//
// A [Table] is a CSV file that a teacher opens in a spreadsheet and corrects: a key
// and one column for each language. A text has placeholders in braces, {note}, and
// words that depend on a number, {n|bar|bars}: the first for one, the second for any
// other number. [ReadTable] says file, line and column of a cell that is empty or
// whose placeholders are not those of the English one.
//
// The names of notes are those of package pitch in ASCII on the one side (Bb4) and
// those of a language on the other: B♭4, B4, si♭4. The octave number is that of
// scientific pitch in every language: C4, do4, is middle C.
package words
