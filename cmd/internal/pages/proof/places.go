package proof

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
)

// spots are the bars that something is said of, from 1.
func (w partWriter) spots() string {
	var bars []int
	for _, m := range w.part.Warnings {
		bars = append(bars, w.bar(m.Measure))
	}
	for _, f := range slices.Concat(w.part.Check.Found, w.part.Check.Misread) {
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
	return slices.Index(w.part.numbers, number) + 1
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
	if bar == 0 || w.part.lines == 0 {
		return words
	}
	return fmt.Sprintf(`<a href="#%s-b%d">%s</a>`, w.id, bar, words)
}

// atFirst is a place at the beginning of a line.
func atFirst(place string) string { return strings.Replace(place, "bar ", "Bar ", 1) }

// warnings lists what the copyist has to say, each with a way to its bar.
func (w partWriter) warnings() {
	list := w.part.Warnings
	if len(list) == 0 {
		return
	}
	w.write(w.heading(texts.UpperFirst(notice.Counted(len(list), "warning", "warnings"))) + "\n")
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
	var said []string
	for _, r := range remarks {
		if places[r.text] == nil {
			said = append(said, r.text)
		}
		if at := w.at(r.measure, r.beat); at != "" || places[r.text] == nil {
			places[r.text] = append(places[r.text], at)
		}
	}
	var items []string
	for _, text := range said {
		item := texts.UpperFirst(esc(printed(text))) + "."
		if at := strings.Join(places[text], ", "); at != "" {
			item = atFirst(at) + ": " + esc(printed(text)) + "."
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
