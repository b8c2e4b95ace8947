package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// sheetsOf makes all parts of a shared test file.
func sheetsOf(t *testing.T, path string, o parts.Options) ([]parts.Assignment, []*parts.Part) {
	t.Helper()
	score := readScore(t, path)
	job := partstest.Job(t, score, o)
	assignments := job.Assignments()
	var sheets []*parts.Part
	for i := range assignments {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		sheets = append(sheets, sheet)
	}
	return assignments, sheets
}

// roadText writes what a part says beside its notes, a line a measure, in a
// shorthand: |: and :| are repeats, [1. and 1.] endings, || a double bar, ||| a
// final one, [A] a rehearsal mark, "words" words, -N- a multi-bar rest. Measures
// that say nothing are left out.
func roadText(doc *etree.Document) string {
	var lines []string
	for _, m := range doc.FindElements("//measure") {
		var says []string
		for _, e := range m.ChildElements() {
			says = append(says, sayings(e)...)
		}
		if len(says) > 0 {
			lines = append(lines, m.SelectAttrValue("number", "?")+" "+strings.Join(says, " "))
		}
	}
	return strings.Join(lines, "\n")
}

func sayings(e *etree.Element) []string {
	switch e.Tag {
	case "attributes":
		return attributesText(e)
	case "barline":
		return []string{barlineText(e)}
	case "direction":
		return directionText(e)
	case "sound":
		return []string{soundText(e)}
	case "note":
		if e.FindElement("notations/fermata") != nil {
			return []string{"fermata"}
		}
	}
	return nil
}

func attributesText(e *etree.Element) []string {
	var says []string
	for _, time := range e.SelectElements("time") {
		says = append(says, musicxml.ChildText(time, "beats")+"/"+musicxml.ChildText(time, "beat-type"))
	}
	for _, rest := range e.FindElements("measure-style/multiple-rest") {
		says = append(says, "-"+rest.Text()+"-")
	}
	return says
}

var styles = map[string]string{"light-light": "||", "light-heavy": "|||", "heavy-light": "|||"}

func barlineText(e *etree.Element) string {
	style := musicxml.ChildText(e, "bar-style")
	if s := styles[style]; s != "" {
		style = s
	}
	says := []string{style}
	if location := e.SelectAttrValue("location", ""); location != "right" {
		says = []string{location, style}
	}
	if ending := e.SelectElement("ending"); ending != nil {
		number := ending.SelectAttrValue("number", "") + "."
		switch ending.SelectAttrValue("type", "") {
		case "start":
			says = append(says, "["+number)
		case "stop":
			says = append(says, number+"]")
		default:
			says = append(says, number)
		}
	}
	if repeat := e.SelectElement("repeat"); repeat != nil {
		sign := map[string]string{"forward": "|:", "backward": ":|"}[repeat.SelectAttrValue("direction", "")]
		if times := repeat.SelectAttrValue("times", ""); times != "" {
			sign += "x" + times
		}
		says = append(says, sign)
	}
	return strings.Join(strings.Fields(strings.Join(says, " ")), " ")
}

func directionText(e *etree.Element) []string {
	var says []string
	for _, c := range e.FindElements("direction-type/*") {
		switch c.Tag {
		case "words":
			says = append(says, fmt.Sprintf("%q", strings.TrimSpace(c.Text())))
		case "rehearsal":
			says = append(says, "["+c.Text()+"]")
		case "metronome":
			says = append(says, "metronome")
		case "dynamics":
			says = append(says, "dynamics")
		default:
			says = append(says, strings.TrimSpace(c.Tag+" "+c.SelectAttrValue("type", "")))
		}
	}
	if offset := musicxml.ChildText(e, "offset"); offset != "" {
		says = append(says, "@"+offset)
	}
	if sound := e.SelectElement("sound"); sound != nil {
		says = append(says, soundText(sound))
	}
	return says
}

func soundText(e *etree.Element) string {
	var says []string
	for _, a := range e.Attr {
		says = append(says, a.Key+"="+a.Value)
	}
	return "sound(" + strings.Join(says, " ") + ")"
}
