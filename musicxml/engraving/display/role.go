package display

// Role is what an item is on the page. Writers choose a look by it where their
// format has styles, and collisions are counted by it.
type Role uint8

// The roles. RoleBar to RoleRestCount are also roles of groups.
const (
	NoRole Role = iota
	RoleBar
	RoleClef
	RoleKey
	RoleTime
	RoleRestCount // the number over a multi-bar rest
	RoleStaffLine
	RoleLedger
	RoleRestLedger // the line that carries a half or whole rest outside the staff
	RoleStem
	RoleBeam
	RoleTremolo
	RoleMultiRest
	RoleBarline
	RoleThickBarline
	RoleDashedBarline
	RoleDottedBarline
	RoleRepeatDot
	RoleSystemLine // joins the staves at the left
	RoleBracket
	RoleBracketTip
	RoleBrace
	RoleStaffName
	RoleHead
	RoleHeadFence // parentheses around a head
	RoleFret
	RoleAccidental
	RoleAccidentalFence
	RoleDot
	RoleFlag
	RoleRest
	RoleTie
	RoleSlur
	RoleGlissando
	RoleArpeggio
	RoleArticulation
	RoleAuxiliary // an accidental over or under an ornament
	RoleFingering
	RoleTuplet
	RoleTupletBracket
	RoleHairpin
	RoleDynamic
	RoleDashes
	RoleOctave
	RoleOctaveLine
	RoleOctaveHook
	RoleTrillLine
	RolePedal
	RolePedalLine
	RoleEnding
	RoleEndingLine
	RoleBarNumber
	RoleWords
	RoleTempo
	RoleTempoNote // the note of a metronome mark
	RoleTempoStem
	RoleRehearsal
	RoleRehearsalBox
	RoleNavigation  // segno, coda
	RoleBarlineSign // a fermata and the like over a barline
	RoleHarmony
	RoleFigure
	RoleLyric
	RoleHyphen
	RoleExtender
	RoleDiagram // harp pedals, chord frames
	RoleDiagramFill
	RoleFall      // a line into a note or away from it
	RoleBarRepeat // a sign for bars that are played again
	RoleBracketLine
	RoleNoteText   // under the staff, on pages of lessons
	RoleClefOctave // a figure at a clef
	RoleTimeFence  // parentheses around a second time signature
)
