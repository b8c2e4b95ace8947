package survey

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"deskpart/musicxml/notice"
	"deskpart/musicxml/works"
)

// Work is what a survey tells of a work of several movements, beside its scores.
type Work struct {
	Title     string       `json:"title"`
	Movements []string     `json:"movements"` // their titles, "" where one has none
	Players   []WorkPlayer `json:"players"`
}

// WorkPlayer is one of the one set of players.
type WorkPlayer struct {
	Label string     `json:"label"`
	Has   []WorkPart `json:"has"` // one a movement
}

// WorkPart is what a player has in a movement; empty where the player is silent.
type WorkPart struct {
	ID    string `json:"id"`
	Label string `json:"label"`
}

// OfWork tells who plays a work, and what in each movement.
func OfWork(w *works.Work, title string, movements []string) Work {
	told := Work{Title: strings.Clone(title), Players: []WorkPlayer{}}
	for _, m := range movements {
		told.Movements = append(told.Movements, strings.Clone(m))
	}
	for _, p := range w.Players {
		player := WorkPlayer{Label: strings.Clone(p.Label)}
		for m, file := range p.Files {
			var has WorkPart
			if file >= 0 {
				a := w.Jobs[m].Assignment(file)
				has = WorkPart{strings.Clone(a.ID), strings.Clone(a.Label)}
			}
			player.Has = append(player.Has, has)
		}
		told.Players = append(told.Players, player)
	}
	return told
}

// WriteText writes the table of players.
func (w *Work) WriteText(out io.Writer, visible func(string) string) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s, one set of %s\n\n", visible(w.Title), notice.Counted(len(w.Movements), "movement", "movements"), notice.Counted(len(w.Players), "player", "players"))
	table := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprint(table, "  player")
	for m, title := range w.Movements {
		fmt.Fprintf(table, "\t%s", strings.TrimSpace(fmt.Sprintf("%d %s", m+1, visible(title))))
	}
	fmt.Fprintln(table)
	for _, p := range w.Players {
		fmt.Fprintf(table, "  %s", visible(p.Label))
		for _, has := range p.Has {
			cell := "tacet"
			if has.ID != "" {
				cell = visible(fmt.Sprintf("%s (%s)", has.Label, has.ID))
			}
			fmt.Fprintf(table, "\t%s", cell)
		}
		fmt.Fprintln(table)
	}
	table.Flush()
	b.WriteString("\n")
	_, err := io.WriteString(out, b.String())
	return err
}
