package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path"
	"strings"

	"github.com/beevik/etree"
	"github.com/spf13/cobra"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// convertOptions are the flags of convert.
type convertOptions struct {
	runFlags
	outFlags
	out        string
	to         parts.Input
	asciiNames bool
	bag        bool
	parts.Options
}

func newConvertCmd(p *program) *cobra.Command {
	o := convertOptions{Options: parts.DefaultOptions()}
	o.works, o.lacking = true, true
	cmd := &cobra.Command{
		Use:   "convert PATH… --to concert|written",
		Short: "Turn whole scores into concert pitch, or into what the players read",
		Long: `Whole scores, both ways, under the same names below DIR. A concert score says so
(<concert-score/>) and carries the transposition of each part to be made
(<for-part>), so that the way back needs nothing else and gives every note,
signature, accidental and chord symbol as it was. Plain octave transpositions
stay, as in any score in C.

A work stays one: an opus document is written beside its scores and leads to them, and
a compressed file of several scores is one again.

--bag makes DIR a BagIt bag (RFC 8493), which a library can check at any time. A bag
that is given as PATH is the folder that was packed into it.`,
		Example: `  A shelf of written scores into concert pitch:
    deskpart convert examples/ --to concert --out concert
  And back, byte for byte the same music:
    deskpart convert concert/ --to written --out written`,
		Args: scoresNamed(&o.runFlags, "scores/ --to concert"),
		RunE: func(cmd *cobra.Command, args []string) error { return runConvert(cmd.Context(), p, &o, args) },
	}
	flags := cmd.Flags()
	flags.StringVar(&o.out, "out", "converted", "`DIR` that the scores go to")
	addChoice(flags, &o.to, "to", "concert or written", parts.Concert, parts.Written)
	addASCIINames(flags, &o.asciiNames)
	flags.BoolVar(&o.bag, "bag", false, "make DIR a BagIt bag with SHA-512 and SHA-256 manifests")
	addInput(flags, &o.Input)
	addMaxSignature(flags, &o.MaxSignature)
	o.runFlags.addFlags(cmd)
	o.outFlags.addFlags(cmd)
	cmd.Annotations = map[string]string{argumentsAreInputs: "yes"}
	return cmd
}

func (o *convertOptions) settle() error {
	if o.to == "" {
		return errors.New("say which way: --to concert or --to written")
	}
	return nil
}

// conversion is one run of convert.
type conversion struct {
	*convertOptions
	*shelfRun
	output *files.Output
	folder string           // below which the scores go
	done   []string         // the sources that were converted, now or before
	texts  musicxml.Buffers // of parts that wait to be put into their score
}

// keptTexts is how many texts of parts wait to be used again.
const keptTexts = 32

// convertedScore is what became of one score.
type convertedScore struct {
	Input    string             `json:"input,omitempty"` // as given; left out in the record
	Path     string             `json:"path"`
	File     string             `json:"file"`
	Was      string             `json:"was"` // concert, written or mixed
	Parts    int                `json:"parts"`
	Moved    int                `json:"moved"`     // parts that were written anew
	AsSource int                `json:"as_source"` // parts left at sounding pitch, as their source had them
	Warnings []convertedWarning `json:"warnings"`
	// Movements counts those of a file of several, or of an opus document, which has no
	// parts. Default: 0, a score.
	Movements int `json:"movements,omitempty"`
	wrote     bool
	source    files.Source
}

// convertedWarning is a warning with the part it concerns.
type convertedWarning struct {
	Part       string `json:"part"`
	SourcePart string `json:"source_part"` // its id
	musicxml.Warning
}

func runConvert(ctx context.Context, p *program, o *convertOptions, paths []string) error {
	if err := o.settle(); err != nil {
		return err
	}
	making, err := o.making(o.out)
	if err != nil {
		return err
	}
	shelf, inputs, problems, err := newShelfRun(ctx, p, &o.runFlags, paths, o.out, files.NameStyle{ASCII: o.asciiNames})
	if err != nil {
		return err
	}
	making.Shard = shelf.shard
	c := &conversion{convertOptions: o, shelfRun: shelf, output: files.NewOutput(making, inputs...), folder: o.out}
	c.texts.Keep = keptTexts
	if o.bag {
		c.folder = files.Join(o.out, files.BagPayload)
	}
	c.rows("scores")
	failed := workThrough(ctx, c.shelfRun, inputs, problems, c.score, c.deliver)
	if failed == nil {
		_, failed = c.output.RemoveOthers(c.done)
	}
	if failed == nil && o.bag {
		failed = c.makeBag(ctx)
	}
	failed = cmp.Or(failed, c.output.Close())
	return c.finish(failed, len(inputs)+len(problems), nil)
}

// convertedInput is what became of one input: of a score, or of the movements of a work.
type convertedInput struct {
	scores []convertedScore
	inputs []string        // their files, as given
	failed []files.Problem // movements that cannot be converted
}

// deliver reports one input.
func (c *conversion) deliver(in files.Input, done convertedInput) {
	c.summary.Files--
	for _, problem := range done.failed {
		c.reject(problem.Path, problem.Err)
	}
	for i := range done.scores {
		s := &done.scores[i]
		if s.Movements == 0 || s.Parts > 0 { // an opus document is no score
			c.summary.Files += max(1, s.Movements)
		}
		c.deliverScore(done.inputs[i], s)
	}
}

// deliverScore reports one file that was written.
func (c *conversion) deliverScore(path string, s *convertedScore) {
	c.summary.Parts += s.Parts
	if s.wrote {
		c.summary.Written++
	} else {
		c.summary.Unchanged++
	}
	for from := 0; from < len(s.Warnings); { // part by part
		part, id := s.Warnings[from].Part, s.Warnings[from].SourcePart
		var warnings []musicxml.Warning
		for from < len(s.Warnings) && s.Warnings[from].SourcePart == id {
			warnings = append(warnings, s.Warnings[from].Warning)
			from++
		}
		c.warn(path, part, id, warnings...)
	}
	s.Input = path
	c.row(*s)
	c.done = append(c.done, s.source.Path)
	if !c.flags.json && !c.flags.quiet {
		c.describe(path, s)
	}
}

// describe says in text what became of one file.
func (c *conversion) describe(path string, s *convertedScore) {
	out := c.program.streams.Out
	switch {
	case !s.wrote:
		fmt.Fprintf(out, "%s: nothing to do, %s is made already\n", report.Visible(path), report.Visible(s.File))
		return
	case s.Movements > 0 && s.Parts == 0:
		fmt.Fprintf(out, "%s (list of %s) → %s\n", report.Visible(path), notice.Counted(s.Movements, "movement", "movements"), report.Visible(s.File))
		return
	}
	fmt.Fprintf(out, "%s (%s pitch) → %s, %d of %d parts moved\n", report.Visible(path), s.Was, report.Visible(s.File), s.Moved, s.Parts)
	if s.AsSource > 0 {
		fmt.Fprintf(out, "  %s at sounding pitch, as in the score that this one was made of; --input concert writes all for their players\n", notice.Counted(s.AsSource, "part stands", "parts stand"))
	}
}

// score converts one input.
func (c *conversion) score(ctx context.Context, w *run.Worker, in files.Input) (convertedInput, error) {
	switch {
	case in.Movements == nil:
		s, err := c.alone(ctx, w, in)
		return convertedInput{scores: []convertedScore{s}, inputs: []string{in.Path}}, err
	case in.Movements[0].Inside != "":
		s, err := c.packed(ctx, w, in)
		return convertedInput{scores: []convertedScore{s}, inputs: []string{in.Path}}, err
	}
	return c.opus(ctx, w, in)
}

// alone converts one score to a file of its own.
func (c *conversion) alone(ctx context.Context, w *run.Worker, in files.Input) (convertedScore, error) {
	result := convertedScore{Path: in.Key, Warnings: []convertedWarning{}}
	data, err := c.loadUndone(w, in, c.output, &result.source, func() bool { return c.isDone(&result) })
	if err != nil || data == nil {
		return result, err
	}
	score, err := c.readData(w, in, data, false)
	if err != nil {
		return result, err
	}
	whole, err := c.convert(ctx, w, score, &result)
	if err != nil {
		return result, err
	}
	defer c.buffers.Give(whole)
	if err := c.write(&result, in, score, whole); err != nil {
		return result, err
	}
	score.Release()
	return result, nil
}

// convert converts a score, whose text is to be given back, and says in result what
// that came to.
func (c *conversion) convert(ctx context.Context, w *run.Worker, score *musicxml.Score, result *convertedScore) ([]byte, error) {
	surveyed, err := c.survey(ctx, w, score, c.Options)
	if err != nil {
		return nil, err
	}
	result.Was, _ = surveyed.Pitch()
	written := make([][]byte, len(score.Parts))
	reports := make([]parts.Report, len(score.Parts))
	errs := w.Each(ctx, len(score.Parts), func(_ context.Context, worker, i int) error {
		part, err := surveyed.Convert(&c.spaces[worker], i, c.to)
		if err == nil {
			text := part.Bytes(layout)
			written[i] = append(c.texts.Take(len(text)), text...)
			reports[i] = part.Report
		}
		return err
	})
	if err := cmp.Or(errs...); err != nil {
		return nil, err
	}
	for i := range reports {
		name, id := surveyed.PartName(i)
		result.take(name, id, &reports[i])
	}
	return c.assemble(surveyed, reports, written), nil
}

// take counts a part.
func (s *convertedScore) take(name, id string, r *parts.Report) {
	s.Parts++
	if r.Moved.Chromatic != 0 || r.Moved.Diatonic != 0 {
		s.Moved++
	}
	if r.AsSource {
		s.AsSource++
	}
	for _, warning := range r.Warnings {
		warning.Measure = strings.Clone(warning.Measure) // it outlives the score's text
		s.Warnings = append(s.Warnings, convertedWarning{name, id, warning})
	}
}

// assemble puts the converted parts into their score again.
func (c *conversion) assemble(surveyed *parts.Surveyed, reports []parts.Report, written [][]byte) []byte {
	doc, places := surveyed.ConvertedScore(c.to, reports)
	ready := map[*etree.Element][]byte{}
	size := headerRoom
	for i, place := range places {
		ready[place] = written[i]
		size += len(written[i])
	}
	whole := musicxml.AppendReady(c.buffers.Take(size), doc, layout, ready)
	for _, text := range written {
		c.texts.Give(text)
	}
	return whole
}

// isDone reports whether an earlier run has made the score of the same source with the
// same settings, and fills in what it said of it.
func (c *conversion) isDone(s *convertedScore) bool {
	if c.force {
		return false
	}
	e, done := c.output.Done(s.source)
	if !done || json.Unmarshal(e.Row, s) != nil {
		return false
	}
	s.File = files.Join(c.out, e.File)
	return true
}

// headerRoom is room for what a written score has besides its parts, in bytes; most
// headers have less.
const headerRoom = 64 << 10

// layout is how documents are written.
var layout = musicxml.NoteALine

// write writes a converted score, packed if the source was, under the source's name.
func (c *conversion) write(result *convertedScore, in files.Input, score *musicxml.Score, data []byte) error {
	extension := path.Ext(in.Rel)
	if score.Compressed {
		root := score.RootName
		packed, err := container(root, append([]musicxml.File{{Name: root, Data: data}}, score.Files...)...)
		if err != nil {
			return err
		}
		data, extension = packed, ".mxl"
	} else if strings.EqualFold(extension, ".mxl") {
		extension = ".musicxml"
	}
	return c.keep(result, in.Stem()+extension, data)
}

// keep writes a file of that path below the folder.
func (c *conversion) keep(result *convertedScore, below string, data []byte) error {
	result.File = files.Join(c.folder, below)
	said := *result
	said.File = "" // as the input is: another run may be given other paths, and a bag is carried elsewhere
	row, err := json.Marshal(said)
	if err != nil {
		return err
	}
	result.wrote, err = c.output.WriteFile(result.File, data, files.Origin{Source: result.source, Row: row})
	return err
}

// makeBag turns the output folder into a bag once all scores are there.
func (c *conversion) makeBag(ctx context.Context) error {
	_, err := files.WriteBag(ctx, c.pool, c.output, c.out, []files.BagField{{Label: "Bag-Software-Agent", Value: "deskpart " + version}})
	return err
}
