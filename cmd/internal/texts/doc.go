// Package texts holds every sentence that the commands and pages of the lesson say,
// in five languages.
//
// The sentences stand in data/*.csv, a table for each place where they are said,
// which a teacher opens in a spreadsheet and corrects (data/README.md). What a note,
// an interval, a key is called comes from package words, whose names every [Texts]
// has. A test reads the program's source: every key that is asked for has its text,
// every text is asked for, and what is filled in is what the text has room for.
package texts
