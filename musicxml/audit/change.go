package audit

import (
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// changes are the changes of transposition, and the texts that may name what is
// changed to.
type changes struct {
	inForce  map[string]interval // by staff
	list     []change
	texts    []printedName
	playback bool // the part changes how it is played back
	lastNote int  // index of the last bar with a note, -1 before
}

// interval is what a <transpose> adds, octaves folded in.
type interval struct{ steps, semitones int }

// change is one change of transposition.
type change struct {
	at    place
	since int // index of the bar with the last note before it
	to    interval
}

// printedName is a text at its bar.
type printedName struct {
	at    place
	text  string
	shown bool // a part-name-display, which must be a name
}

// transpose takes down a transposition.
func (c *changes) transpose(a *auditor, e *etree.Element) {
	number := func(tag string) int {
		n, _ := strconv.ParseFloat(musicxml.ChildText(e, tag), 64)
		return int(n)
	}
	octaves := number("octave-change")
	to := interval{number("diatonic") + 7*octaves, number("chromatic") + 12*octaves}
	staff := musicxml.Attr(e, "number")
	if c.inForce == nil {
		c.inForce = map[string]interval{}
	}
	was, said := c.inForce[staff]
	if !said {
		was, said = c.inForce[""]
	}
	// A part that says none until it changes has stood at sounding pitch.
	if was.semitones != to.semitones && (said || a.index > 0 || a.now > 0) {
		c.list = append(c.list, change{a.at(), c.lastNote, to})
	}
	c.inForce[staff] = to
}

// words takes down a text over the staff.
func (c *changes) words(a *auditor, text string) {
	if text != "" {
		c.texts = append(c.texts, printedName{at: a.at(), text: text})
	}
}

// name takes down a name of the part that takes effect at the next system.
func (c *changes) name(a *auditor, text string) {
	c.texts = append(c.texts, printedName{at: a.at(), text: text, shown: true})
}

// settle asks of every change whether its name is printed, and of every name whether
// it is the player's.
func (c *changes) settle(a *auditor) {
	for _, change := range c.list {
		if !c.named(a, change) && !a.isSaid(change.at, "change") {
			a.find(change.at, notice.UnnamedChange, "the transposition changes here and no printed name says to which instrument")
		}
	}
	for _, n := range c.texts {
		if n.shown && !c.isOwn(a, n) {
			a.find(n.at, notice.OtherInstrument, "the part is shown as "+quoted(n.text)+" from here on")
		}
	}
}

// named reports whether a name stands between the last note before the change and the
// change.
func (c *changes) named(a *auditor, change change) bool {
	return slices.ContainsFunc(c.texts, func(n printedName) bool {
		return n.at.index >= change.since && n.at.index <= change.at.index && a.mean(n.text, change.to)
	})
}

// isOwn reports whether a shown name is the part's own, or one that the player
// changes to.
func (c *changes) isOwn(a *auditor, n printedName) bool {
	return slices.Contains(a.names, foldName(n.text)) || c.playback && !a.Given ||
		slices.ContainsFunc(c.list, func(change change) bool {
			return change.at.index >= n.at.index-1 && change.at.index <= n.at.index+1 && a.mean(n.text, change.to)
		})
}

// mean reports whether a text names an instrument of that transposition, octaves
// aside.
func (a *auditor) mean(text string, to interval) bool {
	if a.Catalogue == nil {
		return true
	}
	fits := func(in *instruments.Instrument) bool {
		return in != nil && (in.Chromatic-to.semitones)%12 == 0
	}
	if m := a.Catalogue.Match(instruments.Query{Name: text}); fits(m.Instrument) {
		return true
	}
	// A key alone is a change for whoever plays the same instrument in another.
	return slices.ContainsFunc(a.playersOwn(), func(current *instruments.Instrument) bool {
		m, ok := a.Catalogue.MatchChange(text, current)
		return ok && fits(m.Instrument)
	})
}

// playersOwn are the player's instrument at the start and those of its kind.
func (a *auditor) playersOwn() []*instruments.Instrument {
	if a.Instrument == nil {
		return nil
	}
	return append([]*instruments.Instrument{a.Instrument}, a.Catalogue.KindMembers(a.Instrument.Kind)...)
}

// isSaid reports whether a warning of a kind was given at the bar.
func (a *auditor) isSaid(at place, prefix string) bool {
	number := musicxml.Attr(at.bar, "number")
	return slices.ContainsFunc(a.Said, func(w musicxml.Warning) bool {
		return w.Measure == number && strings.HasPrefix(string(w.Code), prefix)
	})
}
