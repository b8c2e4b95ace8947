package service

import (
	"bytes"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
)

// Collated is what became of one part that was held against the score.
type Collated struct {
	File        string    `json:"file"`
	Part        string    `json:"part"`
	Agree       bool      `json:"agree"`
	Differences []Erratum `json:"differences"`
	Remarks     []string  `json:"remarks"`
}

// Erratum is one line of an errata list.
type Erratum struct {
	collate.Difference
	Stands string `json:"stands"`
	Should string `json:"should"`
}

// collate holds the files of a call against the score and tells what differs, also as a
// table.
func (s *Service) collate(c *call, on *seated) (Reply, error) {
	score, err := collate.ReadScore(on.source, s.catalogue, on.options.Input, nil)
	if err != nil {
		return Reply{}, err
	}
	given, _ := c.unpackAll(c.files)
	var held []*collate.Part
	for i, file := range given {
		held = append(held, s.heldParts(on, file)...)
		if err := c.step(Progress{Done: i + 1, Of: len(given)}); err != nil {
			return Reply{}, err
		}
	}
	results, err := score.Collate(held, collate.Options{}, nil)
	if err != nil {
		return Reply{}, err
	}
	told := []Collated{}
	for i := range results {
		r := &results[i]
		one := Collated{r.File, r.Part, r.Agree(), []Erratum{}, report.List(r.Remarks)}
		for _, d := range r.Differences {
			one.Differences = append(one.Differences, Erratum{d, d.Stands, d.Should})
		}
		told = append(told, one)
	}
	var table bytes.Buffer
	err = report.WriteCSV(&table, results)
	return Reply{Value: told, Files: []File{{"errata.csv", table.Bytes()}}}, err
}

// heldParts are the parts of one file; one that cannot be read is a part that says so.
func (s *Service) heldParts(on *seated, file File) []*collate.Part {
	source, err := readScore(file)
	if err == nil {
		var found []*collate.Part
		if found, err = collate.ReadFile(file.Name, "", source, s.catalogue, on.space); err == nil {
			return found
		}
	}
	return []*collate.Part{collate.Unread(file.Name, musicxml.Locate(err, musicxml.Error{File: file.Name}))}
}
