// Package spreadsheet writes tables that are safe to open in a spreadsheet and reads what
// a spreadsheet saves: a cell that it would run as a formula has an apostrophe before it,
// which is taken off again when the table is read. It knows nothing of music.
package spreadsheet
