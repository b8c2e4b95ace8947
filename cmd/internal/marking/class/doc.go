// Package class puts the marked answers of several learners together: who has what in
// which exercise, and which mistakes most of them made; as a text, a table for a
// spreadsheet, or JSON.
package class
