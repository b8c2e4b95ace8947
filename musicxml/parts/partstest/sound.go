package partstest

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

// sound checks that what is heard is what the score has, that the page says it to
// the player, and that the way back to sounding pitch is exact (coverage 15.1,
// 15.3, 15.10).
func (c *checker) sound() {
	page, err := reading.Read(c.part)
	if err != nil {
		c.fault("the part cannot be read: %v", err)
		return
	}
	c.signs(page)
	if c.Moved || c.Player {
		return // the union of the players is tested where staves are shared out
	}
	got, want := withoutCues(page.Sounding()), withoutCues(c.source.page.Sounding())
	differences := reading.Compare(want, got)
	if len(differences) > 0 && c.source.element.FindElement(".//transpose") == nil && c.writtenAlike(page) {
		return // a score in written pitch that leaves its transposition unsaid
	}
	for i, d := range differences {
		if d.Kind == reading.Spelled && c.Readable {
			continue
		}
		if i == 5 {
			c.fault("and %d more differences of sound", len(differences)-5)
			return
		}
		c.fault("%s", d)
	}
	// A harp's spelling, which its pedals decide, is left alone (table (a), harp-bligh).
	if c.Harp && !c.writtenAlike(page) {
		c.fault("the harp's notes are spelled otherwise than in the score")
	}
}

// signs checks the printed accidentals: none is missing. Where the source's own
// page misleads at a note, the part may as well.
func (c *checker) signs(page *reading.Page) {
	misread := map[string]bool{}
	for _, m := range c.source.page.Mismatches() {
		misread[m.Measure+" "+m.Beat] = true
	}
	for _, m := range page.Mismatches() {
		if !misread[m.Measure+" "+m.Beat] {
			c.fault("measure %s, beat %s: a player reads %s for %s", m.Measure, m.Beat, m.Read, m.Written)
		}
	}
}

// withoutCues leaves cue notes out: they are silent, and come from other parts.
func withoutCues(sounds []reading.Sound) []reading.Sound {
	return slices.DeleteFunc(slices.Clone(sounds), func(s reading.Sound) bool { return s.Cue })
}

func (c *checker) writtenAlike(page *reading.Page) bool {
	return slices.EqualFunc(page.Notes, c.source.page.Notes, func(a, b reading.Note) bool { return a.Written == b.Written })
}

// mostSharps is the largest signature that a part may get by being moved.
const mostSharps = 6

// signatures checks that a cancelling signature names the one before, and that no
// signature passes the limit unless the score's does (coverage 15.2, table (a)).
func (c *checker) signatures() {
	limit := mostSharps
	for _, fifths := range c.source.element.FindElements(".//key/fifths") {
		limit = max(limit, pitch.Abs(atoi(fifths.Text())))
	}
	before := map[string]string{}
	for _, measure := range c.part.SelectElements("measure") {
		each(measure, func(e *etree.Element) {
			if e.Tag != "key" || e.SelectElement("fifths") == nil {
				return
			}
			staff, fifths := attr(e, "number"), text(e, "fifths")
			if old := before[staff]; e.SelectElement("cancel") != nil && old != "" && text(e, "cancel") != old && !c.sourceCancels() {
				c.fault("measure %s: cancels %s where %s was in force", attr(measure, "number"), text(e, "cancel"), old)
			}
			before[staff] = fifths
			if pitch.Abs(atoi(fifths)) > limit {
				c.fault("measure %s: a signature of %s", attr(measure, "number"), fifths)
			}
		})
	}
}

// sourceCancels reports whether the source itself cancels something else than the
// signature in force, as test files do.
func (c *checker) sourceCancels() bool {
	before, odd := "", false
	for _, e := range c.source.element.FindElements(".//key") {
		if cancel := text(e, "cancel"); cancel != "" && before != "" && cancel != before {
			odd = true
		}
		before = text(e, "fifths")
	}
	return odd
}
