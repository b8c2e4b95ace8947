package collate

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
)

// joinPlayers puts together what several percussionists have of one staff of the score:
// the union of their passages is the staff. beside says of a joined part whose it is, too.
func joinPlayers(given []*Part) (joined []*Part, beside map[*Part][]string) {
	first := map[string]*Part{}
	files := map[*Part][]string{}
	beside = map[*Part][]string{}
	for _, p := range given {
		if !p.some || p.Err != nil {
			joined = append(joined, p)
			continue
		}
		all := first[p.Source]
		if all == nil {
			whole := *p
			all = &whole
			first[p.Source] = all
			all.transcript = p.transcript.clone()
			joined = append(joined, all)
			continue
		}
		all.transcript.join(p.transcript)
		if p.File != all.File && !slices.Contains(files[all], p.File) {
			files[all] = append(files[all], p.File)
		}
	}
	for _, all := range first {
		all.shapes = shapes(all.transcript)
		var names []string
		for _, file := range files[all] {
			names = append(names, filepath.Base(file))
		}
		if len(names) > 0 {
			beside[all] = []string{fmt.Sprintf("with what stands of the staff in %s", strings.Join(names, ", "))}
		}
	}
	return joined, beside
}

func (t *transcript) clone() *transcript {
	c := *t
	c.bars = slices.Clone(t.bars)
	for i := range c.bars {
		c.bars[i].notes, c.bars[i].marks = slices.Clone(t.bars[i].notes), slices.Clone(t.bars[i].marks)
	}
	return &c
}

// join adds what another player has of the same staff. What is said to all is there once.
func (t *transcript) join(o *transcript) {
	last := 0
	for i := range t.bars {
		for _, m := range t.bars[i].marks {
			last = max(last, m.span)
		}
	}
	for i := range o.bars {
		if i >= len(t.bars) {
			t.bars = append(t.bars, o.bars[i:]...)
			break
		}
		b := &t.bars[i]
		b.length = b.length.Max(o.bars[i].length)
		b.notes = append(b.notes, o.bars[i].notes...)
		slices.SortStableFunc(b.notes, func(x, y note) int {
			return cmp.Or(x.onset.Cmp(y.onset), cmp.Compare(x.grace, y.grace), cmp.Compare(x.height, y.height))
		})
		for _, m := range o.bars[i].marks {
			if slices.ContainsFunc(b.marks, func(have mark) bool {
				return have.kind == m.kind && have.key == m.key && have.onset == m.onset && have.last == m.last
			}) {
				continue
			}
			if m.span > 0 {
				m.span += last
			}
			b.marks = append(b.marks, m)
		}
	}
	t.notes += o.notes
}
