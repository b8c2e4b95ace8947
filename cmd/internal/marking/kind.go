package marking

// Kind is what a mistake is about (the contract's words).
type Kind string

// The kinds of mistakes.
const (
	WrongDirection Kind = "wrong-direction"
	WrongInterval  Kind = "wrong-interval"
	WrongOctave    Kind = "wrong-octave"
	WrongClef      Kind = "wrong-clef"
	KeySignature   Kind = "key-signature"
	Accidental     Kind = "accidental"
	Spelling       Kind = "spelling"
	Rhythm         Kind = "rhythm"
	Missing        Kind = "missing"
	Extra          Kind = "extra"
	// ChordKind is the name of a chord, in sheets that ask for it.
	ChordKind Kind = "chord"
)

// Kinds lists them in the order of reports.
var Kinds = []Kind{WrongDirection, WrongInterval, WrongOctave, WrongClef, KeySignature, Accidental, Spelling, Rhythm, Missing, Extra, ChordKind}

// Rule names what a learner should read again: a kind of mistake as a teacher tells
// them apart. Each has its words in the table of the pages.
type Rule string

// The rules.
const (
	RuleCopied            Rule = "copied"
	RuleDirection         Rule = "direction"
	RuleInterval          Rule = "interval"
	RuleOctave            Rule = "octave"
	RuleClef              Rule = "clef"
	RuleSignatureMissing  Rule = "signature-missing"
	RuleSignatureUnmoved  Rule = "signature-unmoved"
	RuleSignatureOpposite Rule = "signature-opposite"
	RuleSignatureMode     Rule = "signature-mode"
	RuleSignatureWrong    Rule = "signature-wrong"
	RuleSignatureSurplus  Rule = "signature-surplus"
	RuleSignatureChange   Rule = "signature-change"
	RuleAccidentalCopied  Rule = "accidental-copied"
	RuleAccidentalMissing Rule = "accidental-missing"
	RuleAccidentalSurplus Rule = "accidental-surplus"
	RuleAccidentalHolds   Rule = "accidental-holds"
	RuleAccidentalWrong   Rule = "accidental-wrong"
	RuleSpelling          Rule = "spelling"
	RuleNote              Rule = "note"
	RuleRhythm            Rule = "rhythm"
	RuleTie               Rule = "tie"
	RuleRest              Rule = "rest"
	RuleNotesMissing      Rule = "notes-missing"
	RuleBarsMissing       Rule = "bars-missing"
	RuleNotesExtra        Rule = "notes-extra"
	RuleBarsExtra         Rule = "bars-extra"
	RuleBarsSwapped       Rule = "bars-swapped"
	RuleChord             Rule = "chord"
	RuleStavesMissing     Rule = "staves-missing"
)

// Rules lists them, the weightier first.
var Rules = []Rule{RuleCopied, RuleDirection, RuleInterval, RuleOctave, RuleClef, RuleSignatureMissing, RuleSignatureUnmoved, RuleSignatureOpposite,
	RuleSignatureMode, RuleSignatureWrong, RuleSignatureSurplus, RuleSignatureChange, RuleAccidentalCopied, RuleAccidentalMissing, RuleAccidentalSurplus,
	RuleAccidentalHolds, RuleAccidentalWrong, RuleSpelling, RuleNote, RuleRhythm, RuleTie, RuleRest, RuleNotesMissing, RuleBarsMissing, RuleNotesExtra, RuleBarsExtra, RuleBarsSwapped, RuleChord, RuleStavesMissing}
