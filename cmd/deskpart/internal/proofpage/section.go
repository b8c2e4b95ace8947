package proofpage

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"deskpart/cmd/deskpart/internal/lesson"
	"deskpart/cmd/deskpart/internal/verification"
	"deskpart/instruments"
)

// partWriter writes the section of one part.
type partWriter struct {
	*pageWriter
	*Part
	id string // in links: "p5"
}

func (w partWriter) section() {
	number, _ := strconv.Atoi(w.id[1:])
	w.writef("<section class=\"part\" id=\"%s\" aria-labelledby=\"%s-name\">\n<header><h2 id=\"%s-name\">%s</h2> %s</header>\n",
		w.id, w.id, w.id, esc(w.Part.heading()), tick(number, "looked at", ""))
	w.origin()
	if w.Failure != "" {
		w.writef("<p class=\"bad\"><strong>This part could not be made.</strong> %s</p>\n", esc(w.Failure))
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

// origin says where the part comes from and how it is written.
func (w partWriter) origin() {
	name := ""
	if w.Name != "" && w.Name != w.Label {
		name = fmt.Sprintf("“%s” in the score, ", esc(w.Name))
	}
	facts := []string{name + recognisedWords(w.RecognisedBy, w.Assumed)}
	if w.Failure == "" {
		facts = append(facts, w.Sounds, count(w.Bars, "bar", "bars"), noneOr(count(w.Notes, "pitched note", "pitched notes")))
	}
	w.writef("<p class=\"soft origin\">%s.</p>\n", upperFirst(strings.Join(facts, "; ")))
}

func upperFirst(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:]
}

func (w partWriter) opening() {
	o := w.Part.Opening
	switch {
	case w.Tacet:
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
	w.writef("<h3>%s, %s: %s</h3>\n<div class=\"scroll\">\n%s</div>\n", what, esc(bars), pitch, o.figure)
}

// wholePart holds the place of the part drawn whole.
func (w partWriter) wholePart() {
	if w.lines == 0 {
		return
	}
	w.writef(`<details class="whole" id="%s-whole" data-spots="%s"><summary>The whole part as its player reads it, %s</summary>
<form class="go screen"><label>Go to bar <input type="text" size="5" autocomplete="off"></label> <button>Go</button></form>
<noscript><p>A script draws the whole part, and this browser runs none.</p></noscript>
<div class="drawn scroll"></div>
</details>
`, w.id, w.spots(), count(w.lines, "line", "lines"))
}

// spots are the bars that something is said of, from 1.
func (w partWriter) spots() string {
	var bars []int
	for _, m := range w.Part.Warnings {
		bars = append(bars, w.bar(m.Measure))
	}
	for _, f := range append(slices.Clone(w.Part.Check.Found), w.Part.Check.Misread...) {
		bars = append(bars, w.bar(f.Measure))
	}
	slices.Sort(bars)
	var words []string
	for _, bar := range slices.Compact(bars) {
		if bar > 0 {
			words = append(words, strconv.Itoa(bar))
		}
	}
	return strings.Join(words, " ")
}

// bar is the place of a bar's number among the bars, from 1; 0 where it is none.
func (w partWriter) bar(number string) int {
	if number == "" {
		return 0
	}
	return slices.Index(w.numbers, number) + 1
}

// at is a place in the part, a link to the bar drawn where there is one.
func (w partWriter) at(measure, beat string) string {
	if measure == "" {
		return ""
	}
	words := "bar " + esc(measure)
	if beat != "" {
		words += ", beat " + esc(beat)
	}
	bar := w.bar(measure)
	if bar == 0 || w.lines == 0 {
		return words
	}
	return fmt.Sprintf(`<a href="#%s-b%d">%s</a>`, w.id, bar, words)
}

// atFirst is a place at the beginning of a line.
func atFirst(place string) string { return strings.Replace(place, "bar ", "Bar ", 1) }

// rangePlot shows the notes against the instrument's range.
func (w partWriter) rangePlot() {
	r := w.Part.Range
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
	w.writef("<h3>Range of %s, as read</h3>\n<div class=\"scroll\">\n%s</div>\n<p>%s <span class=\"soft\">%s</span></p>\n", players,
		newPlot(r, w.numbers).svg(w.id+"-plot", "The notes of "+w.Part.heading()+" against the range", plain(words+" "+bands)), words, bands)
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
		words = append(words, count(r.Uncomfortable, "note lies", "notes lie")+" outside the comfortable part")
	}
	if r.Beyond > 0 {
		words = append(words, fmt.Sprintf("<strong class=\"bad\">%s outside the range</strong>", count(r.Beyond, "note lies", "notes lie")))
	}
	if len(words) == 0 {
		words = append(words, "All lie comfortably")
	}
	if r.Elsewhere > 0 {
		words = append(words, count(r.Elsewhere, "note is", "notes are")+" for another instrument and not counted")
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

// keys lists the keys from bar to bar.
func (w partWriter) keys() {
	rows := w.Part.Keys
	if len(rows) == 0 {
		return
	}
	columns := []keyColumn{{"Sounding", func(k *KeyRow) string { return k.Sounding.words() }}, {"Written", func(k *KeyRow) string { return k.Written.words() }}}
	if !w.Part.Opening.Both && sameKeys(rows) {
		columns = []keyColumn{{"Sounding and written", columns[1].words}}
	}
	for i := range rows {
		if rows[i].Sounds != rows[0].Sounds {
			columns = append(columns, keyColumn{"Sounds", (*KeyRow).transpositionWords})
			break
		}
	}
	w.write("<div><h3>Keys</h3>\n<table class=\"keys\"><thead><tr><th scope=\"col\">From</th>")
	for _, c := range columns {
		w.writef("<th scope=\"col\">%s</th>", c.head)
	}
	w.write("</tr></thead>\n<tbody>\n")
	for i := range rows {
		w.writef("<tr><th scope=\"row\">%s</th>", atFirst(w.at(rows[i].Measure, "")))
		for _, c := range columns {
			w.writef("<td>%s</td>", c.words(&rows[i]))
		}
		w.write("</tr>\n")
	}
	w.write("</tbody></table></div>\n")
}

// keyColumn is a column of the table of keys.
type keyColumn struct {
	head  string
	words func(*KeyRow) string
}

func (k *KeyRow) transpositionWords() string {
	if k.Respelled {
		return "the same, spelled enharmonically"
	}
	return inColumn(k.Sounds)
}

// sameKeys reports whether what sounds and what is read have the same signatures.
func sameKeys(rows []KeyRow) bool {
	for i := range rows {
		if !rows[i].Sounding.like(rows[i].Written) {
			return false
		}
	}
	return true
}

// warnings lists what the copyist has to say, each with a way to its bar.
func (w partWriter) warnings() {
	list := w.Part.Warnings
	if len(list) == 0 {
		return
	}
	w.writef("<h3>%s</h3>\n", upperFirst(count(len(list), "warning", "warnings")))
	var remarks []remark
	for _, m := range list {
		remarks = append(remarks, remark{m.Measure, m.Beat, m.Text})
	}
	w.list(w.items(remarks))
}

// remark is something to say of a place in the part.
type remark struct{ measure, beat, text string }

// items are lines of a list, what is the same in several places said once.
func (w partWriter) items(remarks []remark) []string {
	places := map[string][]string{}
	var texts []string
	for _, r := range remarks {
		if places[r.text] == nil {
			texts = append(texts, r.text)
		}
		places[r.text] = append(places[r.text], w.at(r.measure, r.beat))
	}
	var items []string
	for _, text := range texts {
		item := esc(printed(text)) + "."
		if at := strings.Join(places[text], ", "); at != "" {
			item = atFirst(at) + ": " + item
		} else {
			item = upperFirst(item)
		}
		items = append(items, item)
	}
	return items
}

// shownItems is how many lines of a list stand open.
const shownItems = 12

// list writes a list, the tail of a long one folded up.
func (w partWriter) list(items []string) {
	folded := 0
	if len(items) > shownItems+3 {
		folded = len(items) - shownItems
	}
	w.write("<ul>\n<li>" + strings.Join(items[:len(items)-folded], "</li>\n<li>") + "</li>\n</ul>\n")
	if folded > 0 {
		w.writef("<details><summary>%d more</summary>\n<ul>\n<li>%s</li>\n</ul>\n</details>\n", folded, strings.Join(items[shownItems:], "</li>\n<li>"))
	}
}

// verdictMark is the verdict in a word.
func (p *Part) verdictMark() string {
	switch {
	case p.Failure != "":
		return "<strong class=\"bad\">✗ not made</strong>"
	case p.Check.Verdict == verification.Different:
		return "<strong class=\"bad\">✗ different</strong>"
	case len(p.Check.Misread) > 0:
		return "<strong class=\"bad\">✗ misread</strong>"
	}
	return "<span class=\"good\">✓ " + string(p.Check.Verdict) + "</span>"
}

// verdict says what the check came to.
func (w partWriter) verdict() {
	c := w.Part.Check
	words := "There and back again, " + map[verification.Verdict]string{
		verification.Identical: "every pitch, key, accidental, clef and chord symbol is as it was.",
		verification.Respelled: "every note sounds as it did; some are spelled another way.",
		verification.Different: "something is not as it was.",
	}[c.Verdict]
	page := c.pageWords()
	if w.Failure != "" {
		page = ""
	}
	w.writef("<div><h3>Check: %s</h3>\n", w.verdictMark())
	if len(c.Found) == 0 {
		w.writef("<p>%s %s</p>\n", words, page)
	} else {
		w.writef("<p>%s</p>\n", words)
		w.findings(c.Found)
		w.writef("<p>%s</p>\n", page)
	}
	w.findings(c.Misread)
	w.write("</div>\n")
}

func (w partWriter) findings(list []verification.Finding) {
	var remarks []remark
	for _, f := range list {
		remarks = append(remarks, remark{f.Measure, f.Beat, f.Text})
	}
	if len(remarks) > 0 {
		w.list(w.items(remarks))
	}
}

// pageWords says how the page is read.
func (c *Check) pageWords() string {
	words := "Read off the page as a player does, by clef, signature and printed accidentals, "
	switch {
	case len(c.Misread) > 0:
		return words + "something else is heard than the score has:"
	case c.Read == 0:
		return "There are no notes with a pitch to read off the page."
	case !c.Compared:
		return words + count(c.Read, "note is", "notes are") + " read as meant. Their sound was not compared with the score, as the plan gives them to another instrument or octave."
	}
	return words + count(c.Read, "note sounds", "notes sound") + " as in the score."
}

// words names a signature, and its key where the score says the mode.
func (s *Signature) words() string {
	switch {
	case s == nil:
		return "no signature"
	case s.Special:
		return "chosen signs"
	}
	words := lesson.Signature(s.Fifths)
	if mode := lesson.Mode(s.Mode); mode == lesson.Major || mode == lesson.Minor {
		words += ", " + printed(lesson.Key{Fifths: s.Fifths, Mode: mode}.String())
	}
	return words
}
