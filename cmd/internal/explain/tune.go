package explain

import (
	"fmt"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Tune is a melody to be written down on one staff.
type Tune struct {
	// Key is nil for music without a key signature.
	Key *pitch.Key
	// Beats and BeatType are the time signature, "" for none.
	Beats, BeatType string
	Clef            instruments.Clef
	// Transpose is what the music says of its own pitch. Default: it sounds as
	// written, and says nothing.
	Transpose transpose.Transposition
	Bars      []Bar
}

// Bar is one bar of a tune.
type Bar struct {
	Notes []Note
	// Upbeat is a first bar that is not full and has no number.
	Upbeat bool
	// Key is a signature that changes here. Default: it stays.
	Key *pitch.Key
	// Clef is one that changes here. Default: it stays.
	Clef *instruments.Clef
	// Open leaves out the barline at the right. Default: an ordinary one, and a
	// final one at the end.
	Open bool
}

// Note is a note, a chord or a rest.
type Note struct {
	// Pitches of a chord in any order; none for a rest.
	Pitches []pitch.Pitch
	Value   engraving.Value
	Dots    int
	// Ratio is the time of a tuplet's note; TupletStart and TupletStop are the
	// tuplet's ends.
	Ratio                   engraving.Ratio
	TupletStart, TupletStop bool
	// TieStart and TieStop tie the note to the next one and the last one.
	TieStart, TieStop bool
}

// Length is the note's time in quarter notes.
func (n Note) Length() musicxml.Fraction { return engraving.Length(n.Value, n.Dots, n.Ratio) }

// rowBar is how many notes of a row stand in a bar.
const rowBar = 4

// FromPitches is a tune of single notes in a row, without rhythm, a few to a bar: an
// accidental holds to the next barline as in any music, and each that is needed is
// printed.
func FromPitches(pitches []pitch.Pitch, key *pitch.Key, clef instruments.Clef) Tune {
	t := Tune{Key: key, Clef: clef}
	if len(pitches) == 0 {
		t.Bars = []Bar{{Open: true}}
	}
	for i, p := range pitches {
		if i%rowBar == 0 {
			t.Bars = append(t.Bars, Bar{})
		}
		bar := &t.Bars[len(t.Bars)-1]
		bar.Notes = append(bar.Notes, Note{Pitches: []pitch.Pitch{p}, Value: engraving.Whole})
	}
	return t
}

// Part writes the tune as a <part> with every accidental that a reader needs.
// The error names a note that MusicXML or print has no sign for.
func (t Tune) Part() (*etree.Element, error) {
	part := etree.NewElement("part")
	part.CreateAttr("id", PartID)
	number := 1
	divisions := t.divisions()
	fifths := 0
	if t.Key != nil {
		fifths = t.Key.Fifths
	}
	for i, bar := range t.Bars {
		m := part.CreateElement("measure")
		if bar.Upbeat {
			m.CreateAttr("number", "0")
			m.CreateAttr("implicit", "yes")
		} else {
			m.CreateAttr("number", strconv.Itoa(number))
			number++
		}
		if i == 0 {
			t.attributes(m, divisions)
		}
		if bar.Key != nil {
			fifths = bar.Key.Fifths
			keyElement(m.CreateElement("attributes"), *bar.Key)
		}
		if bar.Clef != nil {
			m.CreateElement("attributes").AddChild(clefElement(*bar.Clef))
		}
		if err := t.bar(m, bar, divisions, fifths); err != nil {
			return nil, err
		}
		barline(m, bar, i == len(t.Bars)-1)
	}
	return part, nil
}

// divisions of a quarter note that hold every length of the tune.
func (t Tune) divisions() int64 {
	divisions := int64(1)
	for _, b := range t.Bars {
		for _, n := range b.Notes {
			divisions *= musicxml.NewFraction(divisions, n.Length().Den()).Den() // the least that both divide
		}
	}
	return divisions
}

// attributes opens the first bar.
func (t Tune) attributes(m *etree.Element, divisions int64) {
	a := m.CreateElement("attributes")
	text(a, "divisions", strconv.FormatInt(divisions, 10))
	if t.Key != nil {
		keyElement(a, *t.Key)
	}
	time := a.CreateElement("time")
	if t.Beats == "" {
		time.CreateAttr("print-object", "no")
		text(time, "senza-misura", "")
	} else {
		text(time, "beats", t.Beats)
		text(time, "beat-type", t.BeatType)
	}
	a.AddChild(clefElement(t.Clef))
	if t.Transpose != (transpose.Transposition{}) {
		t.Transpose.Write(a.CreateElement("transpose"))
	}
}

// keyElement writes a <key>.
func keyElement(attributes *etree.Element, key pitch.Key) {
	k := attributes.CreateElement("key")
	text(k, "fifths", strconv.Itoa(key.Fifths))
	if key.Mode != pitch.Unsaid {
		text(k, "mode", string(key.Mode))
	}
}

// Pitches are all pitches of the tune.
func (t Tune) Pitches() []pitch.Pitch {
	var list []pitch.Pitch
	for _, b := range t.Bars {
		for _, n := range b.Notes {
			list = append(list, n.Pitches...)
		}
	}
	return list
}

// bar writes the notes of a bar.
func (t Tune) bar(m *etree.Element, bar Bar, divisions int64, fifths int) error {
	signs := signs{fifths, map[[2]int]pitch.Alter{}}
	for _, n := range bar.Notes {
		duration := n.Length().Mul(musicxml.NewFraction(divisions, 1)).String()
		if len(n.Pitches) == 0 {
			e := m.CreateElement("note")
			e.CreateElement("rest")
			n.finish(e, duration)
			continue
		}
		for i, p := range n.Pitches {
			e := m.CreateElement("note")
			if i > 0 {
				e.CreateElement("chord")
			}
			if err := music.WritePitch(e.CreateElement("pitch"), p); err != nil {
				return err
			}
			n.finish(e, duration)
			if err := signs.print(e, p, n.TieStop); err != nil {
				return err
			}
		}
	}
	return nil
}

// finish writes what follows the pitch of a <note>, in the schema's order.
func (n Note) finish(e *etree.Element, duration string) {
	text(e, "duration", duration)
	pitched := len(n.Pitches) > 0
	if n.TieStop && pitched {
		e.CreateElement("tie").CreateAttr("type", "stop")
	}
	if n.TieStart && pitched {
		e.CreateElement("tie").CreateAttr("type", "start")
	}
	text(e, "voice", "1")
	text(e, "type", n.Value.String())
	for range n.Dots {
		e.CreateElement("dot")
	}
	if n.Ratio.Actual > 0 {
		r := e.CreateElement("time-modification")
		text(r, "actual-notes", strconv.Itoa(n.Ratio.Actual))
		text(r, "normal-notes", strconv.Itoa(n.Ratio.Normal))
	}
	n.notations(e, pitched)
}

func (n Note) notations(e *etree.Element, pitched bool) {
	tied := pitched && (n.TieStart || n.TieStop)
	first := e.SelectElement("chord") == nil
	tuplet := first && (n.TupletStart || n.TupletStop)
	if !tied && !tuplet {
		return
	}
	notations := e.CreateElement("notations")
	mark := func(tag, kind string, wanted bool) {
		if wanted {
			notations.CreateElement(tag).CreateAttr("type", kind)
		}
	}
	mark("tied", "stop", pitched && n.TieStop)
	mark("tied", "start", pitched && n.TieStart)
	mark("tuplet", "start", first && n.TupletStart)
	mark("tuplet", "stop", first && n.TupletStop)
}

// barline writes a right barline that is not an ordinary one.
func barline(m *etree.Element, bar Bar, last bool) {
	style := ""
	switch {
	case last && !bar.Open:
		style = "light-heavy"
	case bar.Open && !last:
		style = "none"
	}
	if style == "" {
		return
	}
	b := m.CreateElement("barline")
	b.CreateAttr("location", "right")
	text(b, "bar-style", style)
}

func clefElement(c instruments.Clef) *etree.Element {
	e := etree.NewElement("clef")
	text(e, "sign", c.Sign)
	text(e, "line", strconv.Itoa(c.Line))
	if c.OctaveChange != 0 {
		text(e, "clef-octave-change", strconv.Itoa(c.OctaveChange))
	}
	return e
}

func text(e *etree.Element, tag, content string) {
	c := e.CreateElement(tag)
	if content != "" {
		c.SetText(content)
	}
}

// signs works out which accidentals a bar prints.
type signs struct {
	fifths int
	seen   map[[2]int]pitch.Alter // by step and octave
}

// print adds the <accidental> that a reader needs at a note.
func (s signs) print(e *etree.Element, p pitch.Pitch, tied bool) error {
	place := [2]int{int(p.Step), p.Octave}
	now, seen := s.seen[place]
	if !seen {
		now = pitch.Semitones(pitch.SignatureAlter(s.fifths, p.Step))
	}
	if now == p.Alter || tied {
		return nil
	}
	name, ok := transpose.AccidentalName(p.Alter)
	if !ok {
		return fmt.Errorf("no accidental stands for %s", p)
	}
	s.seen[place] = p.Alter
	a := etree.NewElement("accidental")
	a.SetText(name)
	musicxml.AddInOrder(e, a)
	return nil
}
