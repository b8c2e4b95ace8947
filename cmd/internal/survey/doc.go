// Package survey tells what is in a score and what an extraction would meet: its pitch, its
// parts with their instruments, keys and ranges, and the players of a work of several
// movements; as JSON, a text, a table for a spreadsheet, or a plan to start from.
package survey
