package engraving

import (
	"math"
	"slices"
	"strings"

	"deskpart/musicxml/engraving/display"
)

// drawLyrics draws the syllables of all verses, each verse on one line outside
// everything else, with its hyphens and extenders.
func (s *system) drawLyrics(st *staffInk) {
	for _, above := range []bool{true, false} {
		verses := s.versesOn(st, above)
		if len(verses) == 0 {
			continue
		}
		height := float64(len(verses)) * lyricSize * lyricLeading
		base := st.sky.below(s.indent, s.width) + 0.5
		if above {
			base = st.sky.above(s.indent, s.width) - 0.5 - height
		}
		for i, verse := range verses {
			s.drawVerse(st, verse, base+lyricSize*0.8+float64(i)*lyricSize*lyricLeading)
		}
		st.sky.add(s.indent, s.width, base, base+height)
	}
}

// lyricLeading is the distance of verses in sizes of the type.
const lyricLeading = 1.15

// versesOn lists the verses that are sung on this line, or whose last syllable goes
// on into it.
func (s *system) versesOn(st *staffInk, above bool) []int {
	var verses []int
	add := func(lyric *Lyric) {
		if lyric.Above == above && !slices.Contains(verses, lyric.Verse) {
			verses = append(verses, lyric.Verse)
		}
	}
	for _, f := range st.sung {
		for i := range f.event.Lyrics {
			add(&f.event.Lyrics[i])
		}
	}
	for _, open := range s.openLyrics(st.index) {
		add(&open.lyric)
	}
	slices.Sort(verses)
	return verses
}

// syllable is one sung text at its place.
type syllable struct {
	lyric       Lyric
	left, right float64
	figure      *figure
}

// wordSpace is the least air between words, hyphenRoom that between syllables.
const (
	wordSpace  = 0.6
	hyphenRoom = 0.9
)

// openLyric is the last syllable of a verse before this line, where a word or a
// note sung on it goes on. Last is the last note sung on it, LastBar its bar.
type openLyric struct {
	lyric   Lyric
	last    *Event
	lastBar int
}

// openLyrics finds for each verse of a staff the last syllable before this line,
// and keeps those that go on.
func (s *system) openLyrics(staff int) []openLyric {
	var list []openLyric
	seen := map[int]bool{}
	measures := s.l.music.Staves[staff].Measures
	for bar := s.first - 1; bar >= 0 && bar > s.first-farthest; bar-- {
		events := inTime(&measures[bar])
		for i := len(events) - 1; i >= 0; i-- {
			for _, lyric := range events[i].Lyrics {
				if seen[lyric.Verse] {
					continue
				}
				seen[lyric.Verse] = true
				open := openLyric{lyric: lyric}
				open.lastBar, open.last = s.lastSung(staff, bar, events[i], lyric.Verse)
				if lyric.Hyphen && s.isSung(staff, lyric.Verse, s.first) || lyric.Extend && open.lastBar >= s.first {
					list = append(list, open)
				}
			}
		}
	}
	return list
}

// farthest is how many bars a word or a syllable is followed.
const farthest = 40

// lastSung is the last note that a syllable is sung on: of those that follow in its
// voice, up to a rest or the next syllable of the verse.
func (s *system) lastSung(staff, bar int, from *Event, verse int) (lastBar int, last *Event) {
	measures := s.l.music.Staves[staff].Measures
	lastBar, last = bar, from
	voice, next := placeIn(&measures[bar], from)
	for b := bar; b < len(measures) && b < bar+farthest && voice < len(measures[b].Voices); b++ {
		events := measures[b].Voices[voice].Events
		if len(events) == 0 {
			break
		}
		for i := next; i < len(events); i++ {
			if events[i].IsRest() || hasVerse(events[i].Lyrics, verse) {
				return lastBar, last
			}
			lastBar, last = b, &events[i]
		}
		next = 0
	}
	return lastBar, last
}

// placeIn is the voice of an event, and the place of the event after it.
func placeIn(m *Measure, e *Event) (voice, next int) {
	for v := range m.Voices {
		for i := range m.Voices[v].Events {
			if &m.Voices[v].Events[i] == e {
				return v, i + 1
			}
		}
	}
	return len(m.Voices), 0
}

func (s *system) drawVerse(st *staffInk, verse int, baseline float64) {
	list := st.syllables(verse)
	s.carryOn(st, verse, list, baseline)
	for i, one := range list {
		st.of(one.figure)
		st.drawSyllable(one, baseline)
		next := s.lineEnd()
		if i+1 < len(list) {
			next = list[i+1].left
		}
		switch {
		case one.lyric.Hyphen && (i+1 < len(list) || s.isSung(st.index, verse, s.end)):
			st.hyphens(one.right, next, baseline-lyricSize*0.25)
		case one.lyric.Extend:
			s.extender(st, one, next, baseline)
		}
	}
}

// carryOn draws the hyphen or extender that comes from the line before.
func (s *system) carryOn(st *staffInk, verse int, list []syllable, baseline float64) {
	for _, open := range s.openLyrics(st.index) {
		if open.lyric.Verse != verse {
			continue
		}
		left, next := s.bars[0].start, s.lineEnd()
		if len(list) > 0 {
			next = list[0].left
		}
		switch {
		case open.lyric.Hyphen && next-left > 2:
			st.hyphens(left, next, baseline-lyricSize*0.25)
		case open.lyric.Extend:
			end := s.sungUntil(open.lastBar, open.last, next)
			if end = min(end, next-0.2); end > left+0.6 {
				st.line(display.RoleExtender, left, baseline, end, baseline)
			}
		}
	}
}

// isSung reports whether the verse goes on from a bar: a word that is never ended has
// no hyphen.
func (s *system) isSung(staff, verse, from int) bool {
	measures := s.l.music.Staves[staff].Measures
	for bar := from; bar < len(measures) && bar < from+farthest; bar++ {
		for _, e := range inTime(&measures[bar]) {
			if hasVerse(e.Lyrics, verse) {
				return true
			}
		}
	}
	return false
}

// sungUntil is the x at which the last note of a syllable ends, or that of the line's
// end where it stands on a later one.
func (s *system) sungUntil(lastBar int, last *Event, lineEnd float64) float64 {
	if lastBar >= s.end {
		return lineEnd
	}
	if f := s.figures[last]; f != nil {
		return f.center() + f.headWidth()/2
	}
	return 0
}

func (st *staffInk) syllables(verse int) []syllable {
	var list []syllable
	for _, f := range st.sung {
		for _, lyric := range f.event.Lyrics {
			if lyric.Verse == verse {
				left, right := f.lyricExtent(&lyric)
				list = append(list, syllable{lyric, f.x + left, f.x + right, f})
			}
		}
	}
	return list
}

// Elision joins syllables on one note in the text of a [Lyric].
const Elision = "‿"

// elisionGap is the room of the bow that an elision is drawn as.
const elisionGap = 0.7

// lyricWidth is the width of a syllable.
func lyricWidth(text string) float64 {
	width := 0.0
	for i, part := range strings.Split(text, Elision) {
		if i > 0 {
			width += elisionGap
		}
		width += textWidth(display.RoleLyric, part)
	}
	return width
}

// lyricExtent is where a syllable stands around the column's x: under the middle of
// its note, its number left of that; a syllable sung on several notes begins with
// its note.
func (f *figure) lyricExtent(lyric *Lyric) (left, right float64) {
	width := lyricWidth(lyric.Text)
	number := verseNumber(lyric.Text)
	lead := textWidth(display.RoleLyric, number)
	if lyric.Extend && width-lead > f.headWidth() {
		return f.dx - lead, f.dx - lead + width
	}
	middle := f.dx + f.headWidth()/2
	return middle - (width-lead)/2 - lead, middle + (width-lead)/2
}

// verseNumber is the number with its point that a verse begins with; "" for none.
func verseNumber(text string) string {
	word, numbered := strings.CutPrefix(strings.TrimLeft(text, "0123456789"), ".")
	if !numbered || text[0] == '.' {
		return ""
	}
	return text[:len(text)-len(strings.TrimLeft(word, " "))]
}

// drawSyllable writes a syllable, with small bows where words run together.
func (st *staffInk) drawSyllable(one syllable, baseline float64) {
	x := one.left
	for i, part := range strings.Split(one.lyric.Text, Elision) {
		if i > 0 {
			st.add(display.RoleExtender, "", display.Curve{From: place(x+0.05, baseline+0.2), Control: place(x+elisionGap/2, baseline+0.7),
				To: place(x+elisionGap-0.05, baseline+0.2), Thickness: 0.11})
			x += elisionGap
		}
		st.text(display.RoleLyric, display.Start, part, x, baseline)
		x += textWidth(display.RoleLyric, part)
	}
}

// hyphens are spread evenly over a gap.
func (st *staffInk) hyphens(left, right, height float64) {
	const width = 0.55
	gap := right - left
	if gap < width {
		return
	}
	n := max(1, int(math.Floor(gap/9)))
	for i := range n {
		x := left + gap*float64(2*i+1)/float64(2*n)
		st.line(display.RoleHyphen, x-width/2, height, x+width/2, height)
	}
}

// extender is the line from a syllable to the last note sung on it, or to the end
// of the line where it goes on.
func (s *system) extender(st *staffInk, one syllable, next, baseline float64) {
	lastBar, last := s.lastSung(st.index, one.figure.bar, one.figure.event, one.lyric.Verse)
	if lastBar == one.figure.bar && last == one.figure.event {
		return
	}
	if end := s.sungUntil(lastBar, last, next); end-one.right > 0.6 {
		st.line(display.RoleExtender, one.right+0.2, baseline, min(end, next-0.2), baseline)
	}
}

func hasVerse(list []Lyric, verse int) bool {
	return slices.ContainsFunc(list, func(l Lyric) bool { return l.Verse == verse })
}
