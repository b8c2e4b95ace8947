package collate

import (
	"cmp"
	"fmt"
	"slices"

	"deskpart/musicxml/parts"
)

// Result is what became of one part file, or of a part of the score that no file
// has.
type Result struct {
	File        string // "" where the part is missing
	Part        string // as the score calls it; as the file does where it does not belong
	Differences []Difference
	// Remarks are how the part was read where that was not plain.
	Remarks []string
	// Movement of a work, from 1. Default: 0, the score is none; whoever holds a work's
	// parts against its movements fills it in.
	Movement int
	// Stranger: the file belongs to no part of the score; Silent: there is not a note in it.
	Stranger, Silent bool

	order int
}

// Agree reports whether nothing differs.
func (r *Result) Agree() bool { return len(r.Differences) == 0 }

// Options say what is asked for.
type Options struct {
	// Complete: every part of the score should be among the parts given. Default: false.
	Complete bool
}

// Collate holds the parts given against the score: each against its own staff, or
// against what one player has of a staff that several share. The results come in
// the order of the score, files that belong nowhere last. It is for one goroutine
// at a time.
func (s *Score) Collate(given []*Part, o Options, each parts.Each) ([]Result, error) {
	given, beside := joinPlayers(given)
	staves, err := s.match(given, each)
	if err != nil {
		return nil, err
	}
	comparisons, err := s.compareAll(given, staves, each)
	for _, group := range groups(comparisons, staves, s.players) {
		cover(group)
	}
	results := make([]Result, len(given))
	for i, l := range given {
		results[i] = s.result(l, staves[i], comparisons[i])
		results[i].Remarks = append(results[i].Remarks, beside[l]...)
	}
	if o.Complete {
		results = append(results, s.missing()...)
	}
	slices.SortStableFunc(results, func(a, b Result) int {
		return cmp.Or(cmp.Compare(a.order, b.order), cmp.Compare(a.File, b.File))
	})
	return results, err
}

// Likeness is how well a part fits the staff of the score that it fits best, by what
// sounds in it and by its name: the more, the better.
func (s *Score) Likeness(p *Part) float64 {
	_, best := likelihoods([]*Part{p}, s.staves)
	return best[0]
}

// match finds the staff of each part, or the player's of a shared staff.
func (s *Score) match(given []*Part, each parts.Each) ([]*staff, error) {
	staves := match(given, s.staves)
	if needsPlayers(given, staves) {
		if err := s.readPlayers(each); err != nil {
			return nil, err
		}
		staves = match(given, slices.Concat(s.staves, s.players))
	}
	for _, t := range slices.Concat(s.staves, s.players) {
		t.taken = 0
	}
	return staves, nil
}

// compareAll holds each part against its staff; nil for one that has none.
func (s *Score) compareAll(given []*Part, staves []*staff, each parts.Each) ([]*comparison, error) {
	files := map[*staff]int{}
	for _, t := range staves {
		files[t]++
	}
	comparisons := make([]*comparison, len(given))
	err := each.Do(len(given), func(_ *parts.Workspace, i int) error {
		if t := staves[i]; t != nil {
			comparisons[i] = s.compare(given[i], t, files[t] > 1 || numbersWithin(given[i], t))
		}
		return nil
	})
	return comparisons, err
}

// compare holds a part against a staff.
func (s *Score) compare(l *Part, t *staff, shared bool) *comparison {
	c := &comparison{want: t.transcript, got: l.transcript, prevailing: s.prevailing, scoreSays: s.says}
	if in := t.match.Instrument; in != nil {
		c.customary = in.Is("horn") || in.Is("trumpet") || in.Is("timpani") || in.Is("percussion")
	}
	if in := l.match.Instrument; in != nil {
		c.alone = in.IsWind() && len(l.match.Players) == 1
	}
	s.settleInterval(c, l, t)
	if t.question != "" {
		c.remark("by ear the score itself is doubtful here: " + t.question)
	}
	c.asPlayer(l, t, shared)
	c.compare()
	return c
}

// result says what a part came to.
func (s *Score) result(l *Part, t *staff, c *comparison) Result {
	switch {
	case l.Err != nil:
		text := "the file cannot be read: " + l.Err.Error()
		return Result{File: l.File, Part: l.Name, order: s.last(),
			Differences: []Difference{{Kind: Unreadable, Text: text, Stands: "a file that cannot be read", Should: "a part"}}}
	case c == nil:
		return s.stranger(l, "")
	case !c.belongs(nameLikeness(l, t)):
		return s.stranger(l, fmt.Sprintf(": of its %d notes %d agree with %s", l.transcript.notes, c.matched, t.called()))
	}
	t.taken++
	c.sort()
	return Result{File: l.File, Part: t.called(), Differences: c.found, Remarks: c.remarks, order: t.order()}
}

// called is what a staff is called: as in the score, or a player of it by label.
func (t *staff) called() string {
	if t.player > 0 {
		return t.label
	}
	return cmp.Or(t.name, t.label)
}

// order is the place of a staff or player in the score.
func (t *staff) order() int { return mostPlayers*t.index + t.player }

// mostPlayers is more than the players of any staff.
const mostPlayers = 1000

// last is the place behind all staves.
func (s *Score) last() int { return mostPlayers * (len(s.staves) + 1) }

func (s *Score) stranger(l *Part, why string) Result {
	return Result{File: l.File, Part: l.Name, order: s.last(), Stranger: true, Silent: l.transcript != nil && l.transcript.notes == 0, Differences: []Difference{{
		Kind: Extra, Text: "the part does not belong to this score" + why, Stands: "a part that does not belong to this score",
	}}}
}

// A part belongs to a score if so many of a hundred of its notes, or of its bars
// with notes, are the score's; fewer bars will do where the name fits and not too
// many bars are missing or too many. (Parts of the shared scores held against
// other movements have less than five of a hundred notes in common with them,
// short piano pieces up to forty, and whole notes agree by chance.) Where hardly
// any notes are there, the name and the number of bars must do.
const (
	surelyNotes = 60
	surelyBars  = 50
	likelyBars  = 20
	tellNotes   = 8
	sameName    = 0.3
	pairedShare = 67
	countShare  = 90
)

func (c *comparison) belongs(name float64) bool {
	if n := c.got.notes; n < tellNotes {
		a, b := len(c.want.bars), len(c.got.bars)
		return name >= sameName && min(a, b)*100 >= max(a, b)*countShare
	}
	same, all := c.sameBars()
	if c.matched*100 >= surelyNotes*c.got.notes || same*100 >= surelyBars*all {
		return true
	}
	return name >= sameName && same*100 >= likelyBars*all && c.pairedSteps()*100 >= pairedShare*len(c.steps)
}

// pairedSteps counts the bars that both sides have.
func (c *comparison) pairedSteps() int {
	n := 0
	for _, s := range c.steps {
		if s.want >= 0 && s.got >= 0 {
			n++
		}
	}
	return n
}

// sameBars counts the part's bars with notes, and those of them that sound as the
// score's do.
func (c *comparison) sameBars() (same, all int) {
	for _, s := range c.steps {
		if s.got < 0 || len(c.got.bars[s.got].notes) == 0 {
			continue
		}
		all++
		if want, got := c.barsOf(s); want != nil && c.sameNotes(s.want, want, got) {
			same++
		}
	}
	return same, all
}

// sameNotes reports whether a bar sounds as it should, or as some of its shared
// staff does.
func (c *comparison) sameNotes(at int, want, got *bar) bool {
	g := printOf(got, c.moved())
	if printOf(want, 0).hash == g.hash {
		return true
	}
	return c.whole != nil && at < len(c.whole.bars) && within(g.notes, printOf(&c.whole.bars[at], 0).notes)
}

// missing lists the parts of the score that no file has: a staff of which there is
// neither a part nor any player's, and the players who are left out where others
// of their staff have theirs. A part that is silent all through is not missed.
func (s *Score) missing() []Result {
	shared := map[*staff]bool{}
	for _, t := range s.players {
		shared[t.whole] = shared[t.whole] || t.taken > 0
	}
	var list []Result
	for _, t := range slices.Concat(s.staves, s.players) {
		wanted := t.taken == 0 && t.transcript.notes > 0
		if t.whole == nil {
			wanted = wanted && !shared[t]
		} else {
			wanted = wanted && shared[t.whole] && t.whole.taken == 0
		}
		if wanted {
			list = append(list, Result{Part: t.called(), order: t.order(), Differences: []Difference{{
				Kind: Missing, Text: "no file has this part", Should: "a part",
			}}})
		}
	}
	return list
}
