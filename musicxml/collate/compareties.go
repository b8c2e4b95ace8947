package collate

// tieFault is one end of a tie that one of two notes has.
type tieFault struct {
	at    place
	bar   *barComparison
	note  *note // of the score
	voice string
	start bool // the note is tied on, not from before
	lost  bool // the score has the tie
}

// compareTies notes where one note is tied on or from before and the other is not.
func (b *barComparison) compareTies(w, g *note) {
	fault := tieFault{at: place{b.step, w.onset}, bar: b, note: w, voice: g.voice}
	if w.tieStop != g.tieStop {
		fault.lost = w.tieStop
		b.tieFaults = append(b.tieFaults, fault)
	}
	if w.tieStart != g.tieStart {
		fault.start, fault.lost = true, w.tieStart
		b.tieFaults = append(b.tieFaults, fault)
	}
}

// settleTies says each tie that differs once: where it starts, if its start
// differs.
func (c *comparison) settleTies() {
	for i, f := range c.tieFaults {
		if !f.start && c.startsBefore(i) {
			continue
		}
		name := "the tie to " + f.bar.wantText(f.note)
		if f.start {
			name = "the tie from " + f.bar.wantText(f.note)
		}
		if f.lost {
			f.bar.find(f.note.onset, Rhythm, "", name)
		} else {
			f.bar.find(f.note.onset, Rhythm, name, "")
		}
	}
}

// startsBefore reports whether the start of the tie whose end differs has been
// said: a fault of the same pitch before it, not more than a bar away.
func (c *comparison) startsBefore(i int) bool {
	end := &c.tieFaults[i]
	for k := i - 1; k >= 0; k-- {
		f := &c.tieFaults[k]
		if end.at.step-f.at.step > 1 {
			return false
		}
		if f.start && f.lost == end.lost && f.note.height == end.note.height && f.voice == end.voice {
			return true
		}
	}
	return false
}
