// Package wording has the words of the copyist's own that stand in parts, in five languages
// (data/wording.csv).
package wording
