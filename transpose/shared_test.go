package transpose_test

import (
	"testing"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
)

// eachPart calls do with every part of the shared scores that match the
// patterns. Files that the reader refuses are passed over: they are another
// package's business.
func eachPart(t *testing.T, do func(t *testing.T, name string, part *etree.Element), patterns ...string) {
	t.Helper()
	musicxmltest.EachFile(t, musicxmltest.SharedFiles(t, patterns...), func(t *testing.T, path string) {
		score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
		if err != nil {
			t.Skip("not read: ", err)
		}
		names := score.ScoreParts()
		for i := range score.Parts {
			part, err := score.ReadPart(i, nil)
			if err != nil {
				continue
			}
			name := score.Parts[i].ID
			if i < len(names) {
				name += " " + names[i].Name
			}
			do(t, name, part)
		}
	})
}

// timelineOf lays a part out in time, or returns nil where it cannot be.
func timelineOf(t testing.TB, part *etree.Element) *musicxml.Timeline {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil
	}
	return timeline
}

// text writes an element, for comparing and for failure messages.
func text(e *etree.Element) string {
	doc := etree.NewDocumentWithRoot(e.Copy())
	s, err := doc.WriteToString()
	if err != nil {
		return err.Error()
	}
	return s
}

// spaced is a part as programs write it that set every element in a line of its own,
// with a remark before each: both say nothing.
func spaced(e *etree.Element) *etree.Element {
	c := e.Copy()
	space(c)
	return c
}

func space(e *etree.Element) {
	children := e.ChildElements()
	for _, child := range children {
		e.InsertChildAt(child.Index(), etree.NewText("\n  "))
		e.InsertChildAt(child.Index(), etree.NewComment("remark"))
		space(child)
	}
	if len(children) > 0 {
		e.AddChild(etree.NewText("\n"))
	}
}
