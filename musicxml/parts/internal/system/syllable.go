package system

import (
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
)

// unfinished are the beginnings of gradual words whose other syllables follow on
// later beats.
var unfinished = map[string]bool{
	"ral": true, "rallen": true, "rallenta": true, "rallentan": true, "ritar": true, "ritardan": true, "ritenu": true,
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
	t := lexicon.Tokens(text)
	switch {
	case class == lexicon.GradualWords:
		d.open, d.measure = len(t) > 0 && unfinished[t[len(t)-1]], m.Index
		return false
	case class != lexicon.SyllableWords || !d.open || m.Index-d.measure > drawnOver:
		return false
	}
	d.measure = m.Index
	return true
}
