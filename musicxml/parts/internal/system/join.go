package system

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/transpose"
)

// Marks are what all parts share: those of the system, gathered from every part,
// each once and in order.
type Marks struct {
	marks     []mark
	barlines  []barline
	metres    []partMetres // beside the score's parts
	pauses    []pause
	caesuras  []caesura
	numbering []numbering
}

// Join joins the marks of all parts.
func Join(score *survey.Score, marks []*PartMarks) *Marks {
	leads := leadsOf(score)
	r := &Marks{}
	for i, own := range marks {
		r.join(&score.Parts[i], own, leads[i])
	}
	r.sort()
	r.metres = joinMetres(marks, r.movementsOf())
	return r
}

// join adds what one part says and the parts before it did not.
func (r *Marks) join(s *survey.Part, own *PartMarks, leads bool) {
	var marks []mark
	for _, m := range own.marks {
		if m.harmony != nil {
			m.harmony = moveSymbol(m.harmony, s.SourceAt(m.Measure), transpose.Transposition{}) // to sounding pitch
		}
		marks = append(marks, m.only(spreading(m.says, leads)))
	}
	for i, missing := range newMatcher(r.marks, s.Measures).match(marks) {
		if missing != 0 {
			r.marks = append(r.marks, marks[i].only(missing))
		}
	}
	r.joinFrame(own)
}

// joinFrame adds what is no direction: bar lines, pauses, numbers of bars.
func (r *Marks) joinFrame(own *PartMarks) {
	for _, b := range own.barlines {
		r.joinBarline(b)
	}
	r.pauses = joinPauses(r.pauses, own.pauses)
	for _, c := range own.caesuras {
		if !hasCaesura(r.caesuras, c) {
			r.caesuras = append(r.caesuras, c)
		}
	}
	r.numbering = append(r.numbering, own.numbering...) // the first of a bar is written
}

// spreading leaves out what holds for everybody only at the head of a system.
func spreading(says []saying, leads bool) (kept facet) {
	for _, s := range says {
		if leads || !s.leading {
			kept |= s.facet
		}
	}
	return kept
}

// only returns the mark with some of its facets.
func (m mark) only(kept facet) mark {
	if kept == m.facets() {
		return m
	}
	m.says = slices.DeleteFunc(slices.Clone(m.says), func(s saying) bool { return s.facet&kept == 0 })
	if m.direction != nil {
		m.direction = m.direction.Copy()
		dropTypes(m.direction, kept)
		if kept&saysWords == 0 {
			m.line = nil
		}
	}
	m.sound = soundOnly(m.sound, kept)
	return m
}

func dropLines(direction *etree.Element) {
	for _, t := range musicxml.Children(direction, "direction-type") {
		if lineIn(t) != nil {
			direction.RemoveChild(t)
		}
	}
}

// soundOnly copies of a <sound> what says these facets, nil where nothing does.
func soundOnly(sound *etree.Element, kept facet) *etree.Element {
	if sound == nil {
		return nil
	}
	c := sound.Copy()
	for _, a := range sound.Attr {
		if f := soundFacet(a.Key); f != 0 && f&kept == 0 {
			c.RemoveAttr(a.Key)
		}
	}
	if kept&saysSwing == 0 {
		musicxml.RemoveChildren(c, "swing")
	}
	if len(soundSayings(c)) == 0 {
		return nil
	}
	return c
}

// joinBarline adds a bar line, or completes the one that is known there.
func (r *Marks) joinBarline(b barline) {
	for i := range r.barlines {
		if o := &r.barlines[i]; o.Position == b.Position && o.location == b.location {
			completeBarline(o.element, b.element)
			return
		}
	}
	r.barlines = append(r.barlines, b)
}

// sort brings everything into the order of time.
func (r *Marks) sort() {
	slices.SortStableFunc(r.marks, func(a, b mark) int { return a.Compare(b.Position) })
	slices.SortStableFunc(r.barlines, func(a, b barline) int { return a.Compare(b.Position) })
	slices.SortStableFunc(r.pauses, func(a, b pause) int { return a.Compare(b.Position) })
	slices.SortStableFunc(r.caesuras, func(a, b caesura) int { return a.Compare(b.Position) })
}

// matcher finds the marks that a part or the whole system already has. Each is found once,
// so that two "rit." in one bar answer two.
type matcher struct {
	at       map[int][]*placedSaying
	measures []survey.Measure
}

type placedSaying struct {
	saying
	measure int
	seen    musicxml.Fraction // from the start of the piece
	found   bool
}

func newMatcher(marks []mark, measures []survey.Measure) *matcher {
	k := &matcher{at: map[int][]*placedSaying{}, measures: measures}
	for i := range marks {
		m := &marks[i]
		for _, s := range m.says {
			k.at[m.Measure] = append(k.at[m.Measure], &placedSaying{s, m.Measure, k.place(m), false})
		}
	}
	return k
}

// place is where a mark is seen, from the start of the piece.
func (k *matcher) place(m *mark) musicxml.Fraction {
	if m.Measure < len(k.measures) {
		return k.measures[m.Measure].Start.Add(m.seen)
	}
	return m.seen
}

// match returns for each mark the facets that are not yet there. What stands at
// the very place is matched first, then what stands nearby.
func (k *matcher) match(marks []mark) []facet {
	missing := make([]facet, len(marks))
	for i := range marks {
		missing[i] = k.missing(&marks[i], marks[i].facets(), true)
	}
	for i := range marks {
		missing[i] = k.missing(&marks[i], missing[i], false)
	}
	return missing
}

// missing returns those of the wanted facets of a mark that are not there.
func (k *matcher) missing(m *mark, wanted facet, here bool) facet {
	missing := wanted
	for _, s := range m.says {
		if s.facet&wanted != 0 && k.find(m, s, here) {
			missing &^= s.facet
		}
	}
	return missing
}

// find looks for a saying at its own place or nearby: in the same measure, or at
// most a quarter note away behind the bar line.
func (k *matcher) find(m *mark, s saying, here bool) bool {
	at := k.place(m)
	var best *placedSaying
	var least musicxml.Fraction
	for measure := m.Measure - 1; measure <= m.Measure+1; measure++ {
		for _, p := range k.at[measure] {
			away := p.seen.Sub(at).Abs()
			if p.found || here && away.Sign() != 0 || !p.answers(s, m, away) {
				continue
			}
			if best == nil || away.Less(least) {
				best, least = p, away
			}
		}
	}
	if best != nil {
		best.found = true
	}
	return best != nil
}

// nearby is how far in quarter notes a mark may stand behind the bar line and
// still be the same.
var nearby = musicxml.NewFraction(1, 1)

// answers reports whether p says the same as s.
func (p *placedSaying) answers(s saying, m *mark, away musicxml.Fraction) bool {
	if p.facet != s.facet {
		return false
	}
	here := away.Sign() == 0
	switch s.facet {
	case saysTempo, saysMetronome, saysSwing, saysHarmony:
		// Two at one moment cannot both hold.
		return here || p.measure == m.Measure && p.key == s.key && s.facet != saysHarmony
	case saysWords:
		if here && (strings.HasPrefix(p.key, s.key) || strings.HasPrefix(s.key, p.key)) {
			return true
		}
	}
	return p.key == s.key && (p.measure == m.Measure || !nearby.Less(away))
}
