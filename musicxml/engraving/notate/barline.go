package notate

import (
	"cmp"
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
)

var barStyles = map[string]engraving.BarStyle{
	"regular": engraving.BarOrdinary, "light-light": engraving.BarDouble, "light-heavy": engraving.BarFinal, "heavy": engraving.BarHeavy,
	"heavy-light": engraving.BarHeavyThin, "heavy-heavy": engraving.BarHeavyHeavy, "dashed": engraving.BarDashed, "dotted": engraving.BarDotted,
	"tick": engraving.BarTick, "short": engraving.BarShort, "none": engraving.BarNone,
}

// barline reads the lines at the edges of the bar, repeats and endings.
func (m *measureReader) barline(e *musicxml.Event) {
	bar := &m.music.Bars[m.bar]
	line := engraving.Barline{Style: barStyles[musicxml.ChildText(e.Element, "bar-style")]}
	line.Repeat = musicxml.Child(e.Element, "repeat") != nil
	for _, sign := range []string{"fermata", "segno", "coda"} {
		if musicxml.Child(e.Element, sign) != nil {
			line.Sign = sign
		}
	}
	switch musicxml.Attr(e.Element, "location") {
	case "left":
		bar.Left = line
	case "middle":
		if line.Style != engraving.BarNone && e.Onset.Sign() > 0 {
			m.change1(0, engraving.Change{Onset: e.Onset, Barline: max(line.Style, engraving.BarOrdinary)})
		}
		return
	default:
		bar.Right = line
	}
	m.ending(e)
}

// ending reads the ending that begins or ends at a barline. One that is printed as
// nothing is none.
func (m *measureReader) ending(e *musicxml.Event) {
	ending := musicxml.Child(e.Element, "ending")
	if ending == nil || musicxml.Attr(ending, "print-object") == "no" {
		return
	}
	bar := &m.music.Bars[m.bar]
	switch musicxml.Attr(ending, "type") {
	case "start":
		bar.Ending.Start, bar.Ending.Over = true, true
		bar.Ending.Text = cmp.Or(musicxml.Text(ending), endingNumber(musicxml.Attr(ending, "number")))
	case "stop":
		bar.Ending.Stop, bar.Ending.Over = true, true
	case "discontinue":
		bar.Ending.Leaves, bar.Ending.Over = true, true
	}
}

// endingNumber is how the times of an ending are printed: "1, 2" is "1. 2.".
func endingNumber(number string) string {
	times := strings.FieldsFunc(number, func(r rune) bool { return r == ',' || r == ' ' })
	for i := range times {
		times[i] += "."
	}
	return strings.Join(times, " ")
}

// spanEndings lets an open ending's bracket go on over the bars inside it.
func spanEndings(m *engraving.Music) {
	open := false
	for b := range m.Bars {
		e := &m.Bars[b].Ending
		if e.Start {
			open = true
		}
		if open {
			e.Over = true
		}
		if e.Stop || e.Leaves {
			open = false
		}
	}
}
