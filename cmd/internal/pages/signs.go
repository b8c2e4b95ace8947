package pages

import "strings"

var pitchWord = strings.NewReplacer("F#", "F♯", "C#", "C♯", "G#", "G♯", "D#", "D♯", "A#", "A♯", "E#", "E♯", "B#", "B♯",
	"Bb", "B♭", "Eb", "E♭", "Ab", "A♭", "Db", "D♭", "Gb", "G♭", "Cb", "C♭", "Fb", "F♭")

// PrettyText puts the signs of print into a sentence of an explanation.
func PrettyText(text string) string {
	text = pitchWord.Replace(text)
	return strings.NewReplacer("♯#", "𝄪", "♭b", "𝄫").Replace(text)
}
