package gather

import (
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/lexicon"
	"deskpart/musicxml/parts/internal/assign"
	"deskpart/musicxml/parts/internal/changes"
	"deskpart/musicxml/parts/internal/cues"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/stages"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/internal/system"
)

// Options say what is wanted of a score.
type Options struct {
	Input   survey.Input
	Players bool // who plays a shared staff may be asked
	Cues    int  // after how many bars of rest there are cue notes; 0 is never
}

// Score is what was read of a score. Once it is settled nothing in it changes.
type Score struct {
	survey.Score
	Evidence []assign.Evidence // of several players, beside the score's parts
	Changes  *changes.Reader
	options  Options
	words    *lexicon.Glossary
	players  *divisi.Lexicon     // words that say who plays
	marks    []*system.PartMarks // beside the score's parts
	activity [][]cues.Activity   // bar by bar, where cues are wanted
}

// New is a score of which nothing has been read yet.
func New(score *musicxml.Score, catalogue *instruments.Catalogue, o Options) (*Score, error) {
	words, err := lexicon.Load()
	if err != nil {
		return nil, err
	}
	n := len(score.Parts)
	s := &Score{Score: *survey.NewScore(score, catalogue, o.Input), options: o, words: lexicon.NewGlossary(words), Changes: new(changes.Reader),
		marks: make([]*system.PartMarks, n), Evidence: make([]assign.Evidence, n), activity: make([][]cues.Activity, n)}
	s.players, err = divisi.LoadLexicon()
	return s, err
}

// Read reads part i. The parts may be read in any order, and at once in workspaces of
// their own.
func (s *Score) Read(w *stages.Workspace, i int) (err error) {
	w.Begin(s.Music)
	defer func() { err = s.Locate(err, i) }()
	t := &w.Timeline
	if part, err := s.Music.SkimPart(i, &w.Slabs, survey.Skim); err != nil {
		return err
	} else if err := t.LayOut(part); err != nil {
		return err
	}
	if s.Parts[i], err = s.Score.Read(i, t); err != nil {
		return err
	}
	s.marks[i] = system.Gather(t, s.words, false)
	if s.options.Players {
		s.Evidence[i] = assign.Gather(t, s.players)
	}
	if s.options.Cues > 0 {
		s.activity[i], err = cues.Gather(t, s.Parts[i].SaidAt)
	}
	return err
}

// Settle finds out what the parts tell together, when all have been read.
func (s *Score) Settle() error {
	s.Recognise()
	return s.Score.Settle()
}

// Stages are the stages for its parts, but for the settings of how they are written.
func (s *Score) Stages() stages.Score {
	return stages.Score{Surveyed: &s.Score, Words: s.words, Players: s.players, Finder: s.Changes, Marks: system.Join(&s.Score, s.marks),
		Lengths: s.Lengths(), Cues: cues.Cues{After: s.options.Cues, Activity: s.activity}}
}
