package main

import (
	"bytes"
	"context"
	"path/filepath"
	"strings"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// scoreFlags are shared by the commands that work on a single score.
type scoreFlags struct {
	reportFlags
	outFlags
	input  string
	level  string
	limits musicxml.Limits
}

func (f *scoreFlags) addFlags(cmd *cobra.Command) {
	f.reportFlags.addFlags(cmd)
	f.outFlags.addFlags(cmd)
	flags := cmd.Flags()
	flags.StringVar(&f.input, "input", "auto", "how to read a score that says no transposition: auto, concert or written")
	flags.StringVar(&f.level, "level", instruments.Professional, "whose ranges count: professional or school (young players)")
	f.limits = musicxml.DefaultLimits()
}

// settle checks the flags and sets what they say.
func (f *scoreFlags) settle(o *parts.Options) error {
	if err := oneOf("input", f.input, []string{"auto", "concert", "written"}); err != nil {
		return err
	}
	if err := oneOf("level", f.level, []string{instruments.Professional, instruments.School}); err != nil {
		return err
	}
	o.Input, o.Level = parts.Input(f.input), parts.Level(f.level)
	return nil
}

// oneScore is a score that has been read and surveyed.
type oneScore struct {
	input       files.Input
	catalogue   *instruments.Catalogue
	job         *parts.Job
	assignments []parts.Assignment
}

// open reads a score and surveys its parts.
func (f *scoreFlags) open(ctx context.Context, p *program, path string, o parts.Options) (*oneScore, error) {
	if err := f.settle(&o); err != nil {
		return nil, err
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return nil, err
	}
	data, err := files.ReadInput(path, f.limits.InputBytes, nil)
	if err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: path})
	}
	score, err := musicxml.Read(data, musicxml.ReadOptions{Name: path, Limits: f.limits, SkipFiles: true})
	if err != nil {
		return nil, err
	}
	s := &oneScore{input: files.Input{Path: path, Key: filepath.Base(path)}, catalogue: catalogue}
	o.Each = untilDone(ctx)
	surveyed, err := parts.Survey(score, catalogue, o)
	if err != nil {
		return nil, err
	}
	if s.job, err = surveyed.Assign(); err != nil {
		return nil, err
	}
	s.assignments = s.job.Assignments()
	return s, nil
}

// untilDone does one piece of work after the other until somebody stops the program.
func untilDone(ctx context.Context) parts.Each {
	return func(n int, do func(*parts.Workspace, int) error) error {
		w := new(parts.Workspace)
		for i := range n {
			if err := do(w, i); err != nil {
				return err
			}
			if ctx.Err() != nil {
				return context.Cause(ctx)
			}
		}
		return nil
	}
}

// encodeFor is a document as it stands in a file of that name, compressed if that ends
// in .mxl.
func encodeFor(path string, document *etree.Document) ([]byte, error) {
	data := musicxml.Append(nil, document, layout)
	if !strings.EqualFold(filepath.Ext(path), ".mxl") {
		return data, nil
	}
	var packed bytes.Buffer
	base := filepath.Base(path)
	root := base[:len(base)-len(".mxl")] + ".musicxml"
	err := musicxml.WriteContainer(&packed, root, musicxml.File{Name: root, Data: data})
	return packed.Bytes(), err
}
