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

// printDocument prints the one document of --json of a command that works on no shelf.
func printDocument(p *program, fields any, summary report.Summary) error {
	return report.NewDocument(p.streams.Out, "").Close(fields, nil, &summary)
}

// list makes an absent list an empty one, which JSON writes as [].
func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}
