package staff

import (
	"fmt"
	"slices"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/draft"
)

// ChooseClefs gives the part the player's own clefs. A part whose notes did not
// move and whose clefs the player reads keeps those of the edition: a copyist
// does not second-guess it. What was moved, or goes to another instrument, or
// has its clef said by the plan or the score's <for-part>, is chosen afresh.
func (p *Page) ChooseClefs(d *draft.Draft) error {
	s := &layout{d, p}
	if d.Elsewhere {
		s.page.takeMoved()
	}
	for i := range s.page.Staves {
		if s.chooseClef(i + 1) {
			s.Rearranged()
			if err := s.Settle(); err != nil {
				return err
			}
		}
	}
	if s.settleOctaveLines() {
		s.Rearranged()
	}
	s.page.standNow()
	return nil
}

// layout is a part on its staves.
type layout struct {
	*draft.Draft
	page *Page
}

// standNow works out where the notes stand in the part. A rest or a note without
// pitch that has a place of its own on the staff keeps that place when the clef
// changes around it.
func (p *Page) standNow() {
	for i := range p.Notes {
		n := &p.Notes[i]
		if n.Pitch == nil {
			continue
		}
		if n.now = p.position(n); n.now != n.was && (n.Event.Rest || n.Unpitched()) {
			n.showAt(n.place + n.was - n.now)
			n.now = n.was
		}
	}
}

// takeMoved reads every note's place again after the part was moved.
func (p *Page) takeMoved() {
	for i := range p.Notes {
		n := &p.Notes[i]
		before := n.place
		n.readPlace()
		if n.place != before {
			p.staff(n.Event.Staff).moved = true
		}
	}
}

// chooseClef decides on the clefs of one staff and reports whether the tree was
// changed.
func (s *layout) chooseClef(number int) bool {
	st := s.page.staff(number)
	reads, said := s.clefsRead(number)
	if len(reads) == 0 || st.lines != 5 {
		return false
	}
	if said || st.moved || s.OtherInstrument() || st.foreignAtChange(reads) {
		return s.chooseAfresh(number, reads)
	}
	return s.exchangeForeign(number, reads)
}

// clefsRead returns what the player reads on a staff, from where on, and whether
// plan or score say so expressly. It returns nothing where the clefs are not to
// be touched: an unknown instrument, one of several staves, one without pitch.
func (s *layout) clefsRead(number int) (reads []clefRange, said bool) {
	in := s.Assignment.Instrument
	if clefs, ok := assign.ClefsNamed(s.Assignment.Clef); ok {
		return []clefRange{{clefs: clefs}}, true
	}
	if in != nil && (in.Staves == 1 || s.losesTablature(number)) && !in.Flags.Unpitched {
		reads = []clefRange{{clefs: in.Clefs}}
		for _, c := range s.Changes {
			if c.Instrument.Staves == 1 && !c.Instrument.Flags.Unpitched {
				reads = append(reads, clefRange{Position: c.Position, clefs: c.Instrument.Clefs})
			}
		}
	}
	for _, p := range s.page.partClefs {
		if s.Assignment.RecognisedBy != assign.ByForPart || p.staff != 0 && p.staff != number {
			continue
		}
		r := clefRange{Position: p.Position, clefs: []instruments.Clef{p.clef}, said: true}
		if in != nil && isOf(p.clef, in.Clefs) {
			r.clefs = append(r.clefs, in.Clefs...)
		}
		reads, said = append(reads, r), true
	}
	return reads, said
}

// losesTablature reports whether a staff is in tablature that the player does not read.
func (s *layout) losesTablature(number int) bool {
	return slices.ContainsFunc(s.page.staff(number).clefs, func(c clefChange) bool { return c.clef.Sign == "TAB" && !s.keepsUnlettered(c.clef) })
}

// ClefsRead lists the clefs that the player of a part on one staff reads anywhere in
// it, nothing where any may be right: see clefsRead.
func (p *Page) ClefsRead(d *draft.Draft) []instruments.Clef {
	if len(p.Staves) != 1 || p.staff(1).lines != 5 {
		return nil
	}
	var clefs []instruments.Clef
	reads, _ := (&layout{d, p}).clefsRead(1)
	for _, r := range reads {
		clefs = append(clefs, r.clefs...)
	}
	return clefs
}

// foreignAtChange reports whether the player changes to an instrument that does
// not read the clef in force.
func (st *staff) foreignAtChange(reads []clefRange) bool {
	for _, r := range reads[1:] {
		inForce := TrebleClef
		for i := range st.clefs {
			if st.clefs[i].Compare(r.Position) <= 0 {
				inForce = st.clefs[i].clef
			}
		}
		if lettered(inForce) && !isOf(inForce, r.clefs) {
			return true
		}
	}
	return false
}

// chooseAfresh sets the clefs that read best.
func (s *layout) chooseAfresh(number int, reads []clefRange) bool {
	return s.setClefs(number, s.chooser(number, reads).wanted())
}

// chooser is for the clefs of one staff.
func (s *layout) chooser(number int, reads []clefRange) *chooser {
	inTime := s.page.InTime(number)
	return &chooser{page: s.page, staff: s.page.staff(number), inTime: inTime, reads: reads,
		passages: s.page.Passages(inTime, s.Timeline.Measures),
		keeps:    func(clef instruments.Clef) bool { return !lettered(clef) && s.keepsUnlettered(clef) }}
}

// wanted are the clefs of the whole staff; without notes the usual one.
func (c *chooser) wanted() []clefChange {
	if len(c.inTime) == 0 {
		return []clefChange{{clef: firstClef(c.reads)}}
	}
	return c.changes()
}

// firstClef is the usual clef at the start of the part.
func firstClef(reads []clefRange) instruments.Clef {
	first := reads[0].clefs[0]
	for _, r := range reads[1:] {
		if r.Position == (musicxml.Position{}) {
			first = r.clefs[0]
		}
	}
	return first
}

// keepsUnlettered reports whether a clef that names no letters stays: tablature
// and percussion clef are part of what the instrument is, unless the part goes to
// one whose strings are others.
func (s *layout) keepsUnlettered(clef instruments.Clef) bool {
	from, to := s.Assignment.Written, s.Assignment.Instrument
	return clef.Sign != "TAB" || !s.OtherInstrument() || to.Flags.Fretted && (from == nil || from.StrungAs(to))
}

// changes returns the clefs of the whole staff where they begin. A change at the
// first music of a bar stands at its barline.
func (c *chooser) changes() []clefChange {
	chosen := c.choose()
	changes := []clefChange{{clef: chosen[0]}}
	for i := 1; i < len(chosen); i++ {
		if chosen[i] == chosen[i-1] {
			continue
		}
		at := c.passages[i].At
		if c.passages[i].Start >= atBar {
			at.Onset = musicxml.Fraction{}
		}
		changes = append(changes, clefChange{Position: at, clef: chosen[i]})
	}
	return changes
}

// setClefs makes the clefs of a staff those wanted, and reports whether anything
// was changed. A clef of the score that stands where it is wanted stays with all
// its attributes.
func (s *layout) setClefs(number int, wanted []clefChange) bool {
	st := s.page.staff(number)
	var kept []clefChange
	changed := false
	for i := range wanted {
		w := &wanted[i]
		if k := s.standing(st.clefs, w.Position); k >= 0 {
			old := st.clefs[k]
			changed = changed || old.clef != w.clef
			old.becomes(w.clef)
			kept = append(kept, old)
			continue
		}
		w.element, changed = newClef(w.clef, number, len(s.page.Staves)), true
		s.addClef(number, w)
		kept = append(kept, *w)
	}
	for i := range st.clefs {
		if !slices.ContainsFunc(kept, func(c clefChange) bool { return c.element == st.clefs[i].element }) {
			draft.DropAttribute(st.clefs[i].element)
			changed = true
		}
	}
	st.clefs = kept
	return changed
}

// standing finds the clef of the score that stands at a place; one at the end of
// a bar stands at the next bar's start.
func (s *layout) standing(clefs []clefChange, at musicxml.Position) int {
	for i := range clefs {
		c := &clefs[i]
		if c.Position == at || at.Onset.Sign() == 0 && c.Measure == at.Measure-1 && c.Onset == s.Timeline.Measures[c.Measure].Length {
			return i
		}
	}
	return -1
}

// becomes changes a clef in place.
func (c *clefChange) becomes(clef instruments.Clef) {
	if c.clef != clef {
		c.clef = clef
		writeClef(c.element, clef)
	}
	draft.RemoveAttr(c.element, "print-object")
}

func newClef(clef instruments.Clef, number, staves int) *etree.Element {
	e := etree.NewElement("clef")
	if staves > 1 {
		e.CreateAttr("number", strconv.Itoa(number))
	}
	writeClef(e, clef)
	return e
}

// addClef puts a clef into the <attributes> of its place: for the start of a bar
// those that stand there, in mid-bar those before the first note of that moment.
func (s *layout) addClef(number int, c *clefChange) {
	var attributes *etree.Element
	if c.Onset.Sign() == 0 {
		attributes = s.AttributesJustAt(c.Position)
	} else {
		attributes = s.attributesBefore(number, c.Position)
	}
	if attributes == nil {
		attributes = s.AttributesAt(c.Position)
	}
	musicxml.AddInOrder(attributes, c.element)
}

// attributesBefore finds or makes the <attributes> before the first note of a
// moment on a staff; nil where no note begins there.
func (s *layout) attributesBefore(number int, at musicxml.Position) *etree.Element {
	m := &s.Timeline.Measures[at.Measure]
	for i := range m.Events {
		ev := &m.Events[i]
		if ev.Kind != musicxml.Note || ev.Onset != at.Onset || ev.Staff != number || ev.Chord {
			continue
		}
		if i > 0 && m.Events[i-1].Kind == musicxml.Attributes {
			return m.Events[i-1].Element
		}
		e := etree.NewElement("attributes")
		m.Element.InsertChildAt(ev.Element.Index(), e)
		return e
	}
	return nil
}

// exchangeForeign gives the player a clef that he reads where the edition has one
// that he does not: an old soprano clef, the clef of another instrument. All
// other clefs stay where they are.
func (s *layout) exchangeForeign(number int, reads []clefRange) bool {
	st := s.page.staff(number)
	changed := false
	for i := -1; i < len(st.clefs); i++ {
		foreign, clefs := TrebleClef, reads[0].clefs // of a staff that has none at first
		if i >= 0 {
			foreign, clefs = st.clefs[i].clef, readAt(reads, st.clefs[i].Position).clefs
		} else if len(st.clefs) > 0 && st.clefs[0].Position == (musicxml.Position{}) {
			continue
		}
		if !lettered(foreign) || isOf(foreign, clefs) {
			continue
		}
		own := s.leastLedgers(st, i, clefs)
		if i < 0 {
			c := clefChange{clef: own, element: newClef(own, number, len(s.page.Staves))}
			s.addClef(number, &c)
			st.clefs = slices.Insert(st.clefs, 0, c)
			i = 0
		} else {
			s.warnForeign(&st.clefs[i], own)
			st.clefs[i].becomes(own)
		}
		changed = true
	}
	st.dropRepeated(changed)
	return changed
}

// leastLedgers finds the best clef for the music from one change to the next: the
// usual one, unless another is better by as much as a change would be worth.
func (s *layout) leastLedgers(st *staff, change int, clefs []instruments.Clef) instruments.Clef {
	best, least := clefs[0], Never
	for rank, clef := range clefs {
		sum := min(rank, 1) * changeCost[atBar]
		for i := range s.page.Notes {
			n := &s.page.Notes[i]
			if !n.head() || n.Unpitched() || s.page.staff(n.Event.Staff) != st || st.changeAt(n) != change {
				continue
			}
			sum += ledgerCost[min(LedgerLines(n.place-BottomLine(clef)-7*st.lowered(n)), len(ledgerCost)-1)] * weight(n)
		}
		if sum < least {
			best, least = clef, sum
		}
	}
	return best
}

// dropRepeated takes out changes to the clef that is in force already, which the
// exchange has made.
func (st *staff) dropRepeated(exchanged bool) {
	for i := 1; exchanged && i < len(st.clefs); {
		if st.clefs[i].clef != st.clefs[i-1].clef {
			i++
			continue
		}
		draft.DropAttribute(st.clefs[i].element)
		st.clefs = slices.Delete(st.clefs, i, i+1)
	}
}

func (s *layout) warnForeign(c *clefChange, own instruments.Clef) {
	s.WarnAt(c.Position, notice.ClefExchanged, "the score's %s clef is none that %s reads; %s clef was taken", clefName(c.clef), s.Assignment.Label, clefName(own))
}

// clefName names a clef for a musician: "treble", or "C clef on line 2".
func clefName(c instruments.Clef) string {
	if name := c.Name(); name != c.Sign || c.Line == 0 {
		return name
	}
	return fmt.Sprintf("%s (line %d)", c.Sign, c.Line)
}
