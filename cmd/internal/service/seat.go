package service

import (
	"strconv"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/musicxml/parts"
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
	Alternatives []string `json:"alternatives"`
	// Rows are those of a plan that seat the same player; none where something else than a
	// plan has made the seat: editions, who stands in, staves and percussion that are shared.
	Rows []parts.PlanRow `json:"rows"`
	// With are the further staves of the score that the player has, by name.
	With      []string  `json:"with"`
	Edition   string    `json:"edition"`
	StandsFor string    `json:"stands_for"`
	Warnings  []Warning `json:"warnings"`
}

// seat says who plays what, before anything is made.
func (s *Service) seat(c *call, on *seated) (Reply, error) {
	missing := on.job.Missing()
	return Reply{Value: struct {
		Seats    []Seat    `json:"seats"`
		Warnings []Warning `json:"warnings"`
	}{on.seats(c), c.warnings(report.MissingWarnings(missing))}}, nil
}

func (on *seated) seats(c *call) []Seat {
	seats := make([]Seat, len(on.rows))
	names := on.names("")
	for i, a := range on.rows {
		match := on.job.Surveyed().Part(a.Part).Match
		seat := Seat{Index: i, ID: a.ID, Part: a.PlayerID(), Name: a.Name, Label: a.Label, File: names[i], RecognisedBy: a.RecognisedBy, Assumed: a.Assumed,
			Why: match.Why, Question: match.Question, Player: a.Player, Players: a.PlayerCount, Copies: max(1, a.Copies),
			Octave: a.Octave, Clef: a.Clef, Alternatives: idsOf(match.Alternatives), Warnings: c.warnings(a.Warnings),
			Rows: planRowsOf(a), With: []string{}, Edition: a.Edition, StandsFor: a.StandsFor}
		for _, further := range a.With {
			seat.With = append(seat.With, further.Name)
		}
		if a.Instrument != nil {
			seat.Instrument, seat.Title = a.Instrument.ID, a.Instrument.Title(on.options.Language)
			seat.Describe = a.Instrument.Describe(on.options.Language)
		}
		if c.page.Language != pitch.English {
			seat.Why = "" // RecognisedBy and the warnings say it in words of the page
		}
		seats[i] = seat
	}
	return seats
}

// planRowsOf are the rows of a plan that seat a player as it is.
func planRowsOf(a parts.Assignment) []parts.PlanRow {
	rows := []parts.PlanRow{}
	if a.Edition != "" || a.StandsFor != "" || a.Some {
		return rows
	}
	for i, staff := range append([]parts.Assignment{a}, a.With...) {
		row := parts.PlanRow{Part: staff.PlayerID(), Octave: staff.Octave, Clef: staff.Clef, Player: staff.Desk}
		if staff.Instrument != nil {
			row.Instrument = staff.Instrument.ID
		}
		if i == 0 && staff.RecognisedBy == parts.ByPlan {
			row.Label = staff.Label
		}
		if i == 0 && a.Copies > 1 {
			row.Copies = strconv.Itoa(a.Copies)
		}
		rows = append(rows, row)
	}
	return rows
}

func idsOf(all []*instruments.Instrument) []string {
	ids := []string{}
	for _, i := range all {
		ids = append(ids, i.ID)
	}
	return ids
}

// names are the parts' files with an ending, or without, as the command names them.
func (on *seated) names(ending string) []string {
	var taken files.Names
	names := make([]string, len(on.rows))
	for i, a := range on.rows {
		names[i] = taken.Unique(report.PartName(a), ending)
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
func (s *Service) listInstruments(_ *call, _ lessonRequest, said *texts.Texts) (Reply, error) {
	all := []Instrument{}
	for _, i := range s.catalogue.All() {
		all = append(all, Instrument{i.ID, i.Title(said.Language), i.Group, i.Family, i.Describe(said.Language)})
	}
	return Reply{Value: all}, nil
}

// Reader is whoever reads one clef and hears a written C as one note.
type Reader struct {
	Name  string `json:"name"`
	Title string `json:"title"`
}

// listReaders lists those that parts are commonly printed for, in the language of a page.
func (s *Service) listReaders(c *call, _ lessonRequest, said *texts.Texts) (Reply, error) {
	readers, err := s.catalogue.Readers()
	if err != nil {
		return Reply{}, err
	}
	all := []Reader{}
	for _, r := range readers {
		clef, _ := said.Clef(r.Clef().Name())
		all = append(all, Reader{r.Name, r.InKey(said.Language) + ", " + clef})
	}
	return Reply{Value: all}, nil
}
