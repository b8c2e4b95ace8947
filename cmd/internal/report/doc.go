// Package report says what a run came to: as text for people and as tables and
// documents for programs. It decides nothing.
package report
