package printing

import (
	"deskpart/musicxml/works"
)

// PrintPlayer prints all that a player of a work has, each movement under its heading; a
// movement in which the player is silent is a line. The warnings of the parts stand before
// those of the pages, where they are not told elsewhere.
func (o Options) PrintPlayer(w *works.Work, p int, toldElsewhere bool) (*Printed, error) {
	player := &w.Players[p]
	var movements []Movement
	for m, file := range player.Files {
		part, err := w.Make(nil, p, m) // a book needs all movements at once
		if err != nil {
			return nil, err
		}
		movement := Movement{Heading: w.Heading(m), Tacet: part.Report.Tacet}
		if part.Document != nil {
			movement.Root = part.Document.Root()
		}
		if file >= 0 {
			for _, warning := range part.Report.Warnings {
				if warning.Movement = m + 1; !toldElsewhere {
					movement.Said = append(movement.Said, warning)
				}
			}
			if label := w.Jobs[m].Assignment(file).Label; label != player.Label && !movement.Tacet {
				movement.Heading += " (" + label + ")"
			}
		}
		movements = append(movements, movement)
	}
	return o.PrintWork(Player{Label: player.Label, Instrument: player.Instruments[0]}, w.Title, movements...)
}
