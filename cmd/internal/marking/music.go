package marking

import (
	"cmp"
	"slices"
	"sort"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/musicxml"
	musicread "deskpart/musicxml/music"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

// head is a note as it stands on the page.
type head struct {
	bar    int // index of the bar, from 0
	beat   string
	drawn  spot              // where it stands in its part, in whatever bars it is read
	onset  musicxml.Fraction // from the start of the bar, in quarter notes
	length musicxml.Fraction
	pitch  pitch.Pitch
	sign   string // the printed accidental, "" for none
	fifths int    // of the signature in force
	// tieTo and tieFrom lead over a barline; ties within a bar are one head.
	tieTo, tieFrom bool
}

// place counts the head's letter steps from C0.
func (h head) place() int { return h.pitch.Place() }

// bar is a bar of a staff.
type bar struct {
	number string // printed
	index  int    // of the measure in its part
	length musicxml.Fraction
	metre  words.Metre
}

// lacks is what an upbeat lacks at its beginning to be a bar, in quarter notes; nothing
// for other bars.
func (b bar) lacks() musicxml.Fraction {
	full := musicxml.NewFraction(4*int64(b.metre.Beats), int64(max(b.metre.Unit, 1)))
	if b.index > 0 || b.length.Sign() == 0 || !b.length.Less(full) {
		return musicxml.Fraction{}
	}
	return full.Sub(b.length)
}

// music is one staff of a file.
type music struct {
	heads []head // by bar, onset, and downwards in a chord
	bars  []bar
	// fifths is the signature with which the staff begins; hasKey says that there is
	// one.
	fifths  int
	hasKey  bool
	clef    instruments.Clef
	hasClef bool
	slurs   int
	// part and staff are where it was read.
	part  *etree.Element
	staff int
	// beside is another staff whose heads are taken for this one's; nil for none.
	beside *music
	// chords are the names of chords over the staff.
	chords []chordName
}

// readMusic reads one staff of a part, counted from 1.
func readMusic(part *etree.Element, staff int) (*music, error) {
	read, err := musicread.ReadPart(part)
	if err != nil {
		return nil, err
	}
	m := &music{clef: explain.Treble, part: part, staff: staff}
	fifths := 0
	for i := range read.Measures {
		measure := &read.Measures[i]
		m.bars = append(m.bars, bar{measure.Number, i, measure.Length, metreOf(measure.Measure)})
		for k := range measure.Marks {
			if e := measure.Marks[k].Element; e.Tag == "harmony" {
				m.chords = append(m.chords, readChord(e, i))
			}
		}
		for item := range measure.Items() {
			for k := range item.Changes {
				m.change(&item.Changes[k], &fifths)
			}
			if n := item.Note; n != nil && n.Staff == staff && n.Pitched() && n.Sounds() && !n.Grace {
				m.note(measure, n, fifths)
			}
		}
	}
	m.order()
	m.joinTies()
	return m, nil
}

// metreOf reads a measure's time signature; none where it is not plain.
func metreOf(m *musicxml.Measure) words.Metre {
	beats, errBeats := strconv.Atoi(m.Beats)
	unit, errUnit := strconv.Atoi(m.BeatType)
	if errBeats != nil || errUnit != nil || unit < 1 {
		return words.Metre{}
	}
	return words.Metre{Beats: beats, Unit: unit}
}

func (m *music) note(measure *musicread.Measure, n *musicread.Note, fifths int) {
	m.heads = append(m.heads, head{bar: measure.Index, drawn: spot{measure.Index, n.Onset}, beat: measure.Beat(n.Onset),
		onset: n.Onset, length: n.Duration, pitch: n.Pitch, sign: n.Sign(), fifths: fifths, tieTo: n.Ties.Start(), tieFrom: n.Ties.Stop()})
	for i := range n.Marks {
		if n.Marks[i].Element.Tag == "slur" && n.Marks[i].Role == musicread.Starts {
			m.slurs++
		}
	}
}

// change reads the signature in force, and the clef with which the staff begins.
func (m *music) change(c *musicread.Change, fifths *int) {
	if n := musicxml.Attr(c.Element, "number"); n != "" && n != strconv.Itoa(m.staff) {
		return
	}
	switch c.Element.Tag {
	case "key":
		k, err := musicread.ReadKey(c.Element)
		if err != nil || !k.Traditional || c.Hidden {
			return
		}
		*fifths = k.Fifths
		if len(m.heads) == 0 {
			m.fifths, m.hasKey = k.Fifths, true
		}
	case "clef":
		if len(m.heads) == 0 && !musicread.IsAdditional(c.Element) {
			m.clef, m.hasClef = explain.ReadClef(c.Element), true
		}
	}
}

// order sorts the heads: in time, and downwards within a chord.
func (m *music) order() {
	slices.SortStableFunc(m.heads, func(a, b head) int {
		return cmp.Or(a.bar-b.bar, a.onset.Cmp(b.onset), b.place()-a.place())
	})
}

// joinTies makes one head of those that are tied within a bar: a dotted note may
// be written as two.
func (m *music) joinTies() {
	var kept []head
	for _, h := range m.heads {
		if h.tieFrom {
			if i := tiedTo(kept, h); i >= 0 {
				kept[i].length = kept[i].length.Add(h.length)
				kept[i].tieTo = h.tieTo
				continue
			}
		}
		kept = append(kept, h)
	}
	m.heads = kept
}

// tiedTo finds the head of the same bar and pitch that ends where h begins.
func tiedTo(heads []head, h head) int {
	for i := len(heads) - 1; i >= 0 && heads[i].bar == h.bar; i-- {
		if g := heads[i]; g.tieTo && g.pitch == h.pitch && g.onset.Add(g.length) == h.onset {
			return i
		}
	}
	return -1
}

// inBar returns the heads of a bar and the index of the first.
func (m *music) inBar(bar int) (heads []head, first int) {
	first = sort.Search(len(m.heads), func(i int) bool { return m.heads[i].bar >= bar })
	last := sort.Search(len(m.heads), func(i int) bool { return m.heads[i].bar > bar })
	return m.heads[first:last], first
}

// byBar returns the heads bar by bar.
func (m *music) byBar() [][]head {
	bars := make([][]head, len(m.bars))
	for i := range bars {
		bars[i], _ = m.inBar(i)
	}
	return bars
}

// section copies the bars from first to before last, as a staff that begins there.
func (m *music) section(first, last int) *music {
	s := *m
	s.bars = m.bars[first:last]
	s.heads = nil
	for _, h := range m.heads {
		if h.bar >= first && h.bar < last {
			h.bar -= first
			s.heads = append(s.heads, h)
		}
	}
	s.chords = nil
	for _, c := range m.chords {
		if c.bar >= first && c.bar < last {
			c.bar -= first
			s.chords = append(s.chords, c)
		}
	}
	if len(s.heads) > 0 && first > 0 {
		s.fifths = s.heads[0].fifths
	}
	return &s
}

// trimmed leaves out the bars without notes at the beginning and the end: title
// measures and bars that a program adds. Upbeats stay.
func (m *music) trimmed() *music {
	if len(m.heads) == 0 {
		return m
	}
	return m.section(m.heads[0].bar, m.heads[len(m.heads)-1].bar+1)
}

// sameHeads reports whether two staves have the same notes at the same places.
func (m *music) sameHeads(other *music) bool {
	return slices.EqualFunc(m.heads, other.heads, func(h, g head) bool { return g.pitch == h.pitch && g.bar == h.bar && g.onset == h.onset })
}
