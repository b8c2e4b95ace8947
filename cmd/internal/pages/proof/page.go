package proof

import (
	"cmp"
	_ "embed"
	"encoding/json"
	"fmt"
	"html"
	"strconv"
	"strings"

	"deskpart/cmd/internal/pages"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/notice"
)

//go:embed proof.css
var style string

//go:embed proof.js
var script string

// Page makes the page. The same proof gives the same bytes.
func (p *Proof) Page() ([]byte, error) {
	w := pageWriter{Proof: p}
	w.write(`<main id="top">` + "\n")
	w.top()
	if len(p.Movements) > 0 {
		w.work()
	} else {
		w.overview()
		w.sections(p.Parts, 1)
	}
	w.write(`<p class="soft">Ranges are a guide; for young players their teacher decides.</p>` + "\n</main>\n")
	w.write(`<p id="status" class="spoken" role="status"></p>` + "\n")
	w.data()
	var drawings []*engraving.Drawing
	for _, part := range p.Parts {
		drawings = append(drawings, part.drawings...)
	}
	return pages.Page{Title: "Proof of the parts: " + w.title(), Style: style, Script: script, Drawings: drawings, Body: w.out.String()}.Bytes()
}

// pageWriter collects the body of the page.
type pageWriter struct {
	*Proof
	out strings.Builder
}

func (w *pageWriter) write(text string) { w.out.WriteString(text) }

func (w *pageWriter) writef(format string, args ...any) { fmt.Fprintf(&w.out, format, args...) }

func (w *pageWriter) title() string { return cmp.Or(w.Title, w.Score) }

// sections are those of parts, of which the first has a number.
func (w *pageWriter) sections(list []*Part, first int) {
	for i, part := range list {
		partWriter{pageWriter: w, part: part, n: first + i, id: fmt.Sprintf("p%d", first+i)}.section()
	}
}

// head is the element of a heading of that level, in a work one deeper.
func (w *pageWriter) head(level int) string {
	if len(w.Movements) > 0 {
		level++
	}
	return fmt.Sprintf("h%d", level)
}

func (w *pageWriter) top() {
	w.writef("<h1>%s</h1>\n<p class=\"soft\">The parts of %s, to look at before they are printed.</p>\n", esc(w.title()), esc(w.Score))
	if len(w.Movements) == 0 {
		w.writef("<p>%s.</p>\n", pitchWords(w.Pitch, w.Reason))
	}
	w.writef("<p>%s</p>\n", w.inShort())
}

// inShort says in a sentence what there is and what needs a person.
func (w *pageWriter) inShort() string {
	failed, warnings := 0, 0
	for _, part := range w.Parts {
		if part.NeedsPerson() {
			failed++
		}
		warnings += len(part.Warnings)
	}
	check := "all passed the check"
	switch {
	case failed == 0 && len(w.Parts) == 1:
		check = "it passed the check"
	case failed > 0:
		check = fmt.Sprintf("<strong class=\"bad\">%d did not pass the check</strong>", failed)
	}
	return fmt.Sprintf("%s: %s; %s.", notice.Counted(len(w.Parts), "part", "parts"), check, noneOr(notice.Counted(warnings, "warning", "warnings")))
}

func noneOr(counted string) string {
	return strings.TrimPrefix(strings.Replace(" "+counted, " 0 ", " no ", 1), " ")
}

// overview is the table of all parts, in which they can be ticked off, so that
// none is missing.
func (w *pageWriter) overview() {
	w.write("<nav aria-labelledby=\"overview\">\n<h2 id=\"overview\">All parts</h2>\n")
	w.table("overview", w.Parts, 1, true)
	w.drawing()
	w.write("</nav>\n")
}

// table lists parts, of which the first has a number, with boxes to tick them off.
func (w *pageWriter) table(labelled string, list []*Part, first int, ticks bool) {
	looked := ""
	if ticks {
		looked = `<th scope="col"><span class="spoken">Looked at</span></th>`
	}
	w.writef(`<div class="scroll" role="region" aria-labelledby="%s" tabindex="0">
<table class="overview" role="table"><thead><tr role="row">%s<th scope="col">Part</th><th scope="col">Sounds</th><th scope="col">Reads</th><th scope="col">Warnings</th><th scope="col">Check</th></tr></thead>
<tbody>
`, labelled, looked)
	for i, part := range list {
		box := ""
		if ticks {
			box = `<td role="cell">` + tick(first+i, "", part.heading()) + "</td>"
		}
		warnings := "–"
		if n := len(part.Warnings); n > 0 {
			warnings = strconv.Itoa(n)
		}
		w.writef(`<tr role="row">%s<th scope="row" role="rowheader"><a href="#p%d">%s</a></th><td role="cell" data-head="Sounds">%s</td><td role="cell" class="tight" data-head="Reads">%s</td><td role="cell" data-head="Warnings">%s</td><td role="cell" class="tight" data-head="Check">%s</td></tr>`+"\n",
			box, first+i, esc(part.heading()), inColumn(part.Sounds), part.compassWords(), warnings, part.verdictMark())
	}
	w.write("</tbody></table>\n</div>\n")
}

// drawing says how many parts were looked at, and draws them whole.
func (w *pageWriter) drawing() {
	w.write(`<p class="screen"><span id="ticked" hidden></span> <button type="button" data-draw="all">Draw all parts whole</button> <button type="button" data-draw="none">Fold them up</button></p>` + "\n")
}

// tick is a box to tick a part off, on the screen or on paper.
func tick(n int, words, spoken string) string {
	if words == "" {
		return fmt.Sprintf(`<input type="checkbox" data-tick="%d" aria-label="%s looked at">`, n, esc(spoken))
	}
	return fmt.Sprintf(`<label class="tick"><input type="checkbox" data-tick="%d"> %s</label>`, n, words)
}

// data are the whole parts, packed, and the numbers of the bars, movement by movement.
func (w *pageWriter) data() {
	numbers := make([][]string, max(1, len(w.Movements)))
	for i := range numbers {
		numbers[i] = []string{}
	}
	for _, part := range w.Parts {
		if of := &numbers[max(1, part.Movement)-1]; len(part.numbers) > len(*of) {
			*of = part.numbers
		}
	}
	list, _ := json.Marshal(numbers) // texts do not fail
	w.writef("<script type=\"application/json\" id=\"bars\">%s</script>\n", list)
	for i, part := range w.Parts {
		if part.whole != "" {
			w.writef("<script type=\"text/plain\" id=\"p%d-data\">%s</script>\n", i+1, part.whole)
		}
	}
}

func esc(text string) string { return html.EscapeString(text) }
