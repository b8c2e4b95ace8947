package transpose_test

import (
	"testing"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// FuzzMove moves any part that can be laid out in time, by any transposition, in
// any of the ways that there are. Nothing panics; what is accepted comes back,
// pitch by pitch and chord by chord.
func FuzzMove(f *testing.F) {
	for i, part := range []string{
		"key:5 B4 F#4~ | key:4 ~F#4 F#4", "key1:0 key2:-1 C5 back:1 s2:Bb3+flat", "key:2 tr:-1,-2 D4 | key:0 tr:0,0,1 g:C5 C5",
		"key!2 F#4+sharp(cautionary) &A4 h:C4", "key:0 F#5+sharp*2 back:2 v2:F5+natural v2:F(0.5)5", "fp:-1,-2 clef:TAB C4",
	} {
		f.Add(text(partOf(f, part)), int8(-2), int8(-3), int8(0), uint8(6), uint8(i))
	}
	for _, part := range []string{
		`<part><measure><attributes><key><key-step>F</key-step><key-alter>1</key-alter><key-accidental>sharp</key-accidental><key-octave number="1">5</key-octave></key></attributes></measure></part>`,
		`<part><measure><harmony><root><root-step text="Bb">B</root-step><root-alter>-1</root-alter></root><kind text="m7/F">minor</kind><frame><frame-strings>6</frame-strings><frame-frets>4</frame-frets><frame-note><string>1</string><fret>3</fret></frame-note></frame></harmony><figured-bass><figure><prefix>sharp</prefix><figure-number>6</figure-number></figure></figured-bass><note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><notations><ornaments><turn/><accidental-mark>flat</accidental-mark></ornaments></notations></note></measure></part>`,
	} {
		f.Add(part, int8(-1), int8(-2), int8(-1), uint8(6), uint8(0))
	}
	f.Fuzz(func(t *testing.T, xml string, diatonic, chromatic, octaves int8, limit, ways uint8) {
		part, own := readPart(xml)
		if part == nil {
			return
		}
		before := pitchesAndRoots(part)
		o := transpose.Options{MaxSignature: int(limit), AsPrinted: ways&1 != 0, ConcertScore: ways&2 != 0, FreshAccidentals: ways&4 != 0}
		o.Stretches = []transpose.Stretch{{
			To:               transpose.Transposition{Diatonic: int(diatonic), Chromatic: int(chromatic), OctaveChange: int(octaves) % 4},
			WithoutSignature: ways&8 != 0,
		}}
		timeline, _ := musicxml.NewTimeline(part)
		result, err := transpose.Move(timeline, o)
		if err != nil {
			return
		}
		moved, err := musicxml.NewTimeline(part)
		if err != nil {
			t.Fatalf("the moved part cannot be laid out: %v\n%s", err, text(part))
		}
		back := transpose.Options{Stretches: own, MaxSignature: int(limit), AsPrinted: o.AsPrinted}
		if o.ConcertScore || result.Respelled > 0 {
			// A concert score is led back by its <for-part>; what was respelled has
			// another letter now.
			return
		}
		if _, err := transpose.Move(moved, back); err != nil {
			t.Fatalf("the way back fails: %v\n%s", err, text(part))
		}
		after := pitchesAndRoots(part)
		if len(after) != len(before) {
			t.Fatalf("%d pitches and roots are %d on the way back", len(before), len(after))
		}
		for i := range before {
			if before[i] != after[i] {
				t.Fatalf("%s comes back as %s\n%s", before[i], after[i], text(part))
			}
		}
	})
}

// readPart reads a part and its stretches, or returns nil where it cannot be
// laid out or moved at all.
func readPart(xml string) (*etree.Element, []transpose.Stretch) {
	doc, err := musicxml.ParseDocument([]byte(xml), musicxml.ReadOptions{})
	if err != nil || doc.Root() == nil {
		return nil, nil
	}
	part := doc.Root()
	part.Remove()
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil, nil
	}
	own, err := transpose.Stretches(timeline)
	if err != nil {
		return nil, nil
	}
	return part, own
}

// pitchesAndRoots lists what sounds and what chords are built on, by letter and
// sign.
func pitchesAndRoots(part *etree.Element) []string {
	var list []string
	for _, m := range part.SelectElements("measure") {
		for _, e := range m.ChildElements() {
			if p := e.SelectElement("pitch"); p != nil && e.Tag == "note" {
				if read, err := music.ReadPitch(p); err == nil {
					list = append(list, read.String())
				}
			}
			if r := e.FindElement("root"); r != nil && e.Tag == "harmony" {
				alter, _ := pitch.ParseAlter(musicxml.ChildText(r, "root-alter"))
				list = append(list, musicxml.ChildText(r, "root-step")+alter.String())
			}
		}
	}
	return list
}
