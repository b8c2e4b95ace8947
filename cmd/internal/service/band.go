package service

import (
	"cmp"

	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// Cast is a score given to a band: who plays what, and the same as a plan.
type Cast struct {
	*fit.Casting
	Plan []parts.PlanRow `json:"plan"`
	// Titles are the instruments' names in the language of the settings.
	Titles map[string]string `json:"titles"`
}

// Player is the players of one instrument of a band.
type Player struct {
	Instrument string `json:"instrument"`
	Title      string `json:"title"`
	Count      int    `json:"count"`
}

var errNobody = problem(func(t *texts.Texts) string { return t.Say("service.nobody", nil) })

// bandRequest names the players there are, and the score that they are to play.
type bandRequest struct {
	scoreRequest
	Band     string         `json:"band"`
	Language pitch.Language `json:"language"`
}

// readBand reads a list of players.
func (s *Service) readBand(_ *call, request bandRequest) (Reply, error) {
	band, err := fit.ParseBand(s.catalogue, request.Band)
	if err != nil {
		return Reply{}, misread(fieldBand, request.Band, err)
	}
	players := []Player{}
	for _, section := range band {
		players = append(players, Player{section.Instrument.ID, section.Instrument.Title(request.Language), section.Count})
	}
	return Reply{Value: players}, nil
}

// cast gives a whole score to the players there are.
func (s *Service) cast(c *call, request bandRequest) (Reply, error) {
	if request.Band == "" {
		return Reply{}, errNobody
	}
	band, err := fit.ParseBand(s.catalogue, request.Band)
	if err != nil {
		return Reply{}, misread(fieldBand, request.Band, err)
	}
	on, err := s.castable(request.scoreRequest)
	if err != nil {
		return Reply{}, err
	}
	music := make([]*fit.Music, len(on.rows))
	for i := range on.rows {
		if music[i], err = fit.ReadMusic(on.job, i, nil); err != nil {
			return Reply{}, err
		}
		if err := c.step(Progress{Done: i + 1, Of: len(on.rows)}); err != nil {
			return Reply{}, err
		}
	}
	level := cmp.Or(on.request.Settings.Level, instruments.Professional)
	turns := on.job.Turns()
	casting, err := fit.Cast(music, band, level, func(lines ...int) bool {
		can, err := turns(lines...)
		return err == nil && can
	})
	if err != nil {
		return Reply{}, err
	}
	for i := range casting.Roles {
		r := &casting.Roles[i]
		r.Text, r.Label, r.Player = r.Words(c.page), c.page.Named(r.Label), c.page.Named(r.Player)
	}
	return Reply{Value: Cast{casting, report.List(casting.PlanRows()), s.titles(casting, on.options.Language)}}, nil
}

// castable seats the score as fit reads it: every player's own music, no plan.
func (s *Service) castable(request scoreRequest) (*seated, error) {
	never := 0
	request.Settings.Players, request.Settings.RestBars, request.Settings.Plan = true, &never, nil
	return s.seatFor(request)
}

func (s *Service) titles(c *fit.Casting, language pitch.Language) map[string]string {
	titles := map[string]string{}
	for _, role := range c.Roles {
		if i := s.catalogue.ByID(role.Instrument); i != nil {
			titles[role.Instrument] = i.Title(language)
		}
	}
	return titles
}
