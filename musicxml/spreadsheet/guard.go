package spreadsheet

import (
	"regexp"
	"strings"
)

// Characters that begin a formula, as OWASP's page "CSV Injection" lists them, with
// their full-width forms, which some spreadsheets take for the same. Spaces before them
// do not always stop a spreadsheet, and apostrophes are counted in, so that every guard
// can be taken off again.
const formula = `[ \x{a0}']*[=+\-@＝＋－＠]`

// A spreadsheet may take a semicolon or a tab for the end of a cell where the table has
// commas: what follows one is guarded, too.
var (
	begins      = regexp.MustCompile(`^(?:` + formula + `|'*[\t\r\n])`)
	inside      = regexp.MustCompile(`([;\t\r\n])(` + formula + `)`)
	guarded     = regexp.MustCompile(`^'(?:` + formula + `|'*[\t\r\n])`)
	guardedIn   = regexp.MustCompile(`([;\t\r\n])'(` + formula + `)`)
	plainNumber = regexp.MustCompile(`^[+-]?\d+(?:[.,]\d+)?$`)
)

// Guard is a text as a cell that no spreadsheet runs. A number stays what it is.
func Guard(text string) string {
	if !strings.ContainsAny(text, "=+-@＝＋－＠\t\r\n") || plainNumber.MatchString(text) {
		return text
	}
	mark := ""
	if begins.MatchString(text) {
		mark = "'"
	}
	return mark + inside.ReplaceAllString(text, "$1'$2")
}

// Plain is what a cell meant before it was guarded.
func Plain(cell string) string {
	if !strings.Contains(cell, "'") {
		return cell
	}
	if guarded.MatchString(cell) {
		cell = cell[1:]
	}
	return guardedIn.ReplaceAllString(cell, "$1$2")
}
