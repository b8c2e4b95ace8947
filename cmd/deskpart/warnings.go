package main

import (
	"errors"
	"fmt"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// warn says and counts the warnings of one part, or of a score. What is said again in
// the same words is said once, with how often and up to where. Under --quiet lost music
// alone is said: it is an error.
func (r *shelfRun) warn(file, partName, partID string, warnings ...musicxml.Warning) {
	said := map[musicxml.Warning]bool{}
	for i, w := range warnings {
		r.summary.Warn(w.Code)
		key := musicxml.Warning{Code: w.Code, Text: w.Text, SourcePart: w.SourcePart}
		if r.flags.quiet && w.Code != notice.MusicLost || r.flags.json || said[key] {
			continue
		}
		said[key] = true
		at := musicxml.Error{File: file, PartName: partName, PartID: partID, Measure: w.Measure, Beat: w.Beat,
			Code: w.Code, Err: errors.New(w.Text)}
		if w.SourcePart != "" {
			at.PartName, at.PartID = w.SourceName, w.SourcePart
		}
		r.progress.Say(r.lineOf(&at, saidAgain(r.said, w, warnings[i+1:])))
	}
}

// lineOf is a warning in one line, with how often it is said: behind its text in English,
// where what to do comes last.
func (r *shelfRun) lineOf(at *musicxml.Error, again string) string {
	if r.said != nil {
		return texts.Line(r.said, at) + again
	}
	at.Err = errors.New(at.Err.Error() + again)
	return at.Error()
}

// saidAgain tells of warnings that say the same, in the language of said (nil: English).
func saidAgain(said *texts.Texts, w musicxml.Warning, others []musicxml.Warning) string {
	times, last := 0, ""
	for _, o := range others {
		if o.Code == w.Code && o.Text == w.Text && o.SourcePart == w.SourcePart {
			times, last = times+1, o.Measure
		}
	}
	switch {
	case times == 0:
		return ""
	case said != nil && last == "":
		return " (" + said.Say("told.again", texts.Fill{"n": times + 1}) + ")"
	case said != nil:
		return " (" + said.Say("told.again-until", texts.Fill{"n": times + 1, "bar": said.Bars([]string{last})}) + ")"
	case last == "":
		return fmt.Sprintf(" (%d times)", times+1)
	}
	return fmt.Sprintf(" (%d times, the last in measure %s)", times+1, last)
}
