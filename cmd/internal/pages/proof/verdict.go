package proof

import (
	"deskpart/musicxml/notice"
	"deskpart/transpose/verify"
)

// verdictMark is the verdict in a word.
func (p *Part) verdictMark() string {
	switch {
	case p.Failure != "":
		return "<strong class=\"bad\">✗ not made</strong>"
	case p.Check.Verdict == verify.Different:
		return "<strong class=\"bad\">✗ different</strong>"
	case len(p.Check.Misread) > 0:
		return "<strong class=\"bad\">✗ misread</strong>"
	}
	return "<span class=\"good\">✓ " + string(p.Check.Verdict) + "</span>"
}

// verdict says what the check came to.
func (w partWriter) verdict() {
	c := w.part.Check
	words := "There and back again, " + map[verify.Verdict]string{
		verify.Identical: "every pitch, key, accidental, clef and chord symbol is as it was.",
		verify.Respelled: "every note sounds as it did; some are spelled another way.",
		verify.Different: "something is not as it was.",
	}[c.Verdict]
	page := c.pageWords()
	if w.part.Failure != "" {
		page = ""
	}
	w.writef("<div>%s\n", w.heading("Check: "+w.part.verdictMark()))
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

func (w partWriter) findings(list []verify.Finding) {
	if len(list) > 0 {
		w.list(w.items(list))
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
		return words + notice.Counted(c.Read, "note is", "notes are") + " read as meant. Their sound was not compared with the score, as the plan gives them to another instrument or octave."
	}
	return words + notice.Counted(c.Read, "note sounds", "notes sound") + " as in the score."
}
