package partstest

import (
	"strings"

	"github.com/beevik/etree"
)

// ids checks that every reference leads somewhere and no id stands twice (coverage
// 15.4, section 12).
func (c *checker) ids() {
	root := c.Document.Root()
	entries := root.FindElements("part-list/score-part")
	if len(entries) != 1 || len(root.FindElements("part-list/*")) != 1 {
		c.fault("the part-list has %d entries", len(root.FindElements("part-list/*")))
		return
	}
	entry := entries[0]
	if attr(entry, "id") != attr(c.part, "id") {
		c.fault("the part is %q, its entry %q", attr(c.part, "id"), attr(entry, "id"))
	}
	known := map[string]map[string]bool{"score-instrument": {}, "player": {}}
	for tag := range known {
		for _, e := range entry.SelectElements(tag) {
			known[tag][attr(e, "id")] = true
		}
	}
	c.references(root, known)
	c.uniqueIDs(root)
}

func (c *checker) references(root *etree.Element, known map[string]map[string]bool) {
	targets := map[string]bool{}
	each(root, func(e *etree.Element) { targets[attr(e, "id")] = true })
	each(root, func(e *etree.Element) {
		switch e.Tag {
		case "instrument", "midi-instrument", "midi-device", "instrument-change", "play":
			if id := attr(e, "id"); id != "" && !known["score-instrument"][id] {
				c.fault("<%s> refers to the instrument %q, which is not there", e.Tag, id)
			}
		case "assess", "wait", "other-listen", "sync", "other-listening":
			if id := attr(e, "player"); id != "" && !known["player"][id] {
				c.fault("<%s> refers to the player %q, who is not there", e.Tag, id)
			}
		case "link":
			if target, inside := strings.CutPrefix(attr(e, "xlink:href"), "#"); inside && !targets[target] {
				c.fault("a link leads to %q, which is not there", target)
			}
		case "part-link", "for-part", "concert-score", "part-group":
			c.fault("<%s> stands in a part", e.Tag)
		}
	})
}

// uniqueIDs counts ids of the xsd type ID. Those of instruments and the like are
// references.
func (c *checker) uniqueIDs(root *etree.Element) {
	seen := map[string]bool{}
	each(root, func(e *etree.Element) {
		switch e.Tag {
		case "instrument", "midi-instrument", "midi-device", "instrument-change", "play", "part":
			return
		}
		if id := attr(e, "id"); id != "" {
			if seen[id] {
				c.fault("the id %q stands twice", id)
			}
			seen[id] = true
		}
	})
}

// staves checks that staff numbers lie within <staves> (coverage 15.5).
func (c *checker) staves() {
	staves := 1
	for _, measure := range c.part.SelectElements("measure") {
		each(measure, func(e *etree.Element) {
			switch e.Tag {
			case "staves":
				staves = atoi(e.Text())
			case "staff":
				if n := atoi(e.Text()); (n < 1 || n > staves) && !c.sourceStrays() {
					c.fault("measure %s: staff %d of %d", attr(measure, "number"), n, staves)
				}
			case "key", "clef", "time", "transpose", "staff-details", "measure-style":
				if n := attr(e, "number"); n != "" && (atoi(n) < 1 || atoi(n) > staves) && !c.sourceStrays() {
					c.fault("measure %s: <%s> for staff %s of %d", attr(measure, "number"), e.Tag, n, staves)
				}
			}
		})
	}
}

// sourceStrays reports whether the source itself names staves that it does not
// have.
func (c *checker) sourceStrays() bool {
	staves, strays := 1, false
	each(c.source.element, func(e *etree.Element) {
		switch e.Tag {
		case "staves":
			staves = atoi(e.Text())
		case "staff":
			strays = strays || atoi(e.Text()) > staves
		case "key", "clef", "time", "transpose", "staff-details", "measure-style":
			strays = strays || atoi(attr(e, "number")) > staves
		}
	})
	return strays
}
