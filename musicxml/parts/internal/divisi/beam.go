package divisi

import (
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// closeBeams mends the beams of a voice where the player lacks a part of a group:
// what is left of the group is beamed by itself, a single note has its flag.
func closeBeams(lane []*item) {
	var run []*item
	for _, it := range lane {
		if it.small() {
			continue
		}
		if it.rest() {
			// A beam may go on over a rest that the score itself has there.
			if it.group == nil || it.silenced {
				closeRun(run)
				run = nil
			}
			continue
		}
		state := beamOf(it, 1)
		if len(run) > 0 && (state == "" || state == "begin" || beamOf(run[len(run)-1], 1) == "end") {
			closeRun(run)
			run = nil
		}
		if state != "" {
			run = append(run, it)
		}
	}
	closeRun(run)
}

// beamOf reads a beam of an item: "begin", "continue", "end", a hook, or "".
func beamOf(it *item, level int) string {
	for _, e := range musicxml.Children(it.first(), "beam") {
		if numberOf(e) == strconv.Itoa(level) {
			return musicxml.Text(e)
		}
	}
	return ""
}

// closeRun beams a run of items anew unless it is a whole group.
func closeRun(run []*item) {
	if len(run) == 0 || isWholeGroup(run) {
		return
	}
	for _, it := range run {
		for _, n := range it.notes {
			musicxml.RemoveChildren(n.element, "beam")
		}
	}
	if len(run) == 1 {
		return
	}
	for i, it := range run {
		for level := 1; level <= flags(it); level++ {
			addBeam(it, level, beamState(run, i, level))
		}
	}
}

func isWholeGroup(run []*item) bool {
	for i, it := range run {
		want := "continue"
		switch i {
		case 0:
			want = "begin"
		case len(run) - 1:
			want = "end"
		}
		if beamOf(it, 1) != want {
			return false
		}
	}
	return len(run) > 1
}

// flagCounts is how many flags a note value has.
var flagCounts = map[string]int{
	"eighth": 1, "16th": 2, "32nd": 3, "64th": 4, "128th": 5, "256th": 6, "512th": 7, "1024th": 8,
}

func flags(it *item) int { return flagCounts[musicxml.ChildText(it.first(), "type")] }

// beamState is what a beam does at one note of a run.
func beamState(run []*item, i, level int) string {
	before := i > 0 && flags(run[i-1]) >= level
	after := i+1 < len(run) && flags(run[i+1]) >= level
	switch {
	case before && after:
		return "continue"
	case after:
		return "begin"
	case before:
		return "end"
	case i == 0:
		return "forward hook"
	}
	return "backward hook"
}

func addBeam(it *item, level int, state string) {
	e := etree.NewElement("beam")
	e.CreateAttr("number", strconv.Itoa(level))
	e.SetText(state)
	musicxml.AddInOrder(it.first(), e)
}
