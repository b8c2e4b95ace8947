package proof

import "fmt"

// work is the page of a work: one list of players, and a section for each movement.
func (w *pageWriter) work() {
	w.players()
	first := 1
	for m := range w.Movements {
		last := first
		for last <= len(w.Parts) && w.Parts[last-1].Movement == m+1 {
			last++
		}
		w.movement(m, w.Parts[first-1:last-1], first)
		first = last
	}
}

// players is the table of the players and of what each has in every movement.
func (w *pageWriter) players() {
	w.write(`<nav aria-labelledby="overview">
<h2 id="overview">All players</h2>
<div class="scroll" role="region" aria-labelledby="overview" tabindex="0">
<table class="overview" role="table"><thead><tr role="row"><th scope="col">Player</th>`)
	for m, movement := range w.Movements {
		w.writef(`<th scope="col"><a href="#m%d">%s</a></th>`, m+1, esc(movement.Title))
	}
	w.write("</tr></thead>\n<tbody>\n")
	for p, player := range w.Players {
		w.writef(`<tr role="row"><th scope="row" role="rowheader">%d %s</th>`, p+1, esc(player.Label))
		for m, n := range player.Parts {
			cell := "tacet"
			if n > 0 {
				part := w.Parts[n-1]
				cell = fmt.Sprintf(`%s <a href="#p%d">%s</a> %s`, tick(n, "", w.Movements[m].Title+", "+part.heading()), n, esc(part.Label), part.verdictMark())
			}
			w.writef(`<td role="cell" data-head="%s">%s</td>`, esc(w.Movements[m].Title), cell)
		}
		w.write("</tr>\n")
	}
	w.write("</tbody></table>\n</div>\n")
	w.drawing()
	w.write("</nav>\n")
}

// movement is the section of a movement and of its parts, of which the first has a number.
func (w *pageWriter) movement(m int, list []*Part, first int) {
	movement := w.Movements[m]
	w.writef("<section id=\"m%d\" aria-labelledby=\"m%d-name\">\n<h2 id=\"m%d-name\">%s</h2>\n", m+1, m+1, m+1, esc(movement.Title))
	w.writef("<p class=\"soft\">%s</p>\n<p>%s.</p>\n", esc(movement.Score), pitchWords(movement.Pitch, movement.Reason))
	w.table(fmt.Sprintf("m%d-name", m+1), list, first, false)
	w.sections(list, first)
	w.write("</section>\n")
}
