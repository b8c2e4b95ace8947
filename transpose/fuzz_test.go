package transpose_test

import (
	"testing"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// FuzzInterval checks that intervals undo each other on any pitch, agree with
// base 40 where it has room, and that every pitch can be read as it is written.
func FuzzInterval(f *testing.F) {
	f.Add(0, int64(0), 4, -1, -2)
	f.Add(6, int64(-1_500_000_000_000), 0, 3, 6)
	f.Add(3, int64(2_000_000_000_000), 9, -7, -12)
	for _, row := range base40Intervals {
		f.Add(row.number%7, int64(row.number%3-1)*1_000_000_000_000, row.number%10, row.interval.Diatonic, row.interval.Chromatic)
	}
	f.Fuzz(func(t *testing.T, step int, alter int64, octave, diatonic, chromatic int) {
		p := pitch.Pitch{Step: pitch.Step(wrap(step, 7)), Alter: pitch.Alter(alter % (4 * int64(pitch.Semitone))), Octave: octave % 10}
		by := pitch.Interval{Diatonic: diatonic % 1000, Chromatic: chromatic % 1000}
		moved := by.Apply(p)
		if back := by.Negate().Apply(moved); back != p {
			t.Fatalf("%v by %v and back is %v", p, by, back)
		}
		if between, whole := pitch.Between(p, moved); !whole || between != by {
			t.Fatalf("from %v to %v lies %v, not %v", p, moved, between, by)
		}
		if by.String() == "" || by.Name() == "" {
			t.Fatal("an interval without a name")
		}
		if again, err := pitch.Parse(p.String()); err != nil || again != p {
			t.Fatalf("%v is read as %v, %v", p, again, err)
		}
		a, ok := base40(p)
		b, room := base40(moved)
		if ok && room {
			// The difference depends on the interval alone.
			c := pitch.Pitch{Step: pitch.C, Octave: 4}
			from, _ := base40(c)
			if to, fits := base40(by.Apply(c)); fits && b-a != to-from {
				t.Fatalf("%v by %v is %d in base 40, from C4 it is %d", p, by, b-a, to-from)
			}
		}
	})
}

// wrap folds any number into 0 to n−1.
func wrap(i, n int) int { return ((i % n) + n) % n }

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
		o := transpose.Options{MaxSignature: int(limit), AsPrinted: ways&1 != 0, ConcertScore: ways&2 != 0, FreshSigns: ways&4 != 0}
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
				if read, err := transpose.ReadPitch(p); err == nil {
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
