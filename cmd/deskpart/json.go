package main

import (
	"deskpart/cmd/internal/report"
)

// printJSON prints a document that is a list.
func printJSON(p *program, value any) error {
	document, err := report.JSON(value)
	if err != nil {
		return err
	}
	_, err = p.streams.Out.Write(document)
	return err
}

// printDocument prints the one document of --json of a command that works on no shelf:
// the score that it took music from, "" for none, and the fields.
func printDocument(p *program, input string, fields any, summary report.Summary) error {
	document := report.NewDocument(p.streams.Out, "")
	if input != "" {
		summary.Files = 1
		err := document.Fields(struct {
			Input string `json:"input"`
		}{input})
		if err != nil {
			return err
		}
	}
	return document.Close(fields, nil, &summary)
}
