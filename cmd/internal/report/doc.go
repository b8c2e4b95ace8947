// Package report says what a run did and came to: messages, manifests and summaries
// for people, and documents and tables for programs. It reads and writes no files,
// and decides nothing.
package report
