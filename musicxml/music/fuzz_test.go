package music_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

// FuzzRead reads any part that can be laid out in time. Nothing panics; every note,
// mark and change of the document is there once and in order, ties and spans know
// both their ends and do not end before they begin, and the tree stays as it was.
func FuzzRead(f *testing.F) {
	f.Add(`<part><measure><attributes><divisions>4</divisions></attributes>` + note("C4", 4, tieStart, slur("start")) + note("C4", 0, tieStop) + backup(4) + note("C4", 8, tiedStop, slur("stop"), "v2", "s2") + `</measure></part>`)
	f.Add(`<part><measure><attributes><transpose><chromatic>-2</chromatic></transpose><key><fifths>2</fifths></key></attributes>` + direction(`<wedge type="crescendo"/>`, `<offset>9</offset>`) + note("<unpitched/>", 4) + `<barline><ending number="1" type="stop"/></barline></measure></part>`)
	files, _ := filepath.Glob("../testdata/*.musicxml")
	for _, file := range files {
		if data, err := os.ReadFile(file); err == nil {
			f.Add(string(data))
		}
	}
	f.Fuzz(func(t *testing.T, xml string) {
		doc := etree.NewDocument()
		if len(xml) > 1<<16 || doc.ReadFromString(xml) != nil || doc.Root() == nil {
			t.Skip()
		}
		part := doc.Root()
		if p := part.FindElement("//part"); p != nil {
			part = p
		}
		before, _ := doc.WriteToString()
		timeline, err := musicxml.NewTimeline(part)
		if err != nil {
			t.Skip()
		}
		p, err := music.Read(timeline)
		if err != nil {
			t.Skip()
		}
		checkNotes(t, p)
		checkSpans(t, p)
		if after, _ := doc.WriteToString(); after != before {
			t.Fatal("the tree was changed")
		}
	})
}

// checkNotes holds the notes against the events, and their ties against each other.
func checkNotes(t *testing.T, p *music.Part) {
	next := 0
	for i := range p.Measures {
		m := &p.Measures[i]
		for k := range m.Events {
			if m.Events[k].Kind != musicxml.Note {
				continue
			}
			if n := &p.Notes[next]; n.Event != &m.Events[k] || n.Measure != i {
				t.Fatalf("note %d is not that of bar %d, event %d", next, i, k)
			}
			next++
		}
		chords := 0
		for chord := range m.Chords() {
			chords += len(chord)
		}
		if chords != len(m.Notes) {
			t.Fatalf("%d notes of bar %d are in chords, of %d", chords, i, len(m.Notes))
		}
	}
	if next != len(p.Notes) {
		t.Fatalf("%d notes of %d", next, len(p.Notes))
	}
	marks := 0
	for i := range p.Notes {
		n := &p.Notes[i]
		marks += len(n.Marks)
		if to := n.TiedTo; to != nil && (to.TiedFrom != n || to.Start != n.End() || !n.Ties.Start() || !to.Ties.Stop()) {
			t.Fatalf("the tie of note %d is none", i)
		}
		if n.TiedFrom != nil && n.TiedFrom.TiedTo != n {
			t.Fatalf("the tie to note %d is none", i)
		}
		if n.Held().Valid() && n.Held().Less(n.Duration) {
			t.Fatalf("note %d is held shorter than it is", i)
		}
	}
	for i := range p.Marks {
		if p.Marks[i].Note != nil {
			marks--
		}
	}
	if marks != 0 {
		t.Fatalf("%d marks at notes too many", marks)
	}
}

// checkSpans holds the ends of spans against each other.
func checkSpans(t *testing.T, p *music.Part) {
	ends := 0
	for i := range p.Spans {
		s := &p.Spans[i]
		if s.Start == nil && s.Stop == nil {
			t.Fatal("a span without ends")
		}
		for _, m := range []*music.Mark{s.Start, s.Stop} {
			if m == nil {
				continue
			}
			ends++
			if m.Span != s || m.Element.Tag != s.Kind {
				t.Fatal("a mark of another span")
			}
		}
		if s.Start != nil && s.Stop != nil && s.Stop.At(p).Less(s.Start.At(p)) {
			t.Fatal("a span ends before it begins")
		}
	}
	for i := range p.Marks {
		if role := p.Marks[i].Role; role == music.Starts || role == music.Stops {
			ends--
		}
	}
	if ends != 0 {
		t.Fatalf("%d ends of spans too many", ends)
	}
}
