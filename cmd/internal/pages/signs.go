package pages

import (
	"strings"

	"deskpart/transpose/pitch"
)

// signs are the accidentals as print has them.
var signs = strings.NewReplacer("##", "𝄪", "#", "♯", "bb", "𝄫", "b", "♭")

// PrettyName puts the signs of print into the name of a note or key: "F♯", "B♭".
func PrettyName(name string) string {
	if name == "" {
		return ""
	}
	return name[:1] + signs.Replace(name[1:])
}

// Pretty writes a pitch's name as print has it, without its octave: "F♯", "B♭".
func Pretty(p pitch.Pitch) string {
	return PrettyName(strings.TrimRight(p.String(), "-0123456789"))
}

// PrettyPitch is Pretty with the octave.
func PrettyPitch(p pitch.Pitch) string {
	name := p.String()
	return Pretty(p) + name[len(strings.TrimRight(name, "-0123456789")):]
}

var pitchWord = strings.NewReplacer("F#", "F♯", "C#", "C♯", "G#", "G♯", "D#", "D♯", "A#", "A♯", "E#", "E♯", "B#", "B♯",
	"Bb", "B♭", "Eb", "E♭", "Ab", "A♭", "Db", "D♭", "Gb", "G♭", "Cb", "C♭", "Fb", "F♭")

// PrettyText puts the signs of print into a sentence of an explanation.
func PrettyText(text string) string {
	text = pitchWord.Replace(text)
	return strings.NewReplacer("♯#", "𝄪", "♭b", "𝄫").Replace(text)
}
