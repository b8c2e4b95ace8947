package service

import (
	"cmp"
	"strings"

	"deskpart/cmd/internal/fit"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// partRequest asks about one part of a score, and about instruments for it.
type partRequest struct {
	scoreRequest
	Name   string `json:"name"`   // of the part, or its id
	Player int    `json:"player"` // of a shared staff, from 1; 0 for the first
	Have   string `json:"have"`   // the players there are; "" for the whole catalogue
	To     string `json:"to"`     // the instrument that is to play it
	Octave string `json:"octave"` // whole octaves to add to the sound; "" for what suits
	Clef   string `json:"clef"`
}

// Candidate is an instrument that could take a part, with its name.
type Candidate struct {
	fit.Candidate
	Title string `json:"title"`
}

// mostCandidates is how many instruments of the whole catalogue are told.
const mostCandidates = 12

// fitPart tells which instruments could take one part, best first.
func (s *Service) fitPart(c *call, request partRequest) (Reply, error) {
	on, err := s.castable(request.scoreRequest)
	if err != nil {
		return Reply{}, err
	}
	i, err := on.job.Choose(request.Name, request.Player)
	if err != nil {
		return Reply{}, err
	}
	music, err := fit.ReadMusic(on.job, i, on.space)
	if err != nil {
		return Reply{}, err
	}
	var band fit.Band
	if request.Have != "" {
		if band, err = fit.ParseBand(s.catalogue, request.Have); err != nil {
			return Reply{}, err
		}
	}
	found := fit.Fit(music, s.catalogue, band.Instruments(), on.options.Level)
	told := []Candidate{}
	for _, one := range found[:min(len(found), mostCandidates)] {
		one.Text = one.Words(c.page)
		told = append(told, Candidate{one, s.catalogue.ByID(one.Instrument).Title(on.options.Language)})
	}
	return Reply{Value: told}, nil
}

// reassign writes one part for another instrument and tells bar by bar what is out of its
// range and what it cannot play. The file is what the command reassign writes.
func (s *Service) reassign(c *call, request partRequest) (Reply, error) {
	request.Settings = Settings{Input: request.Settings.Input, Level: request.Settings.Level, Language: request.Settings.Language,
		MaxSignature: request.Settings.MaxSignature, Players: true}
	on, err := s.seatFor(request.scoreRequest)
	if err != nil {
		return Reply{}, err
	}
	to, err := fit.FindInstrument(s.catalogue, request.To)
	if err != nil {
		return Reply{}, err
	}
	i, err := on.job.Choose(request.Name, request.Player)
	if err != nil {
		return Reply{}, err
	}
	made, err := fit.Reassign(on.job, i, to, cmp.Or(request.Octave, "auto"), request.Clef, on.options.Level, nil)
	if err != nil {
		return Reply{}, err
	}
	made.File = strings.TrimSpace(made.Part+" "+to.Title(on.options.Language)) + ".musicxml"
	told := struct {
		*fit.Reassignment
		Unplayable []fit.PlacedText `json:"unplayable"`
		Warnings   []Warning        `json:"warnings"`
	}{made, []fit.PlacedText{}, c.warnings(made.Warnings)}
	for _, place := range made.Unplayable {
		place.Text = c.page.Warning(musicxml.Warning{Code: notice.Unplayable, Text: place.Text}, texts.AtPage).Says
		told.Unplayable = append(told.Unplayable, place)
	}
	return Reply{Value: told, Files: []File{{made.File, musicxml.Append(nil, made.Document, musicxml.NoteALine)}}}, nil
}
