package exercise

import (
	"fmt"
	"html"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/pages"
	"deskpart/transpose/pitch"
)

// heading names the instrument and the direction.
func (e *Exercise) heading() string {
	if e.From == explain.Written {
		return "From " + e.Name() + " to sounding pitch"
	}
	return "For " + e.Name()
}

// asks is the question in words; it tells as much of the move as the level does.
func (e *Exercise) asks() string {
	clef, _ := explain.ClefOf(e.Answer)
	name := "the " + explain.InSentence(e.Name())
	text := fmt.Sprintf("This is how it is to sound. Write it for %s, in the %s clef.", name, explain.ClefName(clef))
	if e.From == explain.Written {
		text = fmt.Sprintf("This is what %s reads. Write what sounds, in the %s clef.", name, explain.ClefName(clef))
	}
	if e.WithoutSignature {
		text += " Write no key signature; put every accidental at its note."
	} else if e.asksSignature() {
		text += " Write the new key signature, too."
	}
	return html.EscapeString(text + e.hint())
}

// hint tells the interval, or the direction alone, or nothing.
func (e *Exercise) hint() string {
	i := e.Transposition().Interval()
	if e.Level.Shown == ShowsNothing || i.Chromatic == 0 {
		return ""
	}
	if e.Level.Shown == ShowsInterval {
		return " It " + e.SoundsText() + "."
	}
	if i.Chromatic < 0 {
		return " It sounds lower than written."
	}
	return " It sounds higher than written."
}

// marks are the boxes for the teacher: signature if it changes, clef if it is not
// printed, notes.
func (e *Exercise) marks(s Sheet) string {
	var boxes []string
	box := func(what string, of int) {
		boxes = append(boxes, fmt.Sprintf(`<span>%s <span class="box">/ %d</span></span>`, what, of))
	}
	if e.asksSignature() {
		box("Key signature", 1)
	}
	if s.Settings.WithoutClefs {
		box("Clef", 1)
	}
	box("Notes", len(e.Pairs))
	return strings.Join(boxes, "\n")
}

// remarks say what to look for in an answer.
func (e *Exercise) remarks() string {
	var items []string
	if given, ok := explain.KeyOf(e.Given); ok && !e.WithoutSignature {
		answer := pitch.Key{Fifths: e.Facts.Answer, Mode: given.Mode}
		if e.Source != "" {
			answer.Fifths = given.Fifths + e.Moved.Fifths()
		}
		text := fmt.Sprintf("%s becomes %s: %s", given, answer, pitch.SignatureWords(answer.Fifths))
		if e.Respelled {
			text += ", the enharmonic twin"
		}
		items = append(items, text+".")
	}
	items = append(items, fmt.Sprintf("Each note moves %s.", e.movesText()))
	for _, p := range e.Pairs {
		if p.FromSign != "" && p.ToSign != "" && p.From.Alter != p.To.Alter && e.changes(p) {
			items = append(items, fmt.Sprintf("Bar %s, beat %s: %s becomes %s; the kind of sign changes.", p.Measure, p.Beat, explain.Plainly(p.From), explain.Plainly(p.To)))
		}
	}
	var b strings.Builder
	b.WriteString("<ul class=\"soft\">")
	for _, text := range items {
		b.WriteString("<li>" + html.EscapeString(pages.PrettyText(text)) + "</li>")
	}
	b.WriteString("</ul>\n")
	return b.String()
}

// changes reports whether the accidental at a note changes its kind because of
// the signatures.
func (e *Exercise) changes(p explain.Pair) bool {
	return p.Raised() != 0 && p.Raised() == p.RaisedInAnswer()
}

func (e *Exercise) movesText() string {
	if e.Moved.Diatonic == 0 && e.Moved.Chromatic == 0 {
		return "nowhere"
	}
	return explain.WithArticle(e.Moved.String())
}
