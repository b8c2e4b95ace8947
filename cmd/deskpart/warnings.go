package main

import (
	"errors"
	"fmt"

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
		key := musicxml.Warning{Code: w.Code, Text: w.Text}
		if r.flags.quiet && w.Code != notice.MusicLost || r.flags.json || said[key] {
			continue
		}
		said[key] = true
		line := musicxml.Error{File: file, PartName: partName, PartID: partID, Measure: w.Measure, Beat: w.Beat,
			Code: w.Code, Err: errors.New(w.Text + saidAgain(w, warnings[i+1:]))}
		r.progress.Say(line.Error())
	}
}

// saidAgain tells of warnings that say the same.
func saidAgain(w musicxml.Warning, others []musicxml.Warning) string {
	times, last := 0, ""
	for _, o := range others {
		if o.Code == w.Code && o.Text == w.Text {
			times, last = times+1, o.Measure
		}
	}
	switch {
	case times == 0:
		return ""
	case last == "":
		return fmt.Sprintf(" (%d times)", times+1)
	}
	return fmt.Sprintf(" (%d times, the last in measure %s)", times+1, last)
}
