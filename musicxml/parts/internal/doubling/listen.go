package doubling

import (
	"strings"

	"deskpart/musicxml"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/desks"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/joining"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/transpose/words"
)

// Listener hears staves of a score, with the clock and the bars that they share.
type Listener struct {
	score *stages.Score
	space stages.Workspace
	Clock *desks.Clock // nil as long as nothing was heard
	Bars  Bars         // of the longest
}

// NewListener listens to a score.
func NewListener(s *stages.Score) *Listener { return &Listener{score: s} }

// Listen makes a staff as far as to know when it sounds. It is valid until the next one.
func (l *Listener) Listen(a assign.Assignment) (*draft.Draft, error) {
	heard, err := l.score.Hear(&l.space, a)
	if err != nil {
		return nil, err
	}
	if l.Clock == nil {
		l.Clock = desks.NewClock(l.score.Lengths, joining.Tempos(heard.Timeline))
		l.Clock.Plays(joining.Way(heard.Timeline))
	}
	for k := len(l.Bars); k < len(heard.Timeline.Measures); k++ {
		l.Bars = append(l.Bars, bar{heard.Timeline.Measures[k].Number, heard.Timeline.Measures[k].BeatType})
	}
	return heard, nil
}

// Bars name places as musicians do.
type Bars []bar

type bar struct{ number, beatType string }

// Place names a place; what stands behind the last bar, such as a chord symbol at its very end,
// is the last bar's, of no beat.
func (b Bars) Place(p musicxml.Position) (measure, beat string) {
	switch {
	case len(b) == 0:
		return "", ""
	case p.Measure >= len(b):
		return b[len(b)-1].number, ""
	}
	return b[p.Measure].number, musicxml.BeatName(p.Onset, b[p.Measure].beatType)
}

// InBars lists bars: "bar 12", "bars 12, 14 to 16".
func InBars(numbers []string) string {
	if len(numbers) == 1 {
		return "bar " + numbers[0]
	}
	list := words.InRuns(numbers, func(from, to string) string { return from + " to " + to })
	return "bars " + strings.Join(list, ", ")
}
