package svgread

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Line is one system: its staves from top to bottom.
type Line struct {
	Staves []Staff
}

// Staff is one staff of one line.
type Staff struct {
	// Title and Text are its text alternative.
	Title, Text string
	Lines       int
	Bars        []Bar
}

// Bar is what stands between two barlines.
type Bar struct {
	// Number is the data-bar attribute.
	Number int
	Notes  []Note
}

// Note is a head with the pitch that a player reads.
type Note struct {
	// Step is C to B as 0 to 6; Octave 4 begins with middle C; Alter is in
	// semitones.
	Step, Octave int
	Alter        float64
	// X and Y are the head's place in drawing units.
	X, Y float64
	// Printed is the accidental that stands before it, "" for none.
	Printed string
}

// String writes the pitch in ASCII: "F#4".
func (n Note) String() string {
	return pitch.Pitch{Step: pitch.Step(n.Step), Alter: pitch.Alter(n.Alter * float64(pitch.Semitone)), Octave: n.Octave}.String()
}

var errNoMusic = errors.New("no <svg class=\"music\"> in the text")

// Read reads every line of music in SVG or HTML text that is well-formed XML.
// Ties and accidentals are followed from line to line, so give the lines of one
// drawing together, in order.
func Read(text string) ([]Line, error) {
	doc := etree.NewDocument()
	if err := doc.ReadFromString(text); err != nil {
		return nil, fmt.Errorf("read drawn music: %w", err)
	}
	var lines []Line
	pending := map[int]map[int]float64{} // by staff: pitch of open ties → alteration
	for _, svg := range doc.FindElements("//svg") {
		if !hasClass(svg, "music") {
			continue
		}
		var l Line
		for i, g := range svg.SelectElements("g") {
			if hasClass(g, "staff") {
				reader := staffReader{open: pending[i]}
				staff, err := reader.read(g)
				if err != nil {
					return nil, fmt.Errorf("line %d, staff %d: %w", len(lines)+1, len(l.Staves)+1, err)
				}
				pending[i] = reader.left
				l.Staves = append(l.Staves, staff)
			}
		}
		lines = append(lines, l)
	}
	if len(lines) == 0 {
		return nil, errNoMusic
	}
	return lines, nil
}

func hasClass(e *etree.Element, name string) bool {
	return slices.Contains(strings.Fields(e.SelectAttrValue("class", "")), name)
}

// glyph is a sign at its place.
type glyph struct {
	name string
	x, y float64
}

// sign is something that a reader meets from left to right in a bar.
type sign struct {
	x          float64
	clef, key  []glyph // a clef or signature
	octave     int     // of a clef with figures
	head       *glyph
	accidental *glyph
}

// staffReader reads one staff of one line.
type staffReader struct {
	open, left map[int]float64
	clef       int             // steps from C0 of the line y = 0
	signature  map[int]float64 // by step
	ties       []tie
	notes      []*Note
}

func (r *staffReader) read(g *etree.Element) (Staff, error) {
	r.signature, r.left = map[int]float64{}, map[int]float64{}
	r.clef = trebleMiddle // until a clef stands there
	staff := Staff{Title: musicxml.ChildText(g, "title"), Text: musicxml.ChildText(g, "desc")}
	for _, e := range g.ChildElements() {
		if err := r.child(&staff, e); err != nil {
			return staff, err
		}
	}
	for b := range staff.Bars {
		for n := range staff.Bars[b].Notes {
			r.notes = append(r.notes, &staff.Bars[b].Notes[n])
		}
	}
	r.followTies()
	return staff, nil
}

func (r *staffReader) child(staff *Staff, e *etree.Element) error {
	switch {
	case e.Tag == "path" && hasClass(e, "lines"):
		staff.Lines = strings.Count(e.SelectAttrValue("d", ""), "M")
	case e.Tag == "path" && hasClass(e, "tie"):
		t, err := readTie(e.SelectAttrValue("d", ""))
		r.ties = append(r.ties, t)
		return err
	case hasClass(e, "clef"), hasClass(e, "key"):
		s, err := readGroup(e)
		if err != nil || len(staff.Bars) > 0 {
			return err // after the last barline: for the next line
		}
		r.take(s)
	case e.Tag == "g" && e.SelectAttr("data-bar") != nil:
		bar, err := r.bar(e)
		staff.Bars = append(staff.Bars, bar)
		return err
	}
	return nil
}

// readGroup reads a clef or signature.
func readGroup(e *etree.Element) (sign, error) {
	var list []glyph
	for _, use := range e.SelectElements("use") {
		g, err := readUse(use)
		if err != nil {
			return sign{}, err
		}
		list = append(list, g)
	}
	if len(list) == 0 {
		return sign{}, errors.New("an empty clef or signature")
	}
	if hasClass(e, "key") {
		return sign{x: list[0].x, key: list}, nil
	}
	s := sign{x: list[0].x, clef: list}
	for _, figure := range e.SelectElements("text") {
		y, _ := strconv.ParseFloat(figure.SelectAttrValue("y", ""), 64)
		octaves := map[string]int{"8": 1, "15": 2, "22": 3}[figure.Text()]
		if y > list[0].y {
			octaves = -octaves
		}
		s.octave = octaves
	}
	return s, nil
}

func readUse(e *etree.Element) (glyph, error) {
	name := strings.TrimPrefix(e.SelectAttrValue("href", ""), "#dp-")
	x, errX := strconv.ParseFloat(e.SelectAttrValue("x", ""), 64)
	y, errY := strconv.ParseFloat(e.SelectAttrValue("y", ""), 64)
	if errX != nil || errY != nil {
		return glyph{}, fmt.Errorf("%s without a place", name)
	}
	return glyph{strings.TrimSuffix(name, "-s"), x, y}, nil
}

// take brings a clef or signature into force.
func (r *staffReader) take(s sign) {
	if s.clef != nil {
		reference, known := clefReferences[s.clef[0].name]
		r.clef = trebleMiddle
		if known {
			r.clef = reference + 7*s.octave + int(math.Round(s.clef[0].y/5)) // it names the line it stands on
		}
	}
	if s.key == nil {
		return
	}
	r.signature = map[int]float64{}
	for _, g := range s.key {
		if alter := alterations[g.name]; alter != 0 {
			r.signature[mod7(r.steps(g.y))] = alter
		}
	}
}

// trebleMiddle is the B of a treble clef's middle line, in steps from C0.
const trebleMiddle = 34

// clefReferences are the pitches of the lines that clefs stand on: the G above middle C,
// the F below it, middle C. Percussion and tablature are read as in a treble clef.
var clefReferences = map[string]int{"clef-g": 32, "clef-g-up": 39, "clef-g-down": 25, "clef-f": 24, "clef-f-up": 31, "clef-f-down": 17, "clef-c": 28}

// steps is the pitch of a height, in steps from C0.
func (r *staffReader) steps(y float64) int { return r.clef - int(math.Round(y/5)) }

func mod7(n int) int { return ((n % 7) + 7) % 7 }

// bar reads one bar from left to right.
func (r *staffReader) bar(e *etree.Element) (Bar, error) {
	number, err := strconv.Atoi(e.SelectAttrValue("data-bar", ""))
	if err != nil {
		return Bar{}, fmt.Errorf("data-bar: %w", err)
	}
	bar := Bar{Number: number}
	var signs []sign
	for _, c := range e.ChildElements() {
		switch {
		case hasClass(c, "clef"), hasClass(c, "key"):
			s, err := readGroup(c)
			if err != nil {
				return bar, err
			}
			signs = append(signs, s)
		case c.Tag == "use" && !hasClass(c, "auxiliary") && !hasClass(c, "mark"):
			g, err := readUse(c)
			if err != nil {
				return bar, err
			}
			if _, accidental := alterations[g.name]; accidental {
				signs = append(signs, sign{x: g.x, accidental: &g})
			} else if strings.HasPrefix(g.name, "head-") {
				signs = append(signs, sign{x: g.x, head: &g})
			}
		}
	}
	slices.SortStableFunc(signs, func(a, b sign) int { return cmp.Compare(a.x, b.x) })
	r.readSigns(&bar, signs)
	return bar, nil
}

// readSigns follows a bar: an accidental holds for its line or space to the end.
func (r *staffReader) readSigns(bar *Bar, signs []sign) {
	inForce := map[int]float64{}
	// waiting accidentals, by height: one holds for all heads there, several for
	// one head each, in order.
	waiting := map[float64][]*glyph{}
	for _, s := range signs {
		switch {
		case s.head == nil && s.accidental == nil:
			r.take(s)
			if s.key != nil {
				inForce = map[int]float64{}
			}
		case s.accidental != nil:
			waiting[s.accidental.y] = append(waiting[s.accidental.y], s.accidental)
		default:
			bar.Notes = append(bar.Notes, r.note(s.head, inForce, waiting))
		}
	}
}

func (r *staffReader) note(h *glyph, inForce map[int]float64, waiting map[float64][]*glyph) Note {
	steps := r.steps(h.y)
	n := Note{Step: mod7(steps), Octave: (steps - mod7(steps)) / 7, X: h.x, Y: h.y}
	if queue := waiting[h.y]; len(queue) > 0 {
		n.Printed = queue[0].name
		inForce[steps] = alterations[n.Printed]
		waiting[h.y] = queue[1:]
	}
	alter, changed := inForce[steps]
	if !changed {
		alter = r.signature[n.Step]
	}
	n.Alter = alter
	return n
}
