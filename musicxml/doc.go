// Package musicxml reads and writes the open MusicXML standard, versions 1.0 to
// 4.0, and lays a part out in exact time. It knows elements, their order,
// containers and encodings; it has no musical opinion.
//
// A score is opened with [Read] or [ReadFile]; its header is one etree document
// and each part is read on its own with [Score.ReadPart], so that many parts can
// be worked on at once and none has to wait for the whole score's tree.
package musicxml
