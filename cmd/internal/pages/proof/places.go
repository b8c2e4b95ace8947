package proof

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
	"deskpart/transpose/verify"
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
	var remarks []verify.Finding
	for _, m := range list {
		remarks = append(remarks, verify.Finding{Measure: m.Measure, Beat: m.Beat, Text: m.Text})
	}
	w.list(w.items(remarks))
}

// items are lines of a list, what is the same in several places said once.
func (w partWriter) items(remarks []verify.Finding) []string {
	places := map[string][]string{}
	var said []string
	for _, r := range remarks {
		if places[r.Text] == nil {
			said = append(said, r.Text)
		}
		if at := w.at(r.Measure, r.Beat); at != "" || places[r.Text] == nil {
			places[r.Text] = append(places[r.Text], at)
		}
	}
	var items []string
	for _, text := range said {
		item := esc(printed(text)) + "."
		if at := strings.Join(places[text], ", "); at != "" {
			items = append(items, atFirst(at)+": "+item)
		} else {
			items = append(items, texts.UpperFirst(item))
		}
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
