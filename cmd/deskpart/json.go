package main

import (
	"bytes"
	"encoding/json"

	"deskpart/cmd/internal/report"
)

// printJSON prints the one document of --json.
func printJSON(p *program, value any) error {
	document, err := report.JSON(value)
	if err != nil {
		return err
	}
	_, err = p.streams.Out.Write(document)
	return err
}

// withSummary is a command's own fields and the summary of the run in one object.
type withSummary struct {
	fields  any
	summary report.Summary
}

// MarshalJSON puts the summary behind the fields.
func (w withSummary) MarshalJSON() ([]byte, error) {
	fields, err := json.Marshal(w.fields)
	if err != nil {
		return nil, err
	}
	summary, err := json.Marshal(w.summary)
	if err != nil {
		return nil, err
	}
	object := bytes.TrimSuffix(fields, []byte("}"))
	if len(object) > 1 {
		object = append(object, ',')
	}
	return append(append(append(object, `"summary":`...), summary...), '}'), nil
}

// list makes an absent list an empty one, which JSON writes as [].
func list[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}
