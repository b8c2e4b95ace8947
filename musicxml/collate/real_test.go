package collate_test

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
)

// realFaults are planted at places drawn by lot in real parts. Each returns the
// numbers of the bars in which it may be found, and the kind, or "" where the part
// has no place for it.
var realFaults = []struct {
	name, why string
	plant     func(r *rand.Rand, p planted) (bars []string, kind collate.Kind)
}{
	{"wrong note", "a note a third too high", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		n, bar := p.anyNote(r)
		if n == nil {
			return nil, ""
		}
		step := n.FindElement("pitch/step")
		step.SetText(string("CDEFGABCD"[indexOf("CDEFGAB", step.Text())+2]))
		return []string{bar}, collate.Pitch
	}},
	{"wrong octave", "a note two octaves too low", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		n, bar := p.anyNote(r)
		if n == nil {
			return nil, ""
		}
		octave := n.FindElement("pitch/octave")
		octave.SetText(itoa((int(octave.Text()[0]-'0') + 8) % 10))
		return []string{bar}, collate.Pitch
	}},
	{"note lost", "a rest in its place", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		n, bar := p.anyNote(r)
		if n == nil || n.SelectElement("chord") != nil {
			return nil, ""
		}
		n.InsertChildAt(n.SelectElement("pitch").Index(), etree.NewElement("rest"))
		p.lose(n.SelectElement("pitch"))
		return []string{bar}, collate.Missing
	}},
	{"missing bar", "a bar with notes, which changes nothing", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		m := p.anyBar(r)
		if m == nil {
			return nil, ""
		}
		p.lose(m)
		return []string{m.SelectAttrValue("number", "")}, collate.Bars
	}},
	{"doubled bar", "a bar with notes, copied twice", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		m := p.anyBar(r)
		if m == nil {
			return nil, ""
		}
		m.Parent().InsertChildAt(m.Index()+1, m.Copy())
		return []string{m.SelectAttrValue("number", "")}, collate.Bars
	}},
	{"too short", "half its length; what follows comes early", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		n, bar := p.anyNote(r)
		if n == nil || n.SelectElement("chord") != nil || isChord(n) || n.Parent().SelectElement("backup") != nil {
			return nil, "" // of several voices, the next would begin before the bar
		}
		duration := n.SelectElement("duration")
		length, err := strconv.Atoi(duration.Text())
		require.NoError(p.t, err)
		if length%2 != 0 {
			return nil, ""
		}
		duration.SetText(itoa(length / 2))
		return []string{bar}, collate.Rhythm
	}},
	{"dynamics lost", "a loudness that is not there", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		return p.loseAny(r, "direction/direction-type/dynamics", collate.Dynamics)
	}},
	{"articulation lost", "one sign at a note", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		return p.loseAny(r, "note/notations/articulations/*", collate.Articulation)
	}},
	{"slur's start lost", "a slur that ends and does not begin", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		return p.loseAny(r, "note/notations/slur[@type='start']", collate.Slur)
	}},
	{"rehearsal mark lost", "no letter", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		return p.loseAny(r, "direction/direction-type/rehearsal", collate.Rehearsal)
	}},
	{"tie lost", "a note that is not tied on", func(r *rand.Rand, p planted) ([]string, collate.Kind) {
		starts := p.part.FindElements("measure/note/tie[@type='start']")
		if len(starts) == 0 {
			return nil, ""
		}
		tie := starts[r.IntN(len(starts))]
		n := tie.Parent()
		if isChord(n) || n.SelectElement("chord") != nil || n.SelectElement("grace") != nil || n.SelectAttrValue("print-object", "") == "no" {
			return nil, ""
		}
		p.lose(tie)
		if tied := n.FindElement("notations/tied[@type='start']"); tied != nil {
			p.lose(tied)
		}
		return []string{n.Parent().SelectAttrValue("number", "")}, collate.Rhythm
	}},
}

// loseAny takes out one of the elements at a path below a bar.
func (p planted) loseAny(r *rand.Rand, path string, kind collate.Kind) ([]string, collate.Kind) {
	found := p.part.FindElements("measure/" + path)
	if len(found) == 0 {
		return nil, ""
	}
	e := found[r.IntN(len(found))]
	m := e.Parent()
	for m.Tag != "measure" {
		m = m.Parent()
	}
	if e.Tag == "breath-mark" || e.Tag == "caesura" || musicxml.Attr(e, "print-object") == "no" {
		return nil, ""
	}
	p.lose(e)
	return []string{m.SelectAttrValue("number", "")}, kind
}

// isChord reports whether a note of a chord follows.
func isChord(n *etree.Element) bool {
	siblings := n.Parent().ChildElements()
	for i, e := range siblings {
		if e == n && i+1 < len(siblings) {
			return siblings[i+1].SelectElement("chord") != nil
		}
	}
	return false
}

func indexOf(letters, letter string) int {
	for i := range letters {
		if letters[i:i+1] == letter {
			return i
		}
	}
	return 0
}

// anyNote draws a plain printed note: a fault at a grace note or tie is another.
func (p planted) anyNote(r *rand.Rand) (*etree.Element, string) {
	var notes []*etree.Element
	for _, n := range p.part.FindElements("measure/note") {
		if n.SelectElement("pitch") != nil && n.SelectElement("grace") == nil && n.SelectElement("tie") == nil &&
			n.SelectElement("cue") == nil && n.SelectAttrValue("print-object", "") == "" {
			notes = append(notes, n)
		}
	}
	if len(notes) == 0 {
		return nil, ""
	}
	n := notes[r.IntN(len(notes))]
	return n, n.Parent().SelectAttrValue("number", "")
}

// anyBar draws a bar with notes that carries no change for the bars behind it.
func (p planted) anyBar(r *rand.Rand) *etree.Element {
	var bars []*etree.Element
	for i, m := range p.part.SelectElements("measure") {
		if i > 0 && m.FindElement("note/pitch") != nil && m.SelectElement("attributes") == nil {
			bars = append(bars, m)
		}
	}
	if len(bars) == 0 {
		return nil
	}
	return bars[r.IntN(len(bars))]
}

// TestFaultsInRealParts plants faults in parts of real scores at places drawn by
// lot: each is found in its bar, and nothing else is said.
func TestFaultsInRealParts(t *testing.T) {
	musicxmltest.EachFile(t, musicxmltest.SharedSpread(t, "scores/*/*.mxl"), func(t *testing.T, path string) {
		r := rand.New(rand.NewPCG(1, 2))
		score := readScore(t, path)
		s := collator(t, score)
		files := extract(t, score, parts.DefaultOptions())
		for i := range 2 * len(realFaults) {
			fault := realFaults[i%len(realFaults)]
			f := files[r.IntN(len(files))]
			f.doc = f.doc.Copy()
			bars, kind := fault.plant(r, planted{t, f.doc.FindElement("score-partwise/part")})
			if kind == "" {
				continue
			}
			results, err := s.Collate(readFiles(t, f), collate.Options{}, nil)
			require.NoError(t, err)
			all := lines(results)
			if assert.Len(t, all, 1, "%s in bar %s of %s: %s", fault.name, bars, f.name, all) {
				d := results[0].Differences[0]
				assert.Contains(t, bars, d.Measure, fmt.Sprintf("%s of %s: %s", fault.name, f.name, all))
				assert.Equal(t, kind, d.Kind, "%s of %s: %s", fault.name, f.name, all)
			}
		}
	})
}
