package audit

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// ids are what may be referred to.
type ids struct {
	instruments, players map[string]bool
	links                []link
}

// link is one to something in the same file.
type link struct {
	at     place
	target string
}

// declare takes down the ids of the part's entry.
func (s *ids) declare(entry *etree.Element) {
	s.instruments, s.players = map[string]bool{}, map[string]bool{}
	for c := range entry.ChildElementsSeq() {
		switch c.Tag {
		case "score-instrument":
			s.instruments[musicxml.Attr(c, "id")] = true
		case "player":
			s.players[musicxml.Attr(c, "id")] = true
		}
	}
}

// instrument checks an element with the id of a score-instrument.
func (s *ids) instrument(a *auditor, e *etree.Element) {
	if id := musicxml.Attr(e, "id"); id != "" && !s.instruments[id] {
		a.find(a.at(), notice.RefersToNothing, "an instrument "+id+" that the part's entry does not have is referred to")
	}
}

// refer looks through what may point to players or to places in the file.
func (a *auditor) refer(e *etree.Element) {
	switch e.Tag {
	case "link":
		for _, attr := range e.Attr {
			if target, inside := strings.CutPrefix(attr.Value, "#"); attr.Key == "href" && inside {
				a.ids.links = append(a.ids.links, link{a.at(), target})
			}
		}
	case "assess", "wait", "other-listen", "sync", "other-listening":
		if id := musicxml.Attr(e, "player"); id != "" && !a.ids.players[id] {
			a.find(a.at(), notice.RefersToNothing, "a player "+id+" that the part's entry does not have is referred to")
		}
	}
	for c := range e.ChildElementsSeq() {
		a.refer(c)
	}
}

// finishReferences looks for what links inside the file lead to.
func (a *auditor) finishReferences() {
	for credit := range musicxml.Each(a.Root, "credit") {
		a.bar = nil
		a.refer(credit)
	}
	if len(a.ids.links) == 0 {
		return
	}
	known := map[string]bool{}
	collectIDs(a.Root, known)
	for _, l := range a.ids.links {
		if !known[l.target] {
			a.find(l.at, notice.RefersToNothing, "a link leads to "+l.target+", which is not in the file")
		}
	}
}

func collectIDs(e *etree.Element, known map[string]bool) {
	if id := musicxml.Attr(e, "id"); id != "" {
		known[id] = true
	}
	for c := range e.ChildElementsSeq() {
		collectIDs(c, known)
	}
}
