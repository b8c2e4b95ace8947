package proof

import (
	"fmt"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
)

// partWriter writes the section of one part.
type partWriter struct {
	*pageWriter
	part *Part
	n    int    // place among the parts, from 1
	id   string // in links: "p5"
}

func (w partWriter) section() {
	w.writef("<section class=\"part\" id=\"%s\" aria-labelledby=\"%s-name\">\n<header><%s id=\"%s-name\">%s</%s> %s</header>\n",
		w.id, w.id, w.head(2), w.id, esc(w.part.heading()), w.head(2), tick(w.n, "looked at", ""))
	w.origin()
	if w.part.Failure != "" {
		w.writef("<p class=\"bad\"><strong>This part could not be made.</strong> %s</p>\n", esc(w.part.Failure))
	} else {
		w.opening()
		w.wholePart()
	}
	w.warnings()
	w.rangePlot()
	w.write("<div class=\"facts\">\n")
	w.keys()
	w.verdict()
	w.write("</div>\n")
	w.write("<p class=\"screen back\"><a href=\"#top\">All parts</a></p>\n</section>\n")
}

// heading is the part's number and name.
func (p *Part) heading() string { return fmt.Sprintf("%d %s", p.Number, p.Label) }

// heading heads a piece of the section.
func (w partWriter) heading(words string) string {
	return fmt.Sprintf("<%[1]s>%[2]s</%[1]s>", w.head(3), words)
}

// origin says where the part comes from and how it is written.
func (w partWriter) origin() {
	name := ""
	switch {
	case len(w.part.Staves) > 0:
		name = fmt.Sprintf("one player, with the staves %s; ", esc(quoted(w.part.Staves)))
	case w.part.Name != "" && w.part.Name != w.part.Label:
		name = fmt.Sprintf("“%s” in the score, ", esc(w.part.Name))
	}
	facts := []string{name + recognisedWords(w.part.RecognisedBy, w.part.Assumed)}
	if w.part.Failure == "" {
		facts = append(facts, w.part.Sounds, notice.Counted(w.part.Bars, "bar", "bars"), noneOr(notice.Counted(w.part.Notes, "pitched note", "pitched notes")))
	}
	w.writef("<p class=\"soft origin\">%s.</p>\n", texts.UpperFirst(strings.Join(facts, "; ")))
}

// quoted lists names: “Flute 2” and “Piccolo”.
func quoted(names []string) string {
	var list []string
	for _, name := range names {
		list = append(list, "“"+name+"”")
	}
	last := len(list) - 1
	return strings.Join(list[:last], ", ") + " and " + list[last]
}

func (w partWriter) opening() {
	o := w.part.Opening
	switch {
	case w.part.Tacet:
		w.write("<p>Tacet: the part is silent from start to end.</p>\n")
		return
	case o.figure == "":
		return
	}
	what, bars := "Opening", fmt.Sprintf("bars %s to %s", o.First, o.Last)
	if o.First == o.Last {
		bars = "bar " + o.First
	}
	if o.Entry {
		what = "First entry"
	}
	pitch := "sounding pitch above, written pitch below"
	if !o.Both {
		pitch = "sounding and written pitch are the same"
	}
	w.writef("<%s>%s, %s: %s</%s>\n<div class=\"scroll\">\n%s</div>\n", w.head(3), what, esc(bars), pitch, w.head(3), o.figure)
}

// wholePart holds the place of the part drawn whole.
func (w partWriter) wholePart() {
	if w.part.lines == 0 {
		return
	}
	w.writef(`<details class="whole" id="%s-whole" data-movement="%d" data-spots="%s"><summary>The whole part as its player reads it, %s</summary>
<form class="go screen"><label>Go to bar <input type="text" size="5" autocomplete="off"></label> <button>Go</button></form>
<noscript><p>A script draws the whole part, and this browser runs none.</p></noscript>
<div class="drawn scroll"></div>
</details>
`, w.id, max(1, w.part.Movement), w.spots(), notice.Counted(w.part.lines, "line", "lines"))
}
