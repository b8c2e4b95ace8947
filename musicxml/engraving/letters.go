package engraving

import (
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// The sizes of text in staff spaces.
const (
	lyricSize     = 1.7
	harmonySize   = 1.9
	wordsSize     = 1.75
	tempoSize     = 1.9
	rehearsalSize = 2.0
	numberSize    = 1.3
	figureSize    = 1.5
	fretSize      = 1.25 // so that frets on neighbouring strings stand clear of each other
	tupletSize    = 1.45
	nameSize      = 1.8
	noteTextSize  = 1.5
	endingSize    = 1.5
	octaveSize    = 1.4
	fenceSize     = 3.0
)

// letters are the type of a kind of text.
type letters struct {
	face fonts.Face
	size float64
	// halo breaks lines behind the letters.
	halo float64
}

// lettersOf has the type of every role that is text.
var lettersOf = map[display.Role]letters{
	display.RoleLyric: {face: fonts.Regular, size: lyricSize}, display.RoleHarmony: {face: fonts.Bold, size: harmonySize},
	display.RoleWords: {face: fonts.Italic, size: wordsSize}, display.RoleDynamic: {face: fonts.Italic, size: wordsSize},
	display.RoleOctave: {face: fonts.Italic, size: wordsSize}, display.RoleTempo: {face: fonts.Bold, size: tempoSize},
	display.RoleRehearsal: {face: fonts.Bold, size: rehearsalSize}, display.RoleBarNumber: {face: fonts.Italic, size: numberSize},
	display.RoleFigure: {face: fonts.Regular, size: figureSize}, display.RoleTuplet: {face: fonts.BoldItalic, size: tupletSize},
	display.RoleStaffName: {face: fonts.Regular, size: nameSize}, display.RoleNoteText: {face: fonts.Regular, size: noteTextSize},
	display.RoleEnding: {face: fonts.Regular, size: endingSize}, display.RoleFingering: {face: fonts.Regular, size: numberSize},
	display.RoleFret: {face: fonts.Bold, size: fretSize, halo: 0.2}, display.RoleClefOctave: {face: fonts.Bold, size: octaveSize},
	display.RoleTimeFence: {face: fonts.Regular, size: fenceSize},
}

// textWidth is how wide a text is in the letters of a role.
func textWidth(role display.Role, text string) float64 {
	l := lettersOf[role]
	return l.face.Width(text) * l.size
}
