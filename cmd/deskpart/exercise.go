package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"html"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/cmd/internal/texts"
	"deskpart/instruments"
	"deskpart/musicxml/engraving/paper"
)

// exerciseOptions are the flags of exercise.
type exerciseOptions struct {
	lessonFlags
	instrument string
	settings   exercise.Settings
	page       exercise.PageOptions
}

func newExerciseCmd(p *program) *cobra.Command {
	var o exerciseOptions
	o.from, o.settings.Level = "sounding", 1
	cmd := &cobra.Command{
		Use:   "exercise",
		Short: "Exercises in transposition with their answers, to print and to mark",
		Long: `Melodies to transpose, made up from a seed by the rules of a sound melody at five
levels, each testing its point: a forgotten signature shows, and accidentals change
their kind as often as the level says. Or passages of a score.

Into --out go each exercise and its answer as MusicXML (exercise-01.musicxml,
answer-01.musicxml) and two pages to print, exercises.html with empty staves to
write on and answers.html. With --versions each sheet of equal difficulty has a
folder of its own, A, B and so on. The same seed and settings give the same bytes.

  level 1  4 bars, to 2 sharps or flats, no accidentals; clarinet, trumpet
  level 2  minor, one accidental; horn, English horn, clarinet in A, octaves
  level 3  8 bars, one accidental changes kind, change of clef; saxophone, alto flute
  level 4  modulates, three or four accidentals, alto and tenor clef
  level 5  to 6 sharps or flats, enharmonic keys, double signs, two parts

What is written keeps to school ranges at levels 1 to 3. They are a guide; for
young players their teacher decides.`,
		Example: `  Ten exercises for the horn:
    deskpart exercise --instrument "horn in F" --count 10 --level 2 --seed 7 --out horn/
  Two papers of equal difficulty, from what is read to what sounds:
    deskpart exercise --instrument "clarinet in A" --from written --level 3 --versions 2 --out test/
  Two passages of a score:
    deskpart exercise --instrument "alto saxophone" --from-score examples/two-ferries.musicxml --part Flute --measures 1-4,5-8`,
		Args: noWords,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if err := o.heard(cmd.Flags()); err != nil && !o.quiet {
				fmt.Fprintf(p.streams.Err, "deskpart: %v\n", err)
			}
			return runExercise(cmd.Context(), p, &o)
		},
	}
	flags := cmd.Flags()
	o.settings.Topic = exercise.Transposition
	addTopic(flags, &o.settings.Topic, "what is trained")
	addBand(flags, &o.band, "those of the level")
	flags.StringVar(&o.instrument, "instrument", "", "the instrument to transpose for (default: those of the level, mixed)")
	addChoice(flags, &o.from, "from", "the pitch that is given: sounding, written, or both in turn", "sounding", "written", "both")
	flags.IntVar(&o.settings.Count, "count", 10, "how many exercises")
	flags.Uint64Var(&o.settings.Seed, "seed", 1, "another number makes other exercises")
	addBounded(flags, &o.settings.Level, "level", "1 to 5", 1, 5)
	flags.IntVar(&o.settings.Versions, "versions", 1, "sheets of equal difficulty")
	flags.BoolVar(&o.settings.WithoutSignature, "without-signature", false, "the player reads accidentals at the notes and no key signature")
	flags.BoolVar(&o.page.Large, "large-print", false, "large print: larger and thicker staves and text")
	flags.BoolVar(&o.settings.WithoutClefs, "without-clefs", false, "leave the clefs of the empty staves to the learner")
	flags.StringVar(&o.out, "out", "exercises", "the folder to write to")
	o.addFlags(p, cmd, "the sheets and the names of notes")
	o.pdfFlags.addFlags(cmd, true)
	return cmd
}

// aboutTopic are the flags that topics do not hear, each about something else.
var aboutTopic = map[exercise.Topic][]string{
	exercise.Transposition: {"band"}, exercise.Sight: {"band", "from"}, exercise.Signature: {"band", "from", "without-signature"},
	exercise.ClefTopic: {"band", "from", "without-signature", "instrument"}, exercise.IntervalTopic: {"band", "from", "without-signature", "instrument"},
	exercise.ScoreReading: {"band", "from", "without-signature", "instrument"},
	exercise.ConcertScale: {"from", "without-signature", "instrument"}, exercise.BandKey: {"from", "without-signature", "instrument"},
}

// heard says of which flags nothing comes.
func (o *exerciseOptions) heard(flags *pflag.FlagSet) error {
	if o.score.path != "" {
		return unheard(flags, "with --from-score", "count", "seed", "versions")
	}
	return cmp.Or(unheard(flags, "with the topic "+string(o.settings.Topic), aboutTopic[o.settings.Topic]...),
		unheard(flags, "without --from-score", "part", "measures", "octave"))
}

func runExercise(ctx context.Context, p *program, o *exerciseOptions) error {
	var made exerciseReport
	if err := files.CanHold(o.out); err != nil {
		return err
	}
	err := run.Abandon(ctx, func() (err error) {
		made, err = o.make(ctx, p)
		return err
	})
	if err != nil {
		return err
	}
	all := made.files(o.out)
	if err := o.writeFolder(o.out, all, o.score.inputs()...); err != nil {
		return err
	}
	switch {
	case o.json:
		return printDocument(p, o.score.path, made, report.Summary{Written: len(all)})
	case o.quiet:
		return nil
	}
	return made.writeText(p, o.settings.Texts)
}

// make makes all sheets with their files.
func (o *exerciseOptions) make(ctx context.Context, p *program) (exerciseReport, error) {
	all := exerciseReport{Sheets: []sheetReport{}}
	sheets, err := o.sheets(ctx, p)
	if err != nil {
		return all, err
	}
	if code := otherSheet(o.out, sheets); code != "" && !o.force {
		return all, fmt.Errorf("%s holds the sheet %s; choose another --out, or say --force to replace it", o.out, code)
	}
	for _, sheet := range sheets {
		made, err := o.makeSheet(sheet)
		if err != nil {
			return all, err
		}
		if made.Folder = o.out; len(sheets) > 1 {
			made.Folder = files.Join(o.out, sheet.Version)
		}
		all.Sheets = append(all.Sheets, made)
	}
	return all, nil
}

// sheetField is how an answer says its sheet.
var sheetField = regexp.MustCompile(`name="` + exercise.FieldSheet + `">([^<]+)<`)

// otherSheet is the code of a sheet that stands in a folder and is none of those to be
// written; "" where there is none: no folder holds two sheets, and none is lost.
func otherSheet(folder string, sheets []exercise.Sheet) string {
	for _, answer := range answersIn(folder) {
		data, err := beginningOf(answer)
		if err != nil {
			continue
		}
		found := sheetField.FindSubmatch(data)
		if found == nil {
			continue
		}
		code := html.UnescapeString(string(found[1]))
		if !slices.ContainsFunc(sheets, func(s exercise.Sheet) bool { return s.Code() == code }) {
			return code
		}
	}
	return ""
}

// sheets makes what was asked for.
func (o *exerciseOptions) sheets(ctx context.Context, p *program) ([]exercise.Sheet, error) {
	catalogue, err := p.catalogue()
	if err != nil {
		return nil, err
	}
	if o.settings.Texts, err = texts.In(o.language); err != nil {
		return nil, err
	}
	if err = o.settle(string(o.settings.Texts.Language), o.pdf); err != nil {
		return nil, err
	}
	o.settings.From = explain.Side(o.from)
	if o.settings.From != exercise.Both {
		if o.settings.From, err = explain.ParseSide(o.from); err != nil {
			return nil, fmt.Errorf("--from: %w, nor both", err)
		}
	}
	if o.settings.Instrument, err = parsePlayer(catalogue, "--instrument", o.instrument); err != nil {
		return nil, err
	}
	if o.settings.Band, err = parseBand(catalogue, o.band); err != nil {
		return nil, err
	}
	if o.score.path != "" {
		if o.settings.Topic != exercise.Transposition {
			return nil, errors.New("--from-score is for transposition; leave out --topic")
		}
		sheet, err := o.fromScore(ctx, p)
		return []exercise.Sheet{sheet}, err
	}
	return exercise.Make(catalogue, o.settings)
}

// parseBand finds the players of --band; none for no words.
func parseBand(catalogue *instruments.Catalogue, list string) ([]*instruments.Instrument, error) {
	band, err := explain.ParseBand(catalogue, list)
	if err != nil {
		return nil, fmt.Errorf("--band: %w", err)
	}
	return band, nil
}

// parsePlayer finds the instrument that a flag names; nil for no words.
func parsePlayer(catalogue *instruments.Catalogue, flag, words string) (*instruments.Instrument, error) {
	player, err := explain.ParsePlayer(catalogue, words)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", flag, err)
	}
	return player, nil
}

// fromScore makes a sheet of passages of a score.
func (o *exerciseOptions) fromScore(ctx context.Context, p *program) (exercise.Sheet, error) {
	task := explain.Task{Instrument: o.settings.Instrument, From: o.settings.From, WithoutSignature: o.settings.WithoutSignature, MaxSignature: 6}
	switch {
	case task.Instrument == nil:
		return exercise.Sheet{}, errors.New("--from-score needs --instrument: whom is the passage to be written for?")
	case task.From == exercise.Both:
		return exercise.Sheet{}, errors.New("--from-score takes one direction; give --from sounding or --from written")
	}
	var passages []explain.Passage
	for _, measures := range strings.Split(o.score.measures, ",") {
		one := o.score
		one.measures = measures
		part, err := one.read(ctx, p, &o.runFlags, task)
		if err != nil {
			return exercise.Sheet{}, err
		}
		passages = append(passages, part)
	}
	source := strings.TrimSuffix(filepath.Base(o.score.path), filepath.Ext(o.score.path))
	return exercise.FromParts(task, o.settings, source, passages)
}

// exerciseReport is what exercise prints with --json.
type exerciseReport struct {
	Sheets []sheetReport `json:"sheets"`
}

type sheetReport struct {
	Code      string            `json:"code"`
	Version   string            `json:"version"`
	Folder    string            `json:"folder"`
	Exercises []exercise.Row    `json:"exercises"`
	Pages     map[string]string `json:"pages"`
	files     []exercise.File
}

// makeSheet makes the files of one sheet.
func (o *exerciseOptions) makeSheet(s exercise.Sheet) (sheetReport, error) {
	var size *paper.Size
	if o.pdf {
		size = &o.size
	}
	files, err := s.Files(o.page, size)
	return sheetReport{Code: s.Code(), Version: s.Version, Exercises: s.Rows(), files: files,
		Pages: map[string]string{"exercises": exercise.QuestionsPage, "answers": exercise.AnswersPage}}, err
}

// files are those of all sheets, below the folder of the run.
func (r exerciseReport) files(root string) []outFile {
	var all []outFile
	for _, sheet := range r.Sheets {
		below, _ := filepath.Rel(root, sheet.Folder) // a sheet's folder is the root or in it
		for _, file := range sheet.files {
			all = append(all, outFile{filepath.Join(below, file.Name), file.Data})
		}
	}
	return all
}

func (r exerciseReport) writeText(p *program, said *texts.Texts) error {
	for _, s := range r.Sheets {
		if _, err := fmt.Fprintln(p.streams.Out, said.Say("exercise.written", texts.Fill{"code": s.Code, "n": len(s.Exercises), "folder": s.Folder})); err != nil {
			return err
		}
	}
	return nil
}
