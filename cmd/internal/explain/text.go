package explain

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"deskpart/transpose/words"
)

// textWidth is the length of a line of text on a terminal.
const textWidth = 80

// WriteText writes the explanation for a terminal or a printer.
func (e *Explanation) WriteText(w io.Writer) error {
	var out bytes.Buffer
	out.WriteString(e.Title() + "\n")
	about := ""
	for _, s := range e.Steps {
		if s.About != about {
			about = s.About
			fmt.Fprintf(&out, "\n%s\n", e.t.Pick("about", about))
		}
		switch s.About {
		case AboutNote:
			pair := e.paths[s.Note-1].pair
			WriteHanging(&out, fmt.Sprintf("%4d  %-6s -> %-6s  ", s.Note, e.t.Pitch(pair.From), e.t.Pitch(pair.To)), s.Text)
		case AboutAccidental:
			WriteHanging(&out, fmt.Sprintf("%4d  ", s.Note), s.Text)
		default:
			WriteHanging(&out, "  ", s.Text)
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}

// WriteHanging writes a paragraph whose later lines stand under the first word.
func WriteHanging(out *bytes.Buffer, head, text string) {
	width := utf8.RuneCountInString(head)
	indent := strings.Repeat(" ", width)
	out.WriteString(head)
	for i, word := range words.Fields(text) {
		if i > 0 && width+1+utf8.RuneCountInString(word) > textWidth {
			out.WriteString("\n" + indent)
			width = len(indent) // of spaces
		} else if i > 0 {
			out.WriteByte(' ')
			width++
		}
		out.WriteString(word)
		width += utf8.RuneCountInString(word)
	}
	out.WriteByte('\n')
}
