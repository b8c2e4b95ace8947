// Package allowed makes content at random that the schema of MusicXML allows: any element with
// any of its children and attributes, whether it makes sense or not. It puts it into the bars
// and notes of scores, for tests of what must hold of everything that the standard can say.
//
// Source: the W3C's musicxml.xsd, which is read as it is; nothing of it is known here but the
// forms of the texts that it gives as patterns.
package allowed
