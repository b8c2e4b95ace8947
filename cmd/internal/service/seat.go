package service

import (
	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

var errNoSuchPart = problem(func(t *texts.Texts) string { return t.Say("service.no-such-part", nil) })

// Seat is who plays a part, and why the program thinks so.
type Seat struct {
	Index        int    `json:"index"`
	ID           string `json:"id"`
	Part         string `json:"part"` // what a plan calls it
	Name         string `json:"name"` // in the score
	Label        string `json:"label"`
	File         string `json:"file"` // without its ending
	Instrument   string `json:"instrument"`
	Title        string `json:"title"` // of the instrument, in the settings' language
	Describe     string `json:"describe"`
	RecognisedBy string `json:"recognised_by"`
	Assumed      bool   `json:"assumed"`
	Why          string `json:"why"`
	Question     string `json:"question"`
	Player       int    `json:"player"`
	Players      int    `json:"players"`
	Copies       int    `json:"copies"`
	Octave       string `json:"octave"`
	Clef         string `json:"clef"`
	// Alternatives are other instruments that the name may mean.
	Alternatives []string  `json:"alternatives"`
	Warnings     []Warning `json:"warnings"`
}

// seat says who plays what, before anything is made.
func (s *Service) seat(c *call) (Reply, error) {
	on, err := s.seatedOf(c)
	if err != nil {
		return Reply{}, err
	}
	missing := on.job.Missing()
	return Reply{Value: struct {
		Seats    []Seat    `json:"seats"`
		Warnings []Warning `json:"warnings"`
	}{on.seats(c), c.warnings(report.MissingWarnings(missing))}}, nil
}

func (on *seated) seats(c *call) []Seat {
	seats := make([]Seat, len(on.rows))
	names := on.names()
	for i, a := range on.rows {
		match := on.job.Surveyed().Part(a.Part).Match
		seat := Seat{Index: i, ID: a.ID, Part: a.PlayerID(), Name: a.Name, Label: a.Label, File: names[i], RecognisedBy: a.RecognisedBy, Assumed: a.Assumed,
			Why: match.Why, Question: match.Question, Player: a.Player, Players: a.PlayerCount, Copies: max(1, a.Copies),
			Octave: a.Octave, Clef: a.Clef, Alternatives: idsOf(match.Alternatives), Warnings: c.warnings(a.Warnings)}
		if a.Instrument != nil {
			seat.Instrument, seat.Title = a.Instrument.ID, a.Instrument.Title(on.options.Language)
			seat.Describe = a.Instrument.Describe(on.options.Language)
		}
		seats[i] = seat
	}
	return seats
}

func idsOf(all []*instruments.Instrument) []string {
	ids := []string{}
	for _, i := range all {
		ids = append(ids, i.ID)
	}
	return ids
}

// names are the parts' files without their endings, as the command names them.
func (on *seated) names() []string {
	var taken files.Names
	names := make([]string, len(on.rows))
	for i, a := range on.rows {
		names[i] = taken.Unique(report.PartName(a), "")
	}
	return names
}

// Instrument is one of the catalogue, to choose from.
type Instrument struct {
	ID       string            `json:"id"`
	Title    string            `json:"title"`
	Group    instruments.Group `json:"group"`
	Family   string            `json:"family"`
	Describe string            `json:"describe"`
}

// listInstruments lists the catalogue in the language of a page.
func (s *Service) listInstruments(c *call) (Reply, error) {
	var request struct {
		Language pitch.Language `json:"language"`
	}
	if err := c.into(&request); err != nil {
		return Reply{}, err
	}
	all := []Instrument{}
	for _, i := range s.catalogue.All() {
		all = append(all, Instrument{i.ID, i.Title(request.Language), i.Group, i.Family, i.Describe(request.Language)})
	}
	return Reply{Value: all}, nil
}
