package explain

import (
	"math"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
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

// tempoOf is the last tempo that a measure sets.
func tempoOf(m *etree.Element) int {
	tempo := 0
	for _, e := range m.ChildElements() {
		if n := music.Tempo(e); n > 0 && n < 10000 {
			tempo = int(math.Round(n))
		}
	}
	return tempo
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
