package partstest

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
)

// Part is a part that was made.
type Part struct {
	Index    int // of the part of the score, from 0
	Document *etree.Document
	Player   bool // one player of a shared staff
	Moved    bool // the plan gave it to another instrument or octave: it need not sound alike
	RestBars int  // how many empty bars are joined; 0 is never
	Harp     bool
	// Warned are the numbers of measures for which the copyist said that a pause
	// of other parts was not added.
	Warned map[string]bool
	// Readable allows other spellings than the interval's.
	Readable bool
}

// Facts are what a score says, read for comparison.
type Facts struct {
	score   *musicxml.Score
	parts   []sourcePart
	lengths []musicxml.Fraction // of the measures, in the part that fills each most
	marks   []map[string]int    // what each measure says to everybody, and how often
}

// sourcePart is a part of the score as read.
type sourcePart struct {
	element  *etree.Element
	timeline *musicxml.Timeline
	page     *reading.Page
	marks    []map[string]int
	spans    map[string]int
}

// Read reads a score for comparison. An error means that the score itself cannot
// be compared.
func Read(score *musicxml.Score) (*Facts, error) {
	f := &Facts{score: score}
	for i := range score.Parts {
		p, err := readSource(score, i)
		if err != nil {
			return nil, err
		}
		f.parts = append(f.parts, p)
		for k, m := range p.timeline.Measures {
			if k == len(f.lengths) {
				f.lengths = append(f.lengths, m.Length)
				f.marks = append(f.marks, map[string]int{})
			}
			f.lengths[k] = f.lengths[k].Max(m.Length)
			for mark, n := range p.marks[k] {
				f.marks[k][mark] = max(f.marks[k][mark], n)
			}
		}
	}
	return f, nil
}

func readSource(score *musicxml.Score, i int) (sourcePart, error) {
	e, err := score.ReadPart(i, nil)
	if err != nil {
		return sourcePart{}, err
	}
	p := sourcePart{element: e, spans: spansOf(e)}
	if p.timeline, err = musicxml.NewTimeline(e); err != nil {
		return p, err
	}
	if p.page, err = reading.Read(e); err != nil {
		return p, err
	}
	for k := range p.timeline.Measures {
		p.marks = append(p.marks, marksOf(&p.timeline.Measures[k]))
	}
	return p, nil
}

// checker gathers what is wrong with one part.
type checker struct {
	*Facts
	Part
	part     *etree.Element
	source   *sourcePart
	timeline *musicxml.Timeline
	faults   []string
}

// Check returns what is wrong with a part, a line each; none if it is as it should
// be.
func (f *Facts) Check(p Part) []string {
	c := &checker{Facts: f, Part: p, source: &f.parts[p.Index]}
	found := p.Document.Root().SelectElements("part")
	if len(found) != 1 {
		return []string{fmt.Sprintf("the file has %d parts", len(found))}
	}
	c.part = found[0]
	var err error
	if c.timeline, err = musicxml.NewTimeline(c.part); err != nil {
		return []string{err.Error()}
	}
	c.bars()
	c.sound()
	c.signatures()
	c.ids()
	c.staves()
	c.spansClosed()
	c.systemMarks()
	c.pauses()
	c.rests()
	c.cues()
	c.playersWords()
	c.header()
	c.page()
	return c.faults
}

func (c *checker) fault(format string, args ...any) {
	c.faults = append(c.faults, fmt.Sprintf(format, args...))
}

// each walks through an element and all in it.
func each(e *etree.Element, do func(*etree.Element)) {
	do(e)
	for _, c := range e.ChildElements() {
		each(c, do)
	}
}

func attr(e *etree.Element, key string) string { return e.SelectAttrValue(key, "") }

func text(e *etree.Element, path ...string) string {
	return musicxml.Text(musicxml.Descend(e, path...))
}

func atoi(s string) int {
	n, _ := strconv.Atoi(strings.TrimSpace(s))
	return n
}
