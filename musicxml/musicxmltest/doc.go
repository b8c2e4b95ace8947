// Package musicxmltest finds the test material that lies beside the project and
// validates files against the MusicXML 4.0 schema. Only tests import it.
package musicxmltest
