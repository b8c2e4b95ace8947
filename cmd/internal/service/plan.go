package service

import (
	"bytes"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/survey"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/plan"
)

// plan writes who plays what as a table for a spreadsheet: the plan of the settings, or
// the score as it is.
func (s *Service) plan(c *call, on *seated) (Reply, error) {
	rows := on.options.Plan
	if len(rows) == 0 {
		rows = on.asItIs()
	}
	var table bytes.Buffer
	err := plan.Write(&table, rows)
	return Reply{Value: struct{}{}, Files: []File{{"plan.csv", table.Bytes()}}}, err
}

// asItIs is the plan that a survey writes.
func (on *seated) asItIs() []parts.PlanRow {
	said := survey.OfScore(on.job.Surveyed(), on.source, "", on.data)
	said.Parts = make([]survey.Part, len(on.rows))
	for i := range on.rows {
		said.Parts[i] = survey.OfPart(on.job, i, on.space)
	}
	return survey.PlanRows([]survey.Score{said})
}

var errNoPlan = problem(func(t *texts.Texts) string { return t.Say("service.no-plan", nil) })

// readPlan reads a table that says who plays what.
func (s *Service) readPlan(c *call) (Reply, error) {
	if len(c.files) == 0 {
		return Reply{}, errNoPlan
	}
	rows, err := plan.Read(bytes.NewReader(c.files[0].Data))
	if err == nil {
		err = parts.CheckPlan(rows, s.catalogue)
	}
	return Reply{Value: report.List(rows)}, err
}
