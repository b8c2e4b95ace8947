package collate

import (
	"cmp"
	"slices"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// comparison is the work on one part.
type comparison struct {
	want, got *transcript
	by        pitch.Interval // added to the part's sound
	// prevailing are the keys of most staves of the score, by bar.
	prevailing []key
	// customary: the part's instrument is usually written without key signature.
	customary bool
	// alone: the part is one wind player's, without the words that tell apart those who
	// share a staff.
	alone bool
	// scoreSays reports whether some staff of the score has a mark near a bar.
	scoreSays func(want int, m *mark) bool
	// whole is all of the staff that the part's player shares with others; nil for
	// a part that has a staff of its own. partial: want is that staff itself, for
	// the copyist did not part it.
	whole       *transcript
	partial     bool
	excusedBars map[int]bool // of the score, in which the part has another's notes
	faultyBars  map[int]bool // of the score, in which some note differs

	steps     []step
	starts    []musicxml.Fraction // when each step's bar begins, from the start of the piece
	heard     []heard
	loose     []*loose
	ends      map[spanOf][]*loose // the loose ends of spans
	tieFaults []tieFault
	matched   int          // notes that are as they should be
	otherBars map[int]bool // steps whose music is another one, or none
	found     []Difference
	remarks   []string
}

// add notes a difference, whose text its two columns are where it has none.
func (c *comparison) add(d Difference) {
	d.Text = cmp.Or(d.Text, sentence(d.Stands, d.Should))
	c.found = append(c.found, d)
}

func (c *comparison) remark(text string) { c.remarks = append(c.remarks, text) }

// moved is the height added to the part's notes.
func (c *comparison) moved() int { return 1000 * c.by.Chromatic }

// barsOf are the bars of a step; either is nil where it has none.
func (c *comparison) barsOf(s step) (want, got *bar) {
	if s.want >= 0 {
		want = &c.want.bars[s.want]
	}
	if s.got >= 0 {
		got = &c.got.bars[s.got]
	}
	return want, got
}

// compare lists the differences of a part.
func (c *comparison) compare() {
	c.excusedBars, c.faultyBars, c.otherBars = map[int]bool{}, map[int]bool{}, map[int]bool{}
	c.steps = alignBars(c.want.bars, c.got.bars, c.moved(), c.partial)
	c.compareBars()
	c.compareMetres()
	keys := c.compareKeys()
	for i, s := range c.steps {
		want, got := c.barsOf(s)
		if want != nil && got != nil {
			c.bar(i, want, got, keys[i])
		}
	}
	c.settleTies()
	c.settleNotes()
	c.settleMarks()
	c.sort()
}

func (c *comparison) sort() {
	slices.SortStableFunc(c.found, func(a, b Difference) int {
		return cmp.Or(cmp.Compare(a.at.step, b.at.step), a.at.onset.Cmp(b.at.onset))
	})
}

// bar compares what stands in two bars that answer each other.
func (c *comparison) bar(step int, want, got *bar, otherKey bool) {
	b := barComparison{comparison: c, step: step, want: want, got: got}
	if want.isCrowded() || got.isCrowded() {
		b.compareCrowded()
		return
	}
	b.othersLine(c.steps[step].want)
	b.pairs = pairNotes(b.want.notes, got.notes, c.moved())
	b.compareNotes()
	if !b.disturbed {
		b.compareLength()
		b.compareReading(otherKey)
	}
	if !b.excused {
		b.compareSigns()
	}
	b.compareMarks()
}

// mostInBar is how many notes, or marks, a bar may have to be compared one by one.
const mostInBar = 2000

func (b *bar) isCrowded() bool { return len(b.notes) > mostInBar || len(b.marks) > mostInBar }

// compareCrowded compares as a whole a bar that no musician wrote.
func (b *barComparison) compareCrowded() {
	if printOf(b.want, 0).hash != printOf(b.got, b.moved()).hash || len(b.want.marks) != len(b.got.marks) {
		b.find(musicxml.Fraction{}, Pitch, "other music in the bar", "the score's")
	}
}

// barComparison is the work on one pair of bars.
type barComparison struct {
	*comparison
	step      int
	want, got *bar
	pairs     []pair
	disturbed bool // some note differs
	excused   bool // want is what the part has of a shared staff
	// odd are the moments of the score at which a note has no counterpart.
	odd     map[moment]bool
	anchors []anchor
	misread map[musicxml.Fraction]bool // when the part has notes that would be read as others
}

// find notes a difference at a time of the score's bar.
func (b *barComparison) find(onset musicxml.Fraction, kind Kind, stands, should string) {
	b.add(Difference{Measure: b.want.number, Beat: b.beatAt(onset), Kind: kind, Stands: stands, Should: should, at: place{b.step, onset}})
}

// beatAt names a time in the bar; what stands at its end has no beat.
func (b *barComparison) beatAt(onset musicxml.Fraction) string {
	if onset.Sign() > 0 && !onset.Less(b.want.length) {
		return ""
	}
	return b.want.beat(onset)
}

// compareLength looks for rests that are missing or too many, where the notes are
// right.
func (b *barComparison) compareLength() {
	if b.want.length == b.got.length || len(b.want.notes)+len(b.got.notes) == 0 && b.got.length.Sign() == 0 {
		return
	}
	b.find(musicxml.Fraction{}, Rhythm, "a bar of "+b.got.length.Quarters(), "a bar of "+b.want.length.Quarters())
}
