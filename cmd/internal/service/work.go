package service

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/works"
)

// workRequest names the movements of a work, in order, and says how its parts are made.
type workRequest struct {
	scoreRequest
	Work   []string `json:"work"`   // scores that are open
	Titles []string `json:"titles"` // of the movements, as an opus says them
	Title  string   `json:"title"`
}

// seatedWork is a work whose players are seated.
type seatedWork struct {
	*works.Work
	options  parts.Options
	printing printing.Options
	request  workRequest
	surveyed []*parts.Surveyed
	scores   []*score
	titles   []string // of the movements, as an opus says them
}

// withWork is a call that works with a seated work: the request is read and its players are
// seated.
func withWork(do func(*Service, *call, *seatedWork) (Reply, error)) func(*Service, *call) (Reply, error) {
	return asked(func(s *Service, c *call, r workRequest) (Reply, error) {
		on, err := s.workOf(c, r)
		if err != nil {
			return Reply{}, err
		}
		return do(s, c, on)
	})
}

func (s *Service) workOf(c *call, request workRequest) (on *seatedWork, err error) {
	on = &seatedWork{request: request}
	if on.options, err = on.request.Settings.options(s.catalogue); err != nil {
		return nil, err
	}
	if on.printing, err = on.request.Settings.printing(on.options); err != nil {
		return nil, err
	}
	on.options.Work = true
	for i, id := range on.request.Work {
		open, err := s.scoreOf(id)
		if err != nil {
			return nil, err
		}
		surveyed, err := parts.Survey(open.source, s.catalogue, on.options)
		if err != nil {
			return nil, musicxml.Locate(err, musicxml.Error{File: open.path})
		}
		on.surveyed, on.scores = append(on.surveyed, surveyed), append(on.scores, open)
		if err := c.step(Progress{Done: i + 1, Of: len(on.request.Work)}); err != nil {
			return nil, err
		}
	}
	if len(on.scores) == 0 {
		return nil, errNotOpen
	}
	if on.Work, err = works.Find(s.catalogue, on.options.Language, on.surveyed); err != nil {
		return nil, err
	}
	on.titles = append(slices.Clone(on.request.Titles), make([]string, len(on.scores))...)[:len(on.scores)]
	on.Name(on.request.Title, on.path(), on.surveyed, on.titles)
	return on, nil
}

// path is what the work is called where paths are.
func (on *seatedWork) path() string {
	if on.request.Title != "" {
		return on.request.Title
	}
	var paths []string
	for _, score := range on.scores {
		paths = append(paths, score.path)
	}
	return files.CommonName(paths)
}

// manifest is what extract writes beside the files of a work.
func (on *seatedWork) manifest(rows []report.PartRow, quick map[string]string) ([]byte, error) {
	settings, err := json.Marshal(report.NewSettings(on.options))
	if err != nil {
		return nil, err
	}
	m := report.Manifest{Tool: report.ToolName, Version: report.Version, Settings: settings, Parts: rows, Source: report.Source{Path: on.path()}}
	var data [][]byte
	for _, score := range on.scores {
		m.Movements, data = append(m.Movements, report.Source{Path: score.path, SHA256: report.Sum(score.data)}), append(data, score.data)
	}
	m.Source.SHA256 = report.WorkSum(on.request.Title, data, on.titles, report.Sum)
	m.Quick = &report.QuickSums{Source: report.WorkSum(on.request.Title, data, on.titles, report.QuickSum), Files: quick}
	m.TellWork(on.Work, on.surveyed)
	return report.JSON(m)
}

// Movement is what a player has in one movement of a work.
type Movement struct {
	Heading string `json:"heading"`
	Label   string `json:"label"` // "" where the player is silent
}

// WorkSeat is a player of a work.
type WorkSeat struct {
	Seat
	Movements []Movement `json:"movements"`
}

// seatWork says who the players of a work are.
func (s *Service) seatWork(c *call, on *seatedWork) (Reply, error) {
	names := on.books()
	seats := make([]WorkSeat, len(on.Players))
	for p, player := range on.Players {
		seat := WorkSeat{Seat: Seat{Index: p, ID: player.Label, Part: player.Label, Name: player.Label, Label: player.Label, File: names[p], Copies: 1,
			Alternatives: []string{}, Rows: []parts.PlanRow{}, With: []string{}, Warnings: []Warning{}}}
		for m, file := range player.Files {
			movement := Movement{Heading: on.Heading(m)}
			if file >= 0 {
				a := on.Jobs[m].Assignment(file)
				movement.Label = a.Label
				if seat.RecognisedBy == "" {
					seat.RecognisedBy, seat.Assumed = a.RecognisedBy, a.Assumed
				}
				seat.Warnings = append(seat.Warnings, c.warnings(a.Warnings)...)
			}
			seat.Movements = append(seat.Movements, movement)
		}
		if i := player.Instruments[0]; i != nil {
			seat.Instrument, seat.Title = i.ID, i.Title(on.options.Language)
		}
		seats[p] = seat
	}
	headings := make([]string, len(on.Jobs))
	for m := range headings {
		headings[m] = on.Heading(m)
	}
	return Reply{Value: struct {
		Title     string     `json:"title"`
		Movements []string   `json:"movements"` // as they are headed
		Seats     []WorkSeat `json:"seats"`
		Warnings  []Warning  `json:"warnings"`
	}{on.Title, headings, seats, c.warnings(report.MissingWarnings(on.Missing()))}}, nil
}

// books are the names of the players' books, without their endings, as print gives them.
func (on *seatedWork) books() []string {
	var taken files.Names
	names := make([]string, len(on.Players))
	for p, player := range on.Players {
		names[p] = taken.Unique(fmt.Sprintf("%02d %s", p+1, player.Label), "")
	}
	return names
}

// makeWork makes the files of the players, one a movement, as extract does.
func (s *Service) makeWork(c *call, on *seatedWork) (Reply, error) {
	var taken files.Names
	space := new(parts.Workspace)
	n := len(on.Jobs)
	of := len(on.Players) * n
	var rows []report.PartRow
	quick := map[string]string{}
	reports := make([][]parts.Report, n)
	for m, job := range on.Jobs {
		reports[m] = make([]parts.Report, len(job.Assignments()))
	}
	for i := range of {
		name := taken.Unique(on.FileName(i/n, i%n), ".musicxml")
		if p := on.request.Parts; len(p) > 0 && !slices.Contains(p, i/n) {
			continue
		}
		made := Made{Index: i / n, PartRow: report.NewWorkRow(on.Work, i/n, i%n, name)}
		told := Progress{Done: i + 1, Of: of}
		if data := on.makeFile(&made.PartRow, space, i/n, i%n, reports[i%n]); data != nil {
			told.Files, quick[name] = []File{{name, data}}, report.QuickSum(data)
		}
		rows = append(rows, made.PartRow)
		made.Warnings = c.warnings(made.PartRow.Warnings)
		told.Made = made
		if err := c.step(told); err != nil {
			return Reply{}, err
		}
	}
	if len(rows) < of {
		return Reply{Value: struct{}{}}, nil
	}
	for m := range on.Jobs {
		report.TellSilent(on.Work, m, reports[m], rows)
	}
	manifest, err := on.manifest(rows, quick)
	return Reply{Value: struct{}{}, Files: []File{{report.ManifestName, manifest}}}, err
}

// makeFile makes what a player has of a movement and fills its row.
func (on *seatedWork) makeFile(row *report.PartRow, space *parts.Workspace, p, m int, reports []parts.Report) []byte {
	part, err := on.Make(space, p, m)
	if err != nil {
		row.Fail(err)
		return nil
	}
	if file := on.Players[p].Files[m]; file >= 0 {
		reports[file] = part.Report
	}
	row.Take(part.Report)
	if part.Document == nil || on.Players[p].Files[m] < 0 && on.options.Tacet == parts.TacetSkip {
		row.File = ""
		return nil
	}
	data := bytes.Clone(part.Bytes(musicxml.NoteALine))
	row.SHA256 = report.Sum(data)
	return data
}

// drawWork draws a player's book as the pages that are printed.
func (s *Service) drawWork(c *call, on *seatedWork) (Reply, error) {
	p := on.request.Part
	if p < 0 || p >= len(on.Players) {
		return Reply{}, errNoSuchPart
	}
	on.printing.SVG = true
	row, printed := on.book(p)
	return c.drawn(row, printed, on.books()[p]), nil
}

// book lays out a player's book. One that cannot be printed is a row that says why.
func (on *seatedWork) book(p int) (printing.Row, *printing.Printed) {
	printed, err := on.printing.PrintPlayer(on.Work, p, false)
	if err != nil {
		row := printing.NewRow(on.Players[p].Label, "")
		row.Failed, row.Warnings = true, append(row.Warnings, report.Failure(err))
		return row, nil
	}
	return printed.Row, printed
}

// printWork makes a book for each player, or with "copies" one document of them all.
func (s *Service) printWork(c *call, on *seatedWork) (Reply, error) {
	r := &on.request
	job := printing.Job{Title: on.Title, Language: string(on.options.Language), OneSided: r.Settings.OneSided}
	return c.printAll(r.chosen(len(on.Players)), r.Copies, on.books(), &job, on.book)
}
