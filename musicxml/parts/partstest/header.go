package partstest

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"
)

// header checks the head of the sheet: one named part, its name as a credit, the
// score's titles and names, nothing that only the score is (table (a): metropole,
// mola-yale; coverage 15.9, sections 9 and 11).
func (c *checker) header() {
	root := c.Document.Root()
	if root.Tag != "score-partwise" || attr(root, "version") != "4.0" {
		c.fault("the root is <%s version=%q>", root.Tag, attr(root, "version"))
	}
	name := text(root, "part-list", "score-part", "part-name")
	if name == "" {
		c.fault("the part has no name")
	}
	if text(root, "part-list", "score-part", "group") != "parts" {
		c.fault("the group is not parts")
	}
	if !slices.Contains(c.credits("part name"), name) {
		c.fault("the name %q does not stand at the head of the page", name)
	}
	c.titles(root)
	c.labels()
	c.claims(root)
}

// credits lists the texts of the credits of one type, or of all for "".
func (c *checker) credits(kind string) []string {
	var texts []string
	for _, credit := range c.Document.Root().SelectElements("credit") {
		if kind != "" && text(credit, "credit-type") != kind {
			continue
		}
		var words []string
		for _, w := range credit.SelectElements("credit-words") {
			words = append(words, w.Text())
		}
		texts = append(texts, strings.TrimSpace(strings.Join(words, "")))
	}
	return texts
}

// titles checks that titles and names of the score are the part's.
func (c *checker) titles(root *etree.Element) {
	source := c.score.Header.Root()
	for _, path := range []string{"work/work-title", "work/work-number", "movement-title", "movement-number", "identification/creator", "identification/rights"} {
		if want, got := texts(source, path), texts(root, path); !slices.Equal(want, got) {
			c.fault("%s: %q instead of %q", path, got, want)
		}
	}
	shown := strings.Join(c.credits(""), "\n")
	for _, credit := range source.SelectElements("credit") {
		kind := text(credit, "credit-type")
		if attr(credit, "page") != "1" || kind != "title" && kind != "composer" && kind != "subtitle" && kind != "rights" {
			continue
		}
		if said := text(credit, "credit-words"); !strings.Contains(shown, said) {
			c.fault("%s %q is missing on the page", kind, said)
		}
	}
	if title := text(source, "work", "work-title") + text(source, "movement-title"); title != "" && len(c.credits("")) < 2 {
		c.fault("no title stands on the page")
	}
}

func texts(root *etree.Element, path string) []string {
	var all []string
	for _, e := range root.FindElements(path) {
		all = append(all, strings.TrimSpace(e.Text()))
	}
	return all
}

// labels checks that the page is not called a score.
func (c *checker) labels() {
	for _, said := range c.credits("") {
		switch strings.ToLower(strings.Trim(said, "()[] .")) {
		case "score", "full score", "score in c", "c score", "transposed score", "partitur", "partition", "partitura", "conductor", "concert score":
			c.fault("the page is called %q", said)
		}
	}
}

// claims checks that what <supports> says is true of the part.
func (c *checker) claims(root *etree.Element) {
	tags := map[string]bool{}
	each(c.part, func(e *etree.Element) { tags[e.Tag] = true })
	for _, e := range root.FindElements("identification/encoding/supports") {
		element, attribute := attr(e, "element"), attr(e, "attribute")
		switch {
		case attr(e, "type") == "yes" && element == "print" && attribute != "":
			c.fault("the part claims to hold breaks")
		case attr(e, "type") == "no" && attribute == "" && tags[element]:
			c.fault("the part claims to have no <%s>", element)
		}
	}
	if root.FindElement("identification/encoding/encoding-date") != nil {
		c.fault("the part has the date of the score's file")
	}
}

// page checks paper, staff size and numbering, and that nothing of the score's page
// is left (table (a): kriterien, mmf; section 8).
func (c *checker) page() {
	root := c.Document.Root()
	mm, tenths := number(text(root, "defaults", "scaling", "millimeters")), number(text(root, "defaults", "scaling", "tenths"))
	if !(mm*40/tenths >= 7.5 && mm*40/tenths <= 8.5) {
		c.fault("the staff is not 7.5 to 8.5 mm high")
	}
	width, height := number(text(root, "defaults", "page-layout", "page-width")), number(text(root, "defaults", "page-layout", "page-height"))
	if w, h := width*mm/tenths, height*mm/tenths; w < 200 || w > 275 || h < 270 || h > 365 {
		c.fault("a page of %.0f by %.0f mm", w, h)
	}
	for _, words := range root.FindElements("credit/credit-words") {
		x, y := number(attr(words, "default-x")), number(attr(words, "default-y"))
		if x < 0 || x > width || y < 0 || y > height {
			c.fault("%q stands off the page", words.Text())
		}
	}
	if len(c.timeline.Measures) > 0 && text(c.timeline.Measures[0].Element, "print", "measure-numbering") != "system" {
		c.fault("bars are not numbered at each system")
	}
	c.leftovers()
}

// number reads a decimal number; what is none is 0.
func number(text string) float64 {
	n, _ := strconv.ParseFloat(text, 64)
	return n
}

// leftovers finds what was drawn for the score's page.
func (c *checker) leftovers() {
	reported := map[string]bool{}
	each(c.part, func(e *etree.Element) {
		for _, a := range e.Attr {
			switch a.Key {
			case "default-x", "default-y", "relative-x", "relative-y", "bezier-x", "bezier-y", "bezier-x2", "bezier-y2", "new-system", "new-page":
			case "width":
				if e.Tag != "measure" {
					continue
				}
			default:
				continue
			}
			if !reported[e.Tag+a.Key] {
				reported[e.Tag+a.Key] = true
				c.fault("<%s> has %s", e.Tag, a.Key)
			}
		}
		switch e.Tag {
		case "page-layout", "system-layout", "staff-layout":
			c.fault("<%s> stands in the music", e.Tag)
		}
	})
}
