package service

import (
	"encoding/json"
	"fmt"
	"slices"

	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/musicxml/engraving/display"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/parts"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Settings are how parts are made and printed. A field that a request leaves out has
// the default of the command's flag of its name.
type Settings struct {
	Language         pitch.Language    `json:"language"`
	Input            string            `json:"input"`
	Level            instruments.Level `json:"level"`
	Players          bool              `json:"players"`
	MaxSignature     *int              `json:"max_signature"`
	RestBars         *int              `json:"rest_bars"`
	Cues             int               `json:"cues"`
	Readable         bool              `json:"readable"`
	WithoutSignature []string          `json:"without_signature"`
	SkipTacet        bool              `json:"skip_tacet"`
	Plan             []parts.PlanRow   `json:"plan"`
	Share            [][]string        `json:"share"`
	Percussionists   int               `json:"percussionists"`
	Editions         []string          `json:"editions"`
	Substitutes      bool              `json:"substitutes"`
	Choir            string            `json:"choir"`

	Paper    string  `json:"paper"`
	Staff    float64 `json:"staff"`
	Large    bool    `json:"large"`
	OneSided bool    `json:"one_sided"`
}

// options are those of the copyist.
func (s *Settings) options(c *instruments.Catalogue) (parts.Options, error) {
	o := parts.DefaultOptions()
	if s.Language != "" {
		l, err := pitch.ParseLanguage(string(s.Language))
		if err != nil {
			return o, err
		}
		o.Language = l
	}
	if s.Input != "" {
		o.Input = parts.Input(s.Input)
	}
	if s.Level != "" {
		o.Level = s.Level
	}
	if s.MaxSignature != nil {
		o.MaxSignature = *s.MaxSignature
	}
	if s.RestBars != nil {
		o.RestBars = *s.RestBars
	}
	if s.Readable {
		o.Spelling = transpose.Readable
	}
	if s.SkipTacet {
		o.Tacet = parts.TacetSkip
	}
	o.Players, o.Cues, o.WithoutSignature, o.Plan = s.Players, s.Cues, s.WithoutSignature, s.Plan
	if err := s.desks(&o, c); err != nil {
		return o, err
	}
	if len(o.Plan) > 0 {
		if err := parts.CheckPlan(o.Plan, c); err != nil {
			return o, fmt.Errorf("the plan: %w", err)
		}
	}
	return o, nil
}

// desks are parts beside those of the score's own players.
func (s *Settings) desks(o *parts.Options, c *instruments.Catalogue) error {
	o.Share, o.Percussionists, o.Choir = s.Share, s.Percussionists, parts.Choir(s.Choir)
	for _, words := range s.Editions {
		reader, err := c.FindReader(words)
		if err != nil {
			return err
		}
		o.Editions = append(o.Editions, reader)
	}
	if s.Substitutes && len(s.Editions) > 0 {
		return errTwoSets
	}
	if !s.Substitutes {
		return nil
	}
	var err error
	o.Substitutes, err = c.Substitutes()
	return err
}

var errTwoSets = problem(func(t *texts.Texts) string { return t.Say("service.two-sets", nil) })

// printing are those of the pages.
func (s *Settings) printing(o parts.Options) (printing.Options, error) {
	p := printing.Options{Staff: display.Millimetres(s.Staff), Large: s.Large, OneSided: s.OneSided,
		Language: string(o.Language), RestBars: o.RestBars}
	if s.Paper != "" {
		size, err := paper.ParseSize(s.Paper)
		if err != nil {
			return p, err
		}
		p.Paper = size
	}
	return p, paper.Options{Paper: p.Paper, Staff: p.Staff, Large: p.Large}.Check()
}

// scoreRequest names a score and says how its parts are to be made.
type scoreRequest struct {
	Score    string   `json:"score"`
	Settings Settings `json:"settings"`
	// Part is one of the seated parts, from 0; Parts are several, none for all.
	Part  int   `json:"part"`
	Parts []int `json:"parts"`
	// Copies are how many prints of each seated part the print job has. Default: what
	// the plan says, or one.
	Copies []int `json:"copies"`
}

// chosen are the parts that are asked for, in their order.
func (r *scoreRequest) chosen(of int) []int {
	var all []int
	for i := range of {
		if len(r.Parts) == 0 || slices.Contains(r.Parts, i) {
			all = append(all, i)
		}
	}
	return all
}

// seated is a score whose parts are seated.
type seated struct {
	*score
	job      *parts.Job
	rows     []parts.Assignment
	options  parts.Options
	printing printing.Options
	request  scoreRequest
}

// withSeats is a call that works with a seated score: the request is read and the parts of
// its score are seated, or taken as they were seated last.
func withSeats(do func(*Service, *call, *seated) (Reply, error)) func(*Service, *call) (Reply, error) {
	return asked(func(s *Service, c *call, r scoreRequest) (Reply, error) {
		on, err := s.seatFor(r)
		if err != nil {
			return Reply{}, err
		}
		return do(s, c, on)
	})
}

func (s *Service) seatFor(r scoreRequest) (*seated, error) {
	open, err := s.scoreOf(r.Score)
	if err != nil {
		return nil, err
	}
	on := &seated{score: open, request: r}
	if on.options, err = r.Settings.options(s.catalogue); err != nil {
		return nil, err
	}
	if on.printing, err = r.Settings.printing(on.options); err != nil {
		return nil, err
	}
	if on.job, err = open.jobFor(s.catalogue, r.Settings, on.options); err != nil {
		return nil, err
	}
	on.rows = on.job.Assignments()
	if r.Part < 0 || r.Part >= len(on.rows) && r.Part > 0 {
		return nil, errNoSuchPart
	}
	return on, nil
}

// jobFor seats the parts, or takes the job that was made last with the same settings,
// but for those of the paper.
func (s *score) jobFor(catalogue *instruments.Catalogue, with Settings, o parts.Options) (*parts.Job, error) {
	with.Paper, with.Staff, with.Large, with.OneSided = "", 0, false, false
	settings, err := json.Marshal(with)
	if err != nil {
		return nil, err
	}
	if s.job != nil && s.settings == string(settings) {
		return s.job, nil
	}
	surveyed, err := parts.Survey(s.source, catalogue, o)
	if err != nil {
		return nil, err
	}
	job, err := surveyed.Assign()
	if err != nil {
		return nil, err
	}
	s.job, s.settings = job, string(settings)
	return job, nil
}
