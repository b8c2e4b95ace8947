package main

import "fmt"

// texts says what a text tool reads for signs that are not one symbol of the
// music font at its own meaning: the character of The Unicode Standard, Musical
// Symbols (U+1D100 to U+1D1FF) or Miscellaneous Symbols (U+266D to U+266F), or
// where there is none the nearest characters.
var texts = map[string]string{
	"clef-percussion": "\U0001D125", "clef-tab": "TAB",
	"numeral-plus": "+", "stopped": "+",
	"head-slashed": "\U0001D158/", "head-slashed-half": "\U0001D157/", "head-back-slashed": "\U0001D158\\", "head-back-slashed-half": "\U0001D157\\",
	"head-arrow-up": "▲", "head-arrow-down": "▼",
	"head-slash": "/", "head-slash-half": "/",
	"rest-long": "\U0001D13A", "rest-breve": "\U0001D13A", "rest-whole": "\U0001D13B", "rest-half": "\U0001D13C",
	"fermata-angled-above": "\U0001D110", "fermata-angled-below": "\U0001D111", "fermata-square-above": "\U0001D110", "fermata-square-below": "\U0001D111",
	"falloff": "\U0001D185", "scoop": "\U0001D186", "up-bow": "\U0001D1AB", "thumb-position": "ϙ", "heel": "∪", "toe": "∧", "hole-open": "○", "hole-closed": "●", "hole-half": "◐",
	"half-muted": "ø", "golpe": "□", "stress": "ˊ", "unstress": "˘", "soft-accent": "<>", "schleifer": "\U0001D19D", "breath-tick": "✓",
	"eyeglasses": "oo", "string-mute-on": "Ш", "string-mute-off": "П", "divide-down": "↓", "divide-up": "↑", "divide-both": "↕",
	"mordent": "\U0001D19D|\U0001D19C", "inverted-mordent": "\U0001D19D\U0001D19C",

	"sharp-sharp": "♯♯", "flat-flat": "\U0001D12B", "natural-sharp": "♮♯", "natural-flat": "♮♭",
	"triple-sharp": "♯\U0001D12A", "triple-flat": "♭\U0001D12B",
	"flat-up": "\U0001D12C", "flat-down": "\U0001D12D", "natural-up": "\U0001D12E", "natural-down": "\U0001D12F",
	"sharp-up": "\U0001D130", "sharp-down": "\U0001D131",
	"double-sharp-up": "\U0001D12A↑", "double-sharp-down": "\U0001D12A↓",
	"flat-flat-up": "\U0001D12B↑", "flat-flat-down": "\U0001D12B↓", "arrow-up": "↑", "arrow-down": "↓",
	"quarter-sharp": "\U0001D132", "quarter-flat": "\U0001D133", "three-quarters-sharp": "♯\U0001D132", "three-quarters-flat": "♭\U0001D133",
	"slash-quarter-sharp": "\U0001D132", "slash-sharp": "♯", "slash-flat": "♭", "double-slash-flat": "♭",
	"sori": "\U0001D132", "koron": "\U0001D133",
	"sharp-1": "♯1", "sharp-2": "♯2", "sharp-3": "♯3", "sharp-5": "♯5",
	"flat-1": "♭1", "flat-2": "♭2", "flat-3": "♭3", "flat-4": "♭4",
}

// text is what a text tool reads for the glyph.
func (r recipe) text() (string, error) {
	if t, ok := texts[r.name]; ok {
		return t, nil
	}
	if len(r.parts) != 1 || r.parts[0].points != nil {
		return "", fmt.Errorf("what a text tool reads for it stands nowhere; add it to unicode.go")
	}
	return string(r.parts[0].symbol), nil
}
