package parts

import (
	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/casting"
	"deskpart/musicxml/parts/internal/draft"
	"deskpart/musicxml/parts/internal/gather"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/internal/written"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Surveyed is a score whose parts have all been read once. Nothing in it changes. The
// zero value is a score without parts.
type Surveyed struct {
	score   gather.Score
	options Options
	divide  map[string]bool // ids of shared staves that are divided in any case
}

// Survey reads every part of a score for the first time. It refuses options that make
// no sense, and a score of which a part cannot be read; the error then says which, and
// where.
func Survey(score *musicxml.Score, catalogue *instruments.Catalogue, o Options) (*Surveyed, error) {
	o, err := o.settled(catalogue)
	if err != nil {
		return nil, err
	}
	read, err := gather.New(score, catalogue, gather.Options{Input: survey.Input(o.Input), Players: o.countsPlayers(), Cues: o.Cues})
	if err != nil {
		return nil, err
	}
	if err := o.Each.Do(len(score.Parts), func(w *Workspace, i int) error { return read.Read(w.stages(), i) }); err != nil {
		return nil, err
	}
	if err := read.Settle(); err != nil {
		return nil, err
	}
	return &Surveyed{score: *read, options: o}, nil
}

// Prepare loads the tables that Survey needs, which a program may do while it reads
// the score.
func Prepare() { _, _ = lexicon.Load() }

// Score is the score that was read.
func (s *Surveyed) Score() *musicxml.Score { return s.score.Music }

// Title is the score's title, of the work or of the movement, "" without.
func (s *Surveyed) Title() string { return s.score.Title() }

// Movement is what the score says of itself as a movement of a work: the title of the
// work, the movement's number and its title, each "" without.
func (s *Surveyed) Movement() (work, number, title string) {
	root := s.score.Music.Header.Root()
	return musicxml.Text(musicxml.Descend(root, "work", "work-title")), musicxml.ChildText(root, "movement-number"), musicxml.ChildText(root, "movement-title")
}

// PartName is what part i of the score is called, "" where it has no name, and its id.
func (s *Surveyed) PartName(i int) (name, id string) {
	return s.score.Parts[i].Name, s.score.Parts[i].ID
}

// PartNames are the names of the score's parts, or their ids where they have none.
func (s *Surveyed) PartNames() []string { return s.score.PartNames() }

// Find returns the one part that words name, as naming finds parts. The error is a
// *naming.NotFound with the nearest names or a *naming.Ambiguous.
func (s *Surveyed) Find(words string) (int, error) {
	return s.assigner().Find(words)
}

// Pitch says what the score was taken for, "concert", "written" or "mixed", and why.
func (s *Surveyed) Pitch() (pitch, why string) {
	return s.score.Reading.Pitch, s.score.Reading.Why
}

// ToldBy is what told the pitch: "score" (it says so itself), "request" (as asked),
// "signatures", "ear" (how the parts sound together), "signatures and ear", or
// "nothing".
func (s *Surveyed) ToldBy() string { return s.score.Reading.ToldBy }

// Unsaid reports whether nothing in the score told surely which pitch it is in, so that
// a person is asked.
func (s *Surveyed) Unsaid() bool { return s.score.Reading.Unsaid }

// SoundAtOdds is what is to be asked about part i because it would sound better with
// the others if it were transposed otherwise, "" where it sounds right.
func (s *Surveyed) SoundAtOdds(i int) string { return s.score.Parts[i].Doubt }

// Part is what the first reading tells of part i.
func (s *Surveyed) Part(i int) SurveyedPart {
	p := &s.score.Parts[i]
	told := SurveyedPart{Match: p.Match, Staves: p.Staves, Measures: make([]string, len(p.Measures)), Notes: p.Notes, Unpitched: p.Unpitched,
		Source: p.Source, ForPart: p.ForPart != nil, Lowest: p.Lowest, Highest: p.Highest, LowestSounding: p.LowestSounding, HighestSounding: p.HighestSounding}
	for m := range p.Measures {
		told.Measures[m] = p.Measures[m].Number
	}
	for _, k := range p.Keys {
		told.Keys = append(told.Keys, SurveyedKey{k.Measure, k.Fifths})
	}
	return told
}

// SurveyedPart is what a first reading tells of one part of the score.
type SurveyedPart struct {
	Match     instruments.Match // what the names say
	Staves    int
	Measures  []string      // their numbers
	Notes     int           // pitched notes, without cue notes
	Unpitched int           // notes of percussion without pitch
	Keys      []SurveyedKey // of the first staff, in order
	// Source is what <transpose> says from where on; empty where the part says
	// nothing of its pitch.
	Source  []transpose.Stretch
	ForPart bool // a concert score says how the part to be made is written
	// Lowest and Highest are the outermost pitches as the source writes them;
	// the Sounding ones have its <transpose> added.
	Lowest, Highest, LowestSounding, HighestSounding pitch.Pitch
}

// SurveyedKey is a key signature where it begins: sharps positive, flats negative.
type SurveyedKey struct {
	Measure string
	Fifths  int
}

// SourceTransposition is what part i of the score adds to its written pitch at its
// start: what its <transpose> says there, or, where it says nothing, what it is
// taken for.
func (s *Surveyed) SourceTransposition(i int) transpose.Transposition {
	return s.score.SourceTransposition(i)
}

// Source reads part i as the score has it, with the <transpose> that a source in
// written pitch leaves unsaid.
func (s *Surveyed) Source(w *Workspace, i int) (*etree.Element, *musicxml.Timeline, error) {
	if err := checkNumber("part", i, len(s.score.Parts)); err != nil {
		return nil, nil, err
	}
	d, err := s.source(w.stages(), i)
	return d.Part, d.Timeline, s.score.Locate(err, i)
}

func (s *Surveyed) source(w *stages.Workspace, i int) (*draft.Draft, error) {
	d := w.Draft(&s.score.Score, s.assigner().Usual(i))
	return d, written.ReadSource(d, s.score.Changes)
}

// Forward says where part i is moved to from its source, laid out in time: to what its
// player reads, or, where the source is that already, to concert pitch.
func (s *Surveyed) Forward(i int, source *musicxml.Timeline) (stretches []transpose.Stretch, concert bool, err error) {
	if err := checkNumber("part", i, len(s.score.Parts)); err != nil {
		return nil, false, err
	}
	d := draft.New(&s.score.Score, s.assigner().Usual(i), nil, source)
	stretches, concert, err = written.Forward(d, s.score.Changes, s.options.writing(nil))
	return stretches, concert, s.score.Locate(err, i)
}

func (s *Surveyed) assigner() *assign.Assigner {
	return assign.New(&s.score.Score, s.score.Evidence, s.casting().Options)
}

func (s *Surveyed) casting() casting.Options {
	o := s.options.casting()
	o.Divide = s.divide
	return o
}

// Divided is the score with the shared staves of these ids divided among their players,
// whatever Options.Players says. It was surveyed with Options.Work.
func (s *Surveyed) Divided(ids ...string) *Surveyed {
	divided := *s
	divided.divide = map[string]bool{}
	for _, id := range ids {
		divided.divide[id] = true
	}
	return &divided
}
