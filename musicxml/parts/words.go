package parts

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml/parts/internal/lexicon"
	"deskpart/musicxml/parts/internal/staff"
)

// WordKind says what words over a staff are about, for who only has to name them.
type WordKind int

// The kinds of words.
const (
	OtherWords WordKind = iota // one player's, or unknown
	TempoWords                 // a tempo, or a change of it
	RoadWords                  // where to go on
)

// KindOfWords finds what words are about: "più mosso" is TempoWords, "D.C. al Fine"
// RoadWords. A word that is a tempo at the head of a system alone ("espressivo")
// is OtherWords.
func KindOfWords(text string) WordKind {
	l, err := lexicon.Load()
	if err != nil {
		return OtherWords
	}
	switch l.Read(text).Class {
	case lexicon.TempoWords, lexicon.GradualWords:
		return TempoWords
	case lexicon.RoadWords:
		return RoadWords
	}
	return OtherWords
}

// ReadClef reads a <clef> or <part-clef>.
func ReadClef(e *etree.Element) instruments.Clef { return staff.ReadClef(e) }
