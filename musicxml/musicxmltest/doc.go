// Package musicxmltest finds the test material that lies beside the project and
// validates files against the MusicXML 4.0 schema; it builds the program for the tests that
// run it. Only tests import it.
package musicxmltest
