package works

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
)

// Name gives the work and its movements their titles: title where one was asked for, what
// the scores say, what an opus calls its movements ("" where it says nothing), the name of
// the files.
func (w *Work) Name(title, files string, movements []*parts.Surveyed, opus []string) {
	w.Title, w.Titles = title, nil
	whole := make([]string, len(movements))
	for i, s := range movements {
		var number, title string
		whole[i], number, title = s.Movement()
		title = cmp.Or(title, opus[i])
		if number != "" {
			title = strings.TrimSpace(strings.TrimPrefix(title, number))
			title = strings.TrimSpace(strings.TrimLeft(title, ".:)"))
		}
		w.Titles = append(w.Titles, strings.Join(strings.Fields(title), " "))
	}
	if named := slices.Compact(slices.Sorted(slices.Values(whole))); w.Title == "" && len(named) == 1 {
		w.Title = named[0]
	}
	w.Title = cmp.Or(w.Title, files)
	for i := range w.Titles { // scores that have a title and no movement's
		if w.Titles[i] == "" && whole[i] != w.Title {
			w.Titles[i] = whole[i]
		}
	}
}

// Heading stands over a movement: "2. Adagio", "2".
func (w *Work) Heading(movement int) string { return Heading(movement, w.Titles[movement]) }

// Heading stands over a movement, counted from 0, with its title or without.
func Heading(movement int, title string) string {
	if title == "" {
		return fmt.Sprint(movement + 1)
	}
	return fmt.Sprintf("%d. %s", movement+1, title)
}

// FileName is what the file of a player and a movement is called, without its ending.
func (w *Work) FileName(player, movement int) string {
	return strings.TrimSpace(fmt.Sprintf("%02d %s - %d %s", player+1, w.Players[player].Label, movement+1, w.Titles[movement]))
}

// Missing are the words by which no movement has a part.
func (w *Work) Missing() []plan.Missing {
	var all []plan.Missing
	for _, m := range w.Jobs[0].Missing() {
		everywhere := true
		for _, job := range w.Jobs[1:] {
			everywhere = everywhere && slices.ContainsFunc(job.Missing(), func(o plan.Missing) bool { return o.Words == m.Words })
		}
		if everywhere {
			all = append(all, m)
		}
	}
	return all
}

// Make makes what a player has of a movement, in a workspace or, without one, in memory of
// its own.
func (w *Work) Make(space *parts.Workspace, player, movement int) (*parts.Part, error) {
	p := &w.Players[player]
	if file := p.Files[movement]; file >= 0 {
		return w.Jobs[movement].MakeIn(space, file)
	}
	return w.Jobs[movement].MakeTacet(space, p.Label, p.Instruments[movement])
}
