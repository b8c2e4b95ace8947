package collision

import "deskpart/musicxml/engraving/display"

// Class says in words what lies on what.
type Class string

// The classes.
const (
	TextOutside      Class = "text outside the line"
	SlurOnOwnStem    Class = "slur through the stem of its end note"
	DynamicOnDashes  Class = "dynamic on a dashed line"
	DynamicOnHairpin Class = "dynamic on a hairpin"
	HairpinOnLine    Class = "hairpin on hairpin or dashes"
	SignatureOnRest  Class = "signature or metre on a rest"
	DynamicOnWords   Class = "dynamic on words"
	WordsOnLine      Class = "words on dashes or hairpin"
	SlurOnNote       Class = "slur through head, accidental or inner stem"
	TextOnText       Class = "text on text"
	TextOnNote       Class = "text on a note or rest"
	DynamicOnNote    Class = "dynamic on a note or rest"
	LineOnNote       Class = "hairpin or dashes on a note or rest"
	TieOnNote        Class = "tie through head, accidental or stem"
	SignOnSign       Class = "articulation on articulation or note"
	SignOnText       Class = "articulation on text, dynamic or hairpin"
	BowOnText        Class = "slur or tie on text, dynamic or hairpin"
	BracketOnInk     Class = "bracket, octave or trill line on other ink"
	NoteOnNote       Class = "head, accidental, dot or beam on another"
)

// kind gathers roles that collide alike.
type kind uint8

const (
	other kind = iota
	head
	accidental
	stem
	beam
	smallNote // flags and dots
	rest
	signature
	slur
	tie
	articulation
	dynamic
	words
	text // any other text
	hairpin
	dashes
	bracket
)

var kinds = map[display.Role]kind{
	display.RoleHead: head, display.RoleFret: head, display.RoleAccidental: accidental, display.RoleAccidentalFence: accidental, display.RoleHeadFence: accidental,
	display.RoleStem: stem, display.RoleBeam: beam, display.RoleTremolo: beam, display.RoleFlag: smallNote, display.RoleDot: smallNote,
	display.RoleRest: rest, display.RoleMultiRest: rest, display.RoleKey: signature, display.RoleTime: signature,
	display.RoleSlur: slur, display.RoleTie: tie, display.RoleArticulation: articulation, display.RoleAuxiliary: articulation,
	display.RoleDynamic: dynamic, display.RoleWords: words, display.RoleTempo: words, display.RoleTempoNote: words,
	display.RoleFingering: text, display.RoleTuplet: text, display.RoleOctave: text, display.RoleEnding: text, display.RoleBarNumber: text,
	display.RoleRehearsal: text, display.RoleHarmony: text, display.RoleFigure: text, display.RoleLyric: text, display.RoleNoteText: text,
	display.RoleRestCount: text, display.RoleNavigation: text, display.RoleBarlineSign: text, display.RolePedal: text,
	display.RoleHairpin: hairpin, display.RoleDashes: dashes,
	display.RoleTupletBracket: bracket, display.RoleOctaveLine: bracket, display.RoleTrillLine: bracket, display.RoleEndingLine: bracket, display.RolePedalLine: bracket,
}

func (k kind) note() bool { return k >= head && k <= rest }

func (k kind) letters() bool { return k == words || k == text }

// class is what it is called when ink of the two kinds meets; false where that is
// no fault.
func class(a, b kind) (Class, bool) {
	if a > b {
		a, b = b, a
	}
	switch {
	case b == hairpin && a == dynamic:
		return DynamicOnHairpin, true
	case b == dashes && a == dynamic:
		return DynamicOnDashes, true
	case (a == hairpin || a == dashes) && (b == hairpin || b == dashes):
		return HairpinOnLine, a == hairpin
	case a == dynamic && b == words:
		return DynamicOnWords, true
	case a.letters() && (b == hairpin || b == dashes):
		return WordsOnLine, true
	case a == rest && b == signature:
		return SignatureOnRest, true
	case a == dynamic && b == text, a.letters() && b.letters(), a == dynamic && b == dynamic:
		return TextOnText, true
	case a.note() && b == slur:
		return SlurOnNote, a != smallNote && a != beam && a != rest
	case a.note() && b == tie:
		return TieOnNote, a != beam && a != rest
	case a.note() && b == dynamic:
		return DynamicOnNote, true
	case a.note() && b.letters():
		return TextOnNote, true
	case a.note() && (b == hairpin || b == dashes):
		return LineOnNote, true
	case a.note() && b == articulation, a == articulation && b == articulation:
		return SignOnSign, true
	case a == articulation && b > articulation:
		return SignOnText, b != bracket
	case (a == slur || a == tie) && b > articulation:
		return BowOnText, b != bracket
	case b == bracket && a > other:
		return BracketOnInk, a != slur && a != tie
	case a.note() && b.note():
		return NoteOnNote, clash(a, b)
	}
	return "", false
}

// clash tells which parts of notes may not lie over one another: stems and beams
// touch heads by their nature.
func clash(a, b kind) bool {
	switch {
	case a == head && b == head, a == stem, b == stem, a == smallNote && b == smallNote:
		return false
	case a == head:
		return true
	case a == accidental && b == accidental:
		return false // nested signs, see the engraver's own test
	}
	return a == accidental || b == rest
}
