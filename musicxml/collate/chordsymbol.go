package collate

import (
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// soundingLetter returns the pitch class of a chord symbol's root or bass, moved
// to sounding pitch: 0 is C. A text that is no letter stands for itself.
func soundingLetter(e *etree.Element, by int) string {
	text := musicxml.ChildText(e, e.Tag+"-step")
	step, err := pitch.ParseStep(text)
	if err != nil {
		return text
	}
	alter, _ := strconv.Atoi(musicxml.ChildText(e, e.Tag+"-alter"))
	sounding := pitch.Pitch{Step: step, Octave: 4}.NoteNumber() + alter + by
	return strconv.Itoa(sounding - 12*pitch.FloorDiv(sounding, 12))
}

// chordText writes a chord symbol as plainly as it can be: "Bb major-seventh / D".
func chordText(e *etree.Element) string {
	var words []string
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "root":
			words = append(words, letterText(c))
		case "kind":
			if text := musicxml.Attr(c, "text"); text != "" {
				words = append(words, text)
			} else if text := musicxml.Text(c); text != "none" {
				words = append(words, text)
			}
		case "bass":
			words = append(words, "/ "+letterText(c))
		}
	}
	return strings.Clone(strings.Join(words, " "))
}

func letterText(e *etree.Element) string {
	alter, _ := strconv.Atoi(musicxml.ChildText(e, e.Tag+"-alter"))
	const most = 4 // signs
	return musicxml.ChildText(e, e.Tag+"-step") + strings.Repeat("#", min(max(alter, 0), most)) + strings.Repeat("b", min(max(-alter, 0), most))
}
