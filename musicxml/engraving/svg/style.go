package svg

import (
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/fonts"
)

// Style is the style sheet of the drawings: everything has the colour of the
// text around it, so that pages choose light or dark; a file by itself and paper are black
// on white.
const Style = `svg.music{display:block;max-width:100%;height:auto;fill:currentColor;break-inside:avoid}` +
	`svg.sheet{color-scheme:only light;background:#fff;color:#000;fill:currentColor}` +
	`.music text{font-family:"Times New Roman","Liberation Serif","Nimbus Roman",Tinos,Times,serif;font-kerning:none;font-size:17.5px;stroke:none}` +
	`.music .lines,.music .ledger,.music .stem,.music .barline,.music .fence,.music .stroke,.music .dash{fill:none;stroke:currentColor}` +
	`.music .lines{stroke-width:.9}.music .ledger{stroke-width:1.3}.music .stem{stroke-width:1.2}` +
	`.music .barline{stroke-width:1.6}.music .thick{stroke-width:5}.music .fence,.music .stroke{stroke-width:1.1}.music .dash{stroke-width:1.1;stroke-dasharray:6 4}` +
	`.music .dashed{stroke-dasharray:5 4}.music .dotted{stroke-dasharray:1 4}` +
	`.music .lyric{font-size:17px}.music .harmony{font-size:19px;font-weight:700}.music .words{font-style:italic}` +
	`.music .tempo{font-size:19px;font-weight:700}.music .rehearsal{font-size:20px;font-weight:700}` +
	`.music .number{font-size:13px;font-style:italic}.music .figure{font-size:15px}.music .tuplet{font-size:14.5px;font-style:italic;font-weight:700}` +
	`.music .name{font-size:18px}.music .octave{font-size:14px;font-weight:700}.music .bracket{font-size:30px}.music .under{font-size:15px}` +
	`.music .ending{font-size:15px}.music .fret{font-size:12.5px;font-weight:700;paint-order:stroke;stroke:Canvas;stroke-width:4px}.music .count{font-size:22px;font-weight:700}.music .finger{font-size:13px}` +
	`.music.large .lines{stroke-width:1.3}.music.large .stem{stroke-width:1.7}.music.large .barline{stroke-width:2}.music.large .thick{stroke-width:6}.music.large .ledger{stroke-width:1.7}` +
	`@media print{svg.music,svg.sheet{color:#000}}`

// classes are the names under which the style sheet knows the roles. Roles that
// look like the text or the signs around them have none.
var classes = map[display.Role]string{
	display.RoleClef: "clef", display.RoleKey: "key", display.RoleTime: "time", display.RoleRestCount: "rests",
	display.RoleStaffLine: "lines", display.RoleLedger: "ledger", display.RoleRestLedger: "ledger", display.RoleStem: "stem",
	display.RoleBeam: "beam", display.RoleTremolo: "beam", display.RoleMultiRest: "beam",
	display.RoleBarline: "barline", display.RoleThickBarline: "barline thick", display.RoleDashedBarline: "barline dashed",
	display.RoleDottedBarline: "barline dotted", display.RoleSystemLine: "barline", display.RoleBracket: "barline thick",
	display.RoleBracketTip: "fence", display.RoleStaffName: "name", display.RoleHeadFence: "fence", display.RoleFret: "fret",
	display.RoleAccidentalFence: "fence", display.RoleTie: "tie", display.RoleSlur: "slur", display.RoleGlissando: "stroke",
	display.RoleArpeggio: "stroke", display.RoleAuxiliary: "auxiliary", display.RoleFingering: "finger", display.RoleTuplet: "tuplet",
	display.RoleTupletBracket: "stroke", display.RoleHairpin: "stroke", display.RoleDynamic: "words", display.RoleDashes: "dash",
	display.RoleOctave: "words", display.RoleOctaveLine: "dash", display.RoleOctaveHook: "stroke", display.RoleTrillLine: "stroke",
	display.RolePedalLine: "stroke", display.RoleEnding: "ending", display.RoleEndingLine: "stroke", display.RoleBarNumber: "number",
	display.RoleWords: "words", display.RoleTempo: "tempo", display.RoleTempoNote: "mark", display.RoleTempoStem: "stem",
	display.RoleRehearsal: "rehearsal", display.RoleRehearsalBox: "stroke", display.RoleHarmony: "harmony", display.RoleFigure: "figure",
	display.RoleLyric: "lyric", display.RoleHyphen: "stroke", display.RoleExtender: "stroke", display.RoleNoteText: "under",
	display.RoleDiagram: "stroke", display.RoleDiagramFill: "beam", display.RoleFall: "stroke", display.RoleBracketLine: "stroke",
	display.RoleClefOctave: "octave", display.RoleTimeFence: "bracket",
}

// signClass is the class of a sign: of letters among signs, only the role of the
// letters has one.
func signClass(role display.Role) string {
	switch role {
	case display.RoleAuxiliary, display.RoleTempoNote:
		return classes[role]
	}
	return ""
}

// faces are the faces that the style sheet gives the letters of a role; those that
// are not here are upright and light.
var faces = map[display.Role]fonts.Face{
	display.RoleWords: fonts.Italic, display.RoleDynamic: fonts.Italic, display.RoleOctave: fonts.Italic, display.RoleBarNumber: fonts.Italic,
	display.RoleTempo: fonts.Bold, display.RoleHarmony: fonts.Bold, display.RoleRehearsal: fonts.Bold, display.RoleClefOctave: fonts.Bold,
	display.RoleFret: fonts.Bold, display.RoleTuplet: fonts.BoldItalic,
}

// faceStyles are the styles of letters in another face than their role's.
var faceStyles = map[fonts.Face]string{
	fonts.Regular: "font-style:normal;font-weight:400", fonts.Italic: "font-style:italic;font-weight:400",
	fonts.Bold: "font-style:normal;font-weight:700", fonts.BoldItalic: "font-style:italic;font-weight:700",
}
