package explain

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
)

// usualTempo is that of music that says none, in quarter notes a minute.
const usualTempo = 96

// tempoBounds are what a page offers.
const slowest, fastest = 30, 208

// tempo is how fast the given music goes, in quarter notes a minute.
func (e *Explanation) tempo() int {
	if n := tempoIn(e.Solution.Given); n > 0 {
		return max(slowest, min(fastest, n))
	}
	return usualTempo
}

// tempoIn reads the first tempo of a part; 0 where it says none.
func tempoIn(part *etree.Element) int {
	for _, m := range musicxml.Children(part, "measure") {
		if n := tempoOf(m); n > 0 {
			return n
		}
	}
	return 0
}

// tempoOf is the last tempo that a measure sets: by its <sound>, in quarter notes a
// minute (MusicXML 4.0, sound), or by a metronome mark.
func tempoOf(m *etree.Element) int {
	tempo := 0
	for _, e := range m.ChildElements() {
		sounds := musicxml.Children(e, "sound")
		if e.Tag == "sound" {
			sounds = []*etree.Element{e}
		}
		said := 0
		for _, s := range sounds {
			if n, err := strconv.ParseFloat(musicxml.Attr(s, "tempo"), 64); err == nil && n > 0 && n < 1000 {
				said = int(math.Round(n))
			}
		}
		if said == 0 {
			said = metronome(e)
		}
		if said > 0 {
			tempo = said
		}
	}
	return tempo
}

// beatUnits are the values of a metronome mark in quarter notes.
var beatUnits = map[string]float64{"whole": 4, "half": 2, "quarter": 1, "eighth": 0.5, "16th": 0.25}

// metronome reads a mark such as a dotted quarter note = 66.
func metronome(direction *etree.Element) int {
	mark := direction.FindElement("direction-type/metronome")
	if mark == nil {
		return 0
	}
	unit := beatUnits[musicxml.ChildText(mark, "beat-unit")]
	if len(musicxml.Children(mark, "beat-unit-dot")) > 0 {
		unit *= 1.5
	}
	n, err := strconv.ParseFloat(musicxml.ChildText(mark, "per-minute"), 64)
	if err != nil || n <= 0 || n > 1000 {
		return 0
	}
	return int(math.Round(n * unit))
}

// setTempo notes a tempo down in the first measure, where it is heard and not seen.
func setTempo(part *etree.Element, tempo int) {
	measures := musicxml.Children(part, "measure")
	if tempo == 0 || len(measures) == 0 {
		return
	}
	sound := etree.NewElement("sound")
	sound.CreateAttr("tempo", strconv.Itoa(tempo))
	at := 0
	for _, e := range measures[0].ChildElements() {
		if e.Tag == "attributes" || e.Tag == "print" {
			at = e.Index() + 1
			continue
		}
		break
	}
	measures[0].InsertChildAt(at, sound)
}

// TextAt is the text of the first element on a path, "" for none.
func TextAt(part *etree.Element, path string) string {
	if e := part.FindElement(path); e != nil {
		return e.Text()
	}
	return ""
}
