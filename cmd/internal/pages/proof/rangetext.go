package proof

import (
	"fmt"
	"strings"

	"deskpart/instruments"
	"deskpart/musicxml/notice"
)

// rangePlot shows the notes against the instrument's range.
func (w partWriter) rangePlot() {
	r := w.part.Range
	if r == nil {
		return
	}
	players := "professional players"
	if r.Level == instruments.School {
		players = "young players"
	}
	bands := fmt.Sprintf("Comfortable from %s to %s, playable from %s to %s.",
		printed(r.ComfortableLow), printed(r.ComfortableHigh), printed(r.Low), printed(r.High))
	words := r.outermost(w) + " " + r.share()
	w.writef("%s\n<div class=\"scroll\">\n%s</div>\n<p>%s <span class=\"soft\">%s</span></p>\n", w.heading("Range of "+players+", as read"),
		newPlot(r, w.part.numbers).svg(w.id+"-plot", "The notes of "+w.part.heading()+" against the range", plain(words+" "+bands)), words, bands)
}

// outermost names the lowest and the highest note.
func (r *Range) outermost(w partWriter) string {
	if r.Notes == 0 {
		return ""
	}
	return fmt.Sprintf("Lowest note %s (%s), highest %s (%s).", printed(r.Lowest.Pitch), w.at(r.Lowest.Measure, r.Lowest.Beat),
		printed(r.Highest.Pitch), w.at(r.Highest.Measure, r.Highest.Beat))
}

// share says how many notes lie well.
func (r *Range) share() string {
	var words []string
	if r.Uncomfortable > 0 {
		words = append(words, notice.Counted(r.Uncomfortable, "note lies", "notes lie")+" outside the comfortable part")
	}
	if r.Beyond > 0 {
		words = append(words, fmt.Sprintf("<strong class=\"bad\">%s outside the range</strong>", notice.Counted(r.Beyond, "note lies", "notes lie")))
	}
	if len(words) == 0 {
		words = append(words, "All lie comfortably")
	}
	if r.Elsewhere > 0 {
		words = append(words, notice.Counted(r.Elsewhere, "note is", "notes are")+" for another instrument and not counted")
	}
	return strings.Join(words, "; ") + "."
}

// plain takes the links and emphasis out of a sentence.
func plain(text string) string {
	var out strings.Builder
	inside := false
	for _, r := range text {
		switch {
		case r == '<':
			inside = true
		case r == '>':
			inside = false
		case !inside:
			out.WriteRune(r)
		}
	}
	return out.String()
}

// compassWords are the lowest and highest note as read.
func (p *Part) compassWords() string {
	if p.Range == nil || p.Range.Notes == 0 {
		return "–"
	}
	return printed(p.Range.Lowest.Pitch) + " to " + printed(p.Range.Highest.Pitch)
}
