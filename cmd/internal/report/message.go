package report

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// program begins every message.
const program = "deskpart: "

// Message is the one line on standard error that says text: the program's name,
// then the text with everything made visible that could break the line or
// disturb a terminal (file and part names come from outside).
func Message(text string) string {
	return program + Visible(strings.TrimRight(text, "\n")) + "\n"
}

// Visible writes control characters, line separators, marks that change the
// direction of writing, and bytes that are no UTF-8 as Go escapes (\n, \x1b,
// \u202e). All else stays as it is.
func Visible(text string) string {
	if strings.IndexFunc(text, hidden) < 0 {
		return text
	}
	var b strings.Builder
	for i, width := 0, 0; i < len(text); i += width {
		var r rune
		r, width = utf8.DecodeRuneInString(text[i:])
		piece := text[i : i+width]
		if hidden(r) && piece != "\uFFFD" {
			piece = strings.Trim(strconv.QuoteToASCII(piece), `"`)
		}
		b.WriteString(piece)
	}
	return b.String()
}

// hidden also holds for U+FFFD, which stands for a byte that is no UTF-8.
func hidden(r rune) bool {
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || r == utf8.RuneError
}
