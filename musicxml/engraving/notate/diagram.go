package notate

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
)

// readDiagram reads what a direction draws as a diagram; nil for other directions.
func readDiagram(e *etree.Element) engraving.Diagram {
	switch e.Tag {
	case "harp-pedals":
		return readHarp(e)
	case "accordion-registration":
		return engraving.Accordion{High: musicxml.Child(e, "accordion-high") != nil, Low: musicxml.Child(e, "accordion-low") != nil,
			Middle: max(0, min(elementNumber(e, "accordion-middle"), 3))}
	}
	return nil
}

// harpOrder is the order of a harp's pedals from left to right.
const harpOrder = "DCBEFGA"

func readHarp(e *etree.Element) engraving.Diagram {
	var pedals engraving.HarpPedals
	for _, tuning := range musicxml.Children(e, "pedal-tuning") {
		alter, _ := strconv.ParseFloat(musicxml.ChildText(tuning, "pedal-alter"), 64)
		for i, step := range harpOrder {
			if musicxml.ChildText(tuning, "pedal-step") == string(step) {
				pedals[i] = int(max(-1, min(math.Round(alter), 1)))
			}
		}
	}
	return pedals
}

// readFrame reads the diagram of a chord.
func readFrame(e *etree.Element) engraving.Diagram {
	f := &engraving.Frame{Strings: max(1, min(elementNumber(e, "frame-strings"), 12)), Frets: max(1, min(elementNumber(e, "frame-frets"), 12)),
		FirstFret: elementNumber(e, "first-fret")}
	barre := map[int]int{} // by fret: the note that a barre begins at
	for _, x := range musicxml.Children(e, "frame-note") {
		n := engraving.FrameNote{String: elementNumber(x, "string"), Fret: elementNumber(x, "fret"), Fingering: musicxml.ChildText(x, "fingering")}
		if n.String < 1 || n.String > f.Strings || n.Fret < 0 || n.Fret-max(f.FirstFret, 1) >= f.Frets {
			continue
		}
		f.Notes = append(f.Notes, n)
		if b := musicxml.Child(x, "barre"); b != nil && musicxml.Attr(b, "type") == "start" {
			barre[n.Fret] = len(f.Notes)
		} else if at := barre[n.Fret]; b != nil && at > 0 {
			f.Notes[at-1].BarreTo = n.String
		}
	}
	return f
}
