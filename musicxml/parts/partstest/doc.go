// Package partstest checks a part against the score that it was made from.
//
// It is the acceptance test of package parts, by code of its own: what must hold
// of every part file is read off the file and off the score, not off the copyist;
// that package's COVERAGE.md has it element by element. Only tests import it.
//
//	facts, err := partstest.Read(score)
//	for _, fault := range facts.Check(partstest.Part{Index: 3, Document: doc, RestBars: 2}) {
//		t.Error(fault)
//	}
package partstest
