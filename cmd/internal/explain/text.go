package explain

import (
	"bytes"
	"fmt"
	"io"
	"strings"
)

// headings of the parts of an explanation.
var headings = map[string]string{AboutDirection: "Which way", AboutInterval: "Interval", AboutKey: "Key signature",
	AboutClef: "Clef", AboutOctave: "Octave", AboutNote: "Notes", AboutAccidental: "Accidentals", AboutRange: "Range"}

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
			fmt.Fprintf(&out, "\n%s\n", headings[about])
		}
		switch s.About {
		case AboutNote:
			writeHanging(&out, fmt.Sprintf("%4d  %-4s -> %-4s  ", s.Note, s.From, s.To), s.Text)
		case AboutAccidental:
			writeHanging(&out, fmt.Sprintf("%4d  ", s.Note), s.Text)
		default:
			writeHanging(&out, "  ", s.Text)
		}
	}
	_, err := w.Write(out.Bytes())
	return err
}

// writeHanging writes a paragraph whose later lines stand under the first word.
func writeHanging(out *bytes.Buffer, head, text string) {
	indent := strings.Repeat(" ", len(head))
	out.WriteString(head)
	width := len(head)
	for i, word := range strings.Fields(text) {
		if i > 0 && width+1+len(word) > textWidth {
			out.WriteString("\n" + indent)
			width = len(indent)
		} else if i > 0 {
			out.WriteByte(' ')
			width++
		}
		out.WriteString(word)
		width += len([]rune(word))
	}
	out.WriteByte('\n')
}
