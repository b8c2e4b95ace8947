package main

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"path"
	"path/filepath"
	"strings"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/bundle"
)

// bundleFolder is where the parts lie inside a bundle.
const bundleFolder = "parts/"

// bundleRoot is the score inside a bundle.
const bundleRoot = "score.musicxml"

// pack keeps a part for the bundle.
func (j *scoreJob) pack(i int, sheet *parts.Part, row *report.PartRow) {
	row.Inside, row.File = bundleFolder+row.File, ""
	a := parts.Assignment{Label: row.Label} // of a tacet sheet
	if i < len(j.assignments) {
		a = j.assignments[i]
	}
	j.packed[i] = &bundle.Part{File: musicxml.File{Name: row.Inside, Data: bytes.Clone(sheet.Bytes(layout))},
		PartIDs: a.PartIDs(), Label: a.Label, Instruments: sheet.Report.Instruments}
	row.SHA256 = report.Sum(j.packed[i].Data)
}

// writeBundle writes the score and its parts as one file, which the manifest names.
// It is one task of the pool, whose memory it works in.
func (j *scoreJob) writeBundle(ctx context.Context) error {
	return cmp.Or(j.worker.Each(ctx, 1, func(_ context.Context, worker, _ int) error {
		return j.bundleWith(&j.spaces[worker])
	})...)
}

func (j *scoreJob) bundleWith(space *parts.Workspace) error {
	contents, err := j.bundled(space)
	if err != nil {
		return err
	}
	return j.writeContainer(bundleRoot, contents)
}

// bundled are the score and its parts, linked.
func (j *scoreJob) bundled(space *parts.Workspace) ([]musicxml.File, error) {
	var made []bundle.Part
	for _, p := range j.packed {
		if p != nil {
			made = append(made, *p)
		}
	}
	score := j.surveyed.Score()
	read := func(i int) (*etree.Element, error) { return space.ReadPart(score, i) }
	return bundle.Files(score, bundleRoot, made, read, layout)
}

// writeContainer packs files into the one file that the manifest names.
func (j *scoreJob) writeContainer(root string, contents []musicxml.File) error {
	data, err := container(root, contents...)
	if err != nil {
		return err
	}
	name := j.names.Unique(path.Base(j.stem), ".mxl")
	sum := report.Sum(data)
	j.manifest.Files = map[string]string{name: sum}
	return j.put(name, data, sum)
}

// container packs files into a compressed score.
func container(root string, contents ...musicxml.File) ([]byte, error) {
	var packed bytes.Buffer
	err := musicxml.WriteContainer(&packed, root, contents...)
	return packed.Bytes(), err
}

// packedFor is the text of a score as it stands in a file of that name: packed if the name
// ends in .mxl.
func packedFor(path string, text []byte) ([]byte, error) {
	base := filepath.Base(path)
	extension := filepath.Ext(base)
	if !strings.EqualFold(extension, ".mxl") {
		return text, nil
	}
	root := strings.TrimSuffix(base, extension) + ".musicxml"
	return container(root, musicxml.File{Name: root, Data: text})
}

// bundleOpus leads to the movements of a work inside a bundle, each in a folder of its own.
const bundleOpus = "opus.musicxml"

// bundleAll writes the scores of a work with their parts, and an opus that leads to them,
// as one file.
func (j *workJob) bundleAll(ctx context.Context) error {
	return cmp.Or(j.worker.Each(ctx, 1, func(_ context.Context, worker, _ int) error {
		contents := []musicxml.File{{Name: bundleOpus}}
		var links []musicxml.OpusScore
		for m, movement := range j.movements {
			bundled, err := movement.bundled(&j.spaces[worker])
			if err != nil {
				return err
			}
			folder := j.folderOf(m)
			links = append(links, musicxml.OpusScore{Href: folder + bundleRoot, Title: j.Titles[m]})
			for _, f := range bundled {
				f.Name = folder + f.Name
				contents = append(contents, f)
			}
		}
		contents[0].Data = musicxml.Append(nil, musicxml.NewOpus(j.Title, links...), layout)
		return j.writeContainer(bundleOpus, contents)
	})...)
}

// folderOf is the folder of a movement inside a bundle.
func (j *workJob) folderOf(m int) string {
	return j.style().Safe(strings.TrimSpace(fmt.Sprintf("%d %s", m+1, j.Titles[m]))) + "/"
}
