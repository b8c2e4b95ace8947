package notate

import (
	"cmp"
	"slices"
	"unicode/utf8"

	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
)

// readLyrics reads the syllables; verses are numbered in the order they appear. Those of
// notes that are not printed are not printed either, unless they say so (MusicXML 4.0,
// print-lyric).
func (m *measureReader) readLyrics(event *engraving.Event, n *music.Note) {
	if shown := musicxml.Attr(n.Element, "print-lyric"); shown == "no" || n.Hidden && shown != "yes" {
		return
	}
	for i := range n.Marks {
		l := n.Marks[i].Element
		if l.Tag != "lyric" || n.Marks[i].Hidden {
			continue
		}
		key := musicxml.Attr(l, "number") + "/" + musicxml.Attr(l, "name")
		for slices.ContainsFunc(event.Lyrics, func(l engraving.Lyric) bool { return l.Verse == m.verses[key] }) {
			key += "'" // a second text of that number at one note
		}
		if m.verses[key] == 0 {
			m.verses[key] = len(m.verses) + 1
		}
		lyric := engraving.Lyric{Verse: m.verses[key], Above: musicxml.Attr(l, "placement") == "above"}
		for _, child := range l.ChildElements() {
			switch child.Tag {
			case "syllabic":
				kind := musicxml.Text(child)
				lyric.Hyphen = kind == "begin" || kind == "middle"
			case "text":
				lyric.Text += fontLetters.Replace(musicxml.Text(child))
			case "elision":
				lyric.Text += "‿"
			case "extend":
				kind := musicxml.Attr(child, "type")
				lyric.Extend = kind == "" || kind == "start"
			case "laughing", "humming":
				lyric.Text += "(" + child.Tag + ")"
			}
		}
		if lyric.Text != "" {
			event.Lyrics = append(event.Lyrics, lyric)
		}
	}
}

// dropAnalysis leaves out lyrics that are the letters of an analysis, as editions
// have them to name themes: here and there a single letter, and no word in the part.
// They are listed as not drawn.
func (r *partReader) dropAnalysis() {
	count := 0
	for e := range r.events {
		for _, lyric := range e.Lyrics {
			if utf8.RuneCountInString(lyric.Text) > 1 || lyric.Hyphen || lyric.Extend {
				return
			}
			count++
		}
	}
	if count == 0 || count*3 > len(r.part.Notes) {
		return // what stands at most notes is sung, be it one vowel
	}
	for e, bar := range r.events {
		for range e.Lyrics {
			r.census.miss("lyric (letters of an analysis)", bar)
		}
		e.Lyrics = nil
	}
}

// events goes through what stands in the voices of the part, with the index of its bar.
func (r *partReader) events(yield func(*engraving.Event, int) bool) {
	for s := range r.music.Staves {
		for b := range r.music.Staves[s].Measures {
			for e := range r.music.Staves[s].Measures[b].Events() {
				if !yield(e, b) {
					return
				}
			}
		}
	}
}

// clearVerses puts dynamics, hairpins and words over the staves that are sung from,
// unless the part says where they stand.
func (r *partReader) clearVerses() {
	for s := range r.music.Staves {
		staff := &r.music.Staves[s]
		if !staffSings(staff) {
			continue
		}
		for i := range staff.Spanners {
			staff.Spanners[i].Side = cmp.Or(staff.Spanners[i].Side, engraving.Above)
		}
		for b := range staff.Measures {
			for i := range staff.Measures[b].Marks {
				mark := &staff.Measures[b].Marks[i]
				mark.Side = cmp.Or(mark.Side, engraving.Above)
			}
		}
	}
}

func staffSings(s *engraving.Staff) bool {
	return slices.ContainsFunc(s.Measures, func(m engraving.Measure) bool { return slices.ContainsFunc(m.Voices, sings) })
}
