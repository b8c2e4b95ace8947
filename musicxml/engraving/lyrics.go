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
	for _, f := range st.figures {
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

// openLyric is the last syllable of a verse before this line, where a word or a
// note sung on it goes on.
type openLyric struct{ lyric Lyric }

// openLyrics finds for each verse of a staff the last syllable before this line,
// and keeps those that go on.
func (s *system) openLyrics(staff int) []openLyric {
	var list []openLyric
	seen := map[int]bool{}
	measures := s.l.music.Staves[staff].Measures
	for bar := s.first - 1; bar >= 0 && bar > s.first-40; bar-- {
		events := inTime(&measures[bar])
		for i := len(events) - 1; i >= 0; i-- {
			for _, lyric := range events[i].Lyrics {
				if !seen[lyric.Verse] {
					seen[lyric.Verse] = true
					if lyric.Hyphen || lyric.Extend {
						list = append(list, openLyric{lyric})
					}
				}
			}
		}
	}
	return list
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
		case one.lyric.Hyphen && (i+1 < len(list) || s.sungLater(st.index, verse)):
			st.hyphens(one.right, next, baseline-lyricSize*0.25)
		case one.lyric.Extend:
			st.extender(one, next, baseline, i+1 == len(list) && s.goesOn(st, verse))
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
			end := left
			for _, f := range st.figures {
				if f.x < next && !f.isRest() {
					end = max(end, f.center()+f.headWidth()/2)
				}
			}
			if end = min(end, next-0.2); end > left+0.6 {
				st.line(display.RoleExtender, left, baseline, end, baseline)
			}
		}
	}
}

// sungLater reports whether the verse goes on after this line: a word that is never
// ended has no hyphen.
func (s *system) sungLater(staff, verse int) bool {
	measures := s.l.music.Staves[staff].Measures
	for bar := s.end; bar < len(measures) && bar < s.end+40; bar++ {
		for _, e := range inTime(&measures[bar]) {
			if hasVerse(e.Lyrics, verse) {
				return true
			}
		}
	}
	return false
}

// goesOn reports whether a note of the next line is still sung on the last syllable
// of this one.
func (s *system) goesOn(st *staffInk, verse int) bool {
	if s.end >= s.l.to {
		return false
	}
	for _, e := range inTime(&s.l.music.Staves[st.index].Measures[s.end]) {
		if !e.Hidden {
			return !e.IsRest() && !hasVerse(e.Lyrics, verse)
		}
	}
	return false
}

func (st *staffInk) syllables(verse int) []syllable {
	var list []syllable
	for _, f := range st.figures {
		for _, lyric := range f.event.Lyrics {
			if lyric.Verse == verse {
				left, right := f.lyricExtent(&lyric)
				list = append(list, syllable{lyric, f.x + left, f.x + right, f})
			}
		}
	}
	return list
}

// elision joins syllables on one note, and elisionGap is the room of its bow.
const (
	elision    = "‿"
	elisionGap = 0.7
)

// lyricWidth is the width of a syllable.
func lyricWidth(text string) float64 {
	width := 0.0
	for i, part := range strings.Split(text, elision) {
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
	i := 0
	for i < len(text) && text[i] >= '0' && text[i] <= '9' {
		i++
	}
	if i == 0 || i == len(text) || text[i] != '.' {
		return ""
	}
	for i++; i < len(text) && text[i] == ' '; i++ {
	}
	return text[:i]
}

// drawSyllable writes a syllable, with small bows where words run together.
func (st *staffInk) drawSyllable(one syllable, baseline float64) {
	x := one.left
	for i, part := range strings.Split(one.lyric.Text, elision) {
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
func (st *staffInk) extender(one syllable, next, baseline float64, on bool) {
	end := one.right
	passed := false
	for _, f := range st.figures {
		if f == one.figure {
			passed = true
			continue
		}
		if passed && f.voice == one.figure.voice && f.x < next {
			if len(f.event.Lyrics) > 0 && hasVerse(f.event.Lyrics, one.lyric.Verse) {
				break
			}
			end = max(end, f.center()+f.headWidth()/2)
		}
	}
	if on {
		end = next
	}
	if end-one.right > 0.6 {
		st.line(display.RoleExtender, one.right+0.2, baseline, min(end, next-0.2), baseline)
	}
}

func hasVerse(list []Lyric, verse int) bool {
	for _, l := range list {
		if l.Verse == verse {
			return true
		}
	}
	return false
}
