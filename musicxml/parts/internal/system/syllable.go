package system

import (
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
)

// unfinished are the beginnings of gradual words whose other syllables follow on
// later beats.
var unfinished = map[string]bool{
	"ral": true, "rallen": true, "rallenta": true, "rallentan": true, "ritar": true, "ritardan": true,
	"accele": true, "accelera": true, "acceleran": true, "allar": true, "allarga": true, "allargan": true,
	"strin": true, "stringen": true,
}

// drawnOver is how many measures a gradual word may be drawn over.
const drawnOver = 8

// drawnWord follows a gradual word through its syllables.
type drawnWord struct {
	open    bool
	measure int // of the last syllable
}

// takes reports whether a text goes on with the word.
func (d *drawnWord) takes(text string, class lexicon.WordClass, m *musicxml.Measure) bool {
	if class == lexicon.GradualWords {
		t := lexicon.Tokens(text)
		d.open, d.measure = unfinished[t[len(t)-1]], m.Index
	}
	goesOn := class == lexicon.SyllableWords && d.open && m.Index-d.measure <= drawnOver
	if goesOn {
		d.measure = m.Index
	}
	return goesOn
}
