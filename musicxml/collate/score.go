package collate

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Score is a score that parts are held against.
type Score struct {
	source     *musicxml.Score
	catalogue  *instruments.Catalogue
	entries    map[string]*etree.Element // of its part-list, by their ids
	input      parts.Input
	unsaid     bool // nothing in the score tells its pitch
	staves     []*staff
	players    []*staff // those who share staves, once they have been asked for
	prevailing []key
	said       []map[string]bool // what is said to everybody, by bar
}

// staff is what one part should be: a part of the score, or what one player has of
// a part that several share.
type staff struct {
	index      int // among the score's parts
	id, name   string
	label      string
	match      instruments.Match
	transcript *transcript
	shapes     map[uint64]int
	question   string // the part sounds as if another transposition were meant: what to ask
	player     int    // 1, 2 … of a shared staff; 0 for all of it
	whole      *staff // the staff that a player's is taken from
	taken      int    // files that belong to it
}

// ReadScore reads all parts of a score. What sounds is read from the score's own
// parts; what is marked, from the parts that the copyist makes of them: those have
// the marks of the whole system. input says how a score is taken that does not say
// its pitch; each does the work, one part after the other where it is nil.
func ReadScore(source *musicxml.Score, catalogue *instruments.Catalogue, input parts.Input, each parts.Each) (*Score, error) {
	s := &Score{source: source, catalogue: catalogue, input: input, entries: map[string]*etree.Element{}}
	for _, p := range source.ScoreParts() {
		s.entries[p.ID] = p.Element
	}
	job, err := s.job(false, each)
	if err != nil {
		return nil, err
	}
	s.unsaid = job.Surveyed().Unsaid()
	assignments := job.Assignments()
	s.staves = make([]*staff, len(assignments))
	err = each.Do(len(assignments), func(w *parts.Workspace, i int) error {
		var err error
		s.staves[i], err = s.readStaff(job, i, assignments[i], w)
		return err
	})
	if err != nil {
		return nil, err
	}
	s.prevailing = prevailingKeys(s.staves)
	s.said = saidToAll(s.staves)
	return s, nil
}

// job reads the score for the first time.
func (s *Score) job(players bool, each parts.Each) (*parts.Job, error) {
	o := parts.DefaultOptions()
	o.Input, o.Players, o.RestBars, o.Each, o.Undivided = s.input, players, 0, each, true
	surveyed, err := parts.Survey(s.source, s.catalogue, o)
	if err != nil {
		return nil, err
	}
	return surveyed.Assign()
}

// readStaff reads a part of the score as it stands there, and takes the marks of
// the part that the copyist makes. Where no part can be made the score's own marks
// have to do.
func (s *Score) readStaff(job *parts.Job, i int, a parts.Assignment, w *parts.Workspace) (*staff, error) {
	source, _, err := job.Surveyed().Source(w, a.Part)
	if err != nil {
		return nil, err
	}
	t := newStaff(job, a)
	if t.transcript, err = transcribe(source, s.entries[a.ID]); err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: s.source.Name, PartName: a.Name, PartID: a.ID})
	}
	if made := transcriptOf(job, i, w); made != nil && len(made.bars) == len(t.transcript.bars) {
		t.transcript.takeMarks(made)
	}
	t.shapes = shapes(t.transcript)
	return t, nil
}

func newStaff(job *parts.Job, a parts.Assignment) *staff {
	return &staff{index: a.Part, id: a.ID, name: a.Name, label: a.Label, player: a.Player, match: job.Surveyed().Part(a.Part).Match,
		question: job.Surveyed().SoundAtOdds(a.Part)}
}

// transcriptOf reads the part that the copyist makes, nil where none can be made.
func transcriptOf(job *parts.Job, i int, w *parts.Workspace) *transcript {
	made, err := job.MakeIn(w, i)
	if err != nil || made.Document == nil {
		return nil
	}
	part, entry := partOf(made.Document)
	if part == nil {
		return nil
	}
	transcript, err := transcribe(part, entry)
	if err != nil {
		return nil
	}
	return transcript
}

// partOf are a document's first part and its entry in the part-list.
func partOf(doc *etree.Document) (part, entry *etree.Element) {
	if root := doc.Root(); root != nil {
		return musicxml.Child(root, "part"), musicxml.Child(musicxml.Child(root, "part-list"), "score-part")
	}
	return nil, nil
}

// otherSpans keeps the numbers of spans of two readings apart.
const otherSpans = 1 << 30

// takeMarks takes over what another transcript of the same bars says beside the notes.
func (s *transcript) takeMarks(from *transcript) {
	for i := range s.bars {
		b, f := &s.bars[i], &from.bars[i]
		b.marks, b.metre = f.marks, f.metre
		b.length = b.length.Max(f.length)
		for k := range b.marks {
			if b.marks[k].span > 0 {
				b.marks[k].span += otherSpans
			}
		}
	}
	s.chords, s.figures = from.chords, from.figures
}

// readPlayers makes what each player has of a shared staff, the first time it is
// asked.
func (s *Score) readPlayers(each parts.Each) error {
	if s.players != nil {
		return nil
	}
	s.players = []*staff{}
	job, err := s.job(true, each)
	if err != nil {
		return err
	}
	assignments := job.Assignments()
	found := make([]*staff, len(assignments))
	err = each.Do(len(assignments), func(w *parts.Workspace, i int) error {
		a := assignments[i]
		if a.Player == 0 {
			return nil
		}
		t := newStaff(job, a)
		t.match = s.catalogue.Match(instruments.Query{Name: a.Label})
		if t.transcript = transcriptOf(job, i, w); t.transcript == nil {
			return nil
		}
		t.shapes, t.whole = shapes(t.transcript), s.staffOf(a.Part)
		found[i] = t
		return nil
	})
	for _, t := range found {
		if t != nil && t.whole != nil {
			s.players = append(s.players, t)
		}
	}
	return err
}

func (s *Score) staffOf(part int) *staff {
	for _, t := range s.staves {
		if t.index == part {
			return t
		}
	}
	return nil
}

// prevailingKeys finds for each bar the sounding key that most pitched staves have, of
// several the one of fewest sharps or flats.
func prevailingKeys(staves []*staff) []key {
	var keys []key
	for i := 0; ; i++ {
		count, best, any := map[scale]int{}, key{scale: scaleOf([7]pitch.Alter{}, pitch.Interval{})}, false
		for _, t := range staves {
			if i >= len(t.transcript.bars) {
				continue
			}
			any = true
			if k := t.transcript.bars[i].key; t.transcript.signed && t.transcript.pitched {
				count[k.scale]++
				if n := count[k.scale] - count[best.scale]; n > 0 || n == 0 && pitch.Abs(k.fifths) < pitch.Abs(best.fifths) {
					best = k
				}
			}
		}
		if !any {
			return keys
		}
		keys = append(keys, best)
	}
}

// saidToAll gathers what any staff says that may hold for everybody.
func saidToAll(staves []*staff) []map[string]bool {
	var said []map[string]bool
	for _, t := range staves {
		for i := range t.transcript.bars {
			if i == len(said) {
				said = append(said, map[string]bool{})
			}
			for k := range t.transcript.bars[i].marks {
				m := &t.transcript.bars[i].marks[k]
				said[i][m.facet+" "+m.key] = true
			}
		}
	}
	return said
}

// says reports whether some staff has a mark in a bar or beside it.
func (s *Score) says(bar int, m *mark) bool {
	for i := max(bar-1, 0); i <= bar+1 && i < len(s.said); i++ {
		if s.said[i][m.facet+" "+m.key] {
			return true
		}
	}
	return false
}
