package engraving

import (
	"math"
	"slices"

	"deskpart/musicxml/engraving/display"
)

// drawLyrics draws the syllables of all verses, each verse on one line under
// everything else, with its hyphens and extenders.
func (s *system) drawLyrics(st *staffInk) {
	var verses []int
	for _, f := range st.figures {
		for _, lyric := range f.event.Lyrics {
			if !slices.Contains(verses, lyric.Verse) {
				verses = append(verses, lyric.Verse)
			}
		}
	}
	if len(verses) == 0 {
		return
	}
	slices.Sort(verses)
	base := st.sky.below(s.indent, s.width) + 0.5
	for i, verse := range verses {
		s.drawVerse(st, verse, base+lyricSize*0.8+float64(i)*lyricSize*1.15)
	}
	st.sky.add(s.indent, s.width, base, base+float64(len(verses))*lyricSize*1.15)
}

// syllable is one sung text at its place.
type syllable struct {
	lyric       Lyric
	left, right float64
	figure      *figure
}

func (s *system) drawVerse(st *staffInk, verse int, baseline float64) {
	list := st.syllables(verse)
	for i, one := range list {
		st.of(one.figure)
		st.text(display.RoleLyric, display.Middle, one.lyric.Text, (one.left+one.right)/2, baseline)
		next := s.lineEnd()
		if i+1 < len(list) {
			next = list[i+1].left
		}
		switch {
		case one.lyric.Hyphen:
			st.hyphens(one.right, next, baseline-lyricSize*0.25)
		case one.lyric.Extend:
			st.extender(one, next, baseline)
		}
	}
}

func (st *staffInk) syllables(verse int) []syllable {
	var list []syllable
	for _, f := range st.figures {
		for _, lyric := range f.event.Lyrics {
			if lyric.Verse == verse {
				half := textWidth(display.RoleLyric, lyric.Text) / 2
				list = append(list, syllable{lyric, f.center() - half, f.center() + half, f})
			}
		}
	}
	return list
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

// extender is the line from a syllable to the last note sung on it.
func (st *staffInk) extender(one syllable, next, baseline float64) {
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
