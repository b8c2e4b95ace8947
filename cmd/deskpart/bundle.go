package main

import (
	"bytes"
	"context"
	"path"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// bundleFolder is where the parts lie inside a bundle.
const bundleFolder = "parts/"

// bundleRoot is the score inside a bundle.
const bundleRoot = "score.musicxml"

// pack keeps a part for the bundle.
func (j *scoreJob) pack(i int, sheet *parts.Part, row *report.PartRow) {
	row.Inside, row.File = bundleFolder+row.File, ""
	j.packed[i] = &parts.BundledPart{Assignment: j.assignments[i], Report: sheet.Report, Name: row.Inside,
		Data: bytes.Clone(sheet.Bytes(layout))}
	row.SHA256 = report.Sum(j.packed[i].Data)
}

// writeBundle writes the score and its parts as one file, which the manifest names.
// It is one task of the pool, whose memory it works in.
func (j *scoreJob) writeBundle(ctx context.Context) error {
	return firstError(j.worker.Each(ctx, 1, func(_ context.Context, worker, _ int) error {
		return j.bundleWith(&j.spaces[worker])
	}))
}

func (j *scoreJob) bundleWith(space *parts.Workspace) error {
	var made []parts.BundledPart
	for _, p := range j.packed {
		if p != nil {
			made = append(made, *p)
		}
	}
	contents, err := j.surveyed.Bundle(space, bundleRoot, made, layout)
	if err != nil {
		return err
	}
	var container bytes.Buffer
	if err := musicxml.WriteContainer(&container, bundleRoot, contents...); err != nil {
		return err
	}
	name := j.names.Unique(path.Base(j.stem), ".mxl")
	sum := report.Sum(container.Bytes())
	j.manifest.Files = map[string]string{name: sum}
	return j.put(name, container.Bytes(), sum)
}
