package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/lecture"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving/paper"
)

// explainOptions are the flags of explain.
type explainOptions struct {
	lessonFlags
	fromSaid         bool
	notes            string
	key              string
	withoutSignature bool
	maxSignature     int
	topic            exercise.Topic
}

func newExplainCmd(p *program) *cobra.Command {
	o := explainOptions{lessonFlags: lessonFlags{from: "sounding"}}
	cmd := &cobra.Command{
		Use:   "explain [INSTRUMENT]",
		Short: "A transposition worked aloud, for a learner",
		Long: `Which way and why, the interval, the key signature and how it moved, each note's
path, each accidental and why it may change kind, clef and octave: for any
instrument of the catalogue, from sounding to written pitch or back. In place of
an instrument, an interval such as "minor third down" moves music for its own sake.

With --topic a rule in place of a passage: why instruments transpose (harmonic
series, crooks), clefs, intervals, signatures, one scale or the best key for a
mixed band, reading a score, and reading at sight by an imagined clef.

With --out FILE.html it is a lesson page: both staves in line, note under note,
each note's path, and both pitches to listen to. The page is one file and needs no
network. With --out FILE.pdf it is the same on paper.

Ranges that it mentions are a guide; for young players their teacher decides.`,
		Example: `  What a horn player reads when these notes are to sound:
    deskpart explain "horn in F" --notes "D4 F#4 A4 C5" --key D
  What an alto saxophone part sounds like:
    deskpart explain "alto saxophone" --from written --notes "A4 B4 C#5" --key A
  The key that suits a band, in German:
    deskpart explain --topic band-key --band "Flöte, Klarinette in B, Altsaxophon" --language de
  A lesson page on eight bars of a score:
    deskpart explain "clarinet in A" --from-score examples/lanterns-on-the-quay.musicxml --part Oboe --measures 31-34 --out lesson.html`,
		RunE: func(cmd *cobra.Command, args []string) error {
			o.fromSaid = cmd.Flags().Changed("from")
			if err := o.heard(cmd.Flags()); err != nil {
				return err
			}
			if o.topic != "" {
				return explainTopic(p, &o, strings.Join(args, " "))
			}
			if len(args) == 0 {
				return errors.New("explain what? Name an instrument, such as \"horn in F\", an interval, or a --topic")
			}
			return runExplain(cmd.Context(), p, &o, strings.Join(args, " "))
		},
	}
	flags := cmd.Flags()
	addChoice(flags, &o.from, "from", "the pitch that is given: sounding or written", "sounding", "written")
	flags.StringVar(&o.notes, "notes", "", "the given notes, such as \"D4 F#4 C5\", in the names of --language too (Ais4, si♭3, fa#4); C4 is middle C")
	flags.StringVar(&o.key, "key", "", "the given key: a number of fifths (-3 is three flats) or a name (Eb, F# minor; Es-Dur, mi♭ majeur)")
	flags.BoolVar(&o.withoutSignature, "without-signature", false, "the player reads accidentals at the notes and no key signature")
	flags.IntVar(&o.maxSignature, "max-signature", 0, "most sharps or flats before the enharmonic twin is taken (default: 6 in what a player reads, 7 in what sounds)")
	addTopic(flags, &o.topic, "explain a topic of exercises")
	addBand(flags, &o.band, "a small band")
	flags.StringVar(&o.out, "out", "", "write a lesson page to this `FILE.html`, or one for paper to FILE.pdf")
	o.addFlags(p, cmd, "the explanation and the names of notes")
	o.pdfFlags.addFlags(cmd, false)
	return cmd
}

// heard refuses flags of which nothing comes.
func (o *explainOptions) heard(flags *pflag.FlagSet) error {
	if o.topic != "" {
		return unheard(flags, "with --topic", "notes", "from-score", "part", "measures", "octave", "from", "max-signature", "without-signature")
	}
	if err := unheard(flags, "without --topic", "band"); err != nil || o.score.path != "" {
		return err
	}
	return unheard(flags, "without --from-score", "part", "measures")
}

func runExplain(ctx context.Context, p *program, o *explainOptions, words string) error {
	said, err := o.texts()
	if err != nil {
		return err
	}
	task, err := o.task(p, words)
	if err != nil {
		return err
	}
	given, err := o.given(ctx, p, task, said)
	if err != nil {
		return err
	}
	explanation, err := explain.Explain(task, given, said)
	if err != nil {
		return err
	}
	return o.hand(p, explanation, said)
}

// lesson is what explain has to hand out: as text, as JSON (its own fields), as a
// page.
type lesson interface {
	WriteText(w io.Writer) error
	Page() ([]byte, error)
	PDF(size paper.Size) ([]byte, error)
}

// hand writes the page, and prints what was asked for.
func (o *explainOptions) hand(p *program, e lesson, said *texts.Texts) error {
	if o.out != "" {
		if err := o.writePage(p, e, said); err != nil {
			return err
		}
	}
	switch {
	case o.json:
		return printDocument(p, o.score.path, e, report.Summary{ReadOnly: o.out == ""})
	case o.quiet || o.out != "":
		return nil
	}
	return e.WriteText(p.streams.Out)
}

// explainTopic explains a topic, on an instrument where one is named.
func explainTopic(p *program, o *explainOptions, words string) error {
	said, err := o.texts()
	if err != nil {
		return err
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return err
	}
	q := lecture.Question{Topic: o.topic}
	if q.Instrument, err = parsePlayer(catalogue, "explain", words); err != nil {
		return err
	}
	if q.Band, err = parseBand(catalogue, o.band); err != nil {
		return err
	}
	if q.Key, err = explain.ParseKey(said, o.key); err != nil {
		return fmt.Errorf("--key: %w", err)
	}
	made, err := lecture.Make(catalogue, q, said)
	if err != nil {
		return err
	}
	return o.hand(p, made, said)
}

// task reads what is asked for.
func (o *explainOptions) task(p *program, words string) (explain.Task, error) {
	side, err := explain.ParseSide(o.from)
	if err != nil {
		return explain.Task{}, fmt.Errorf("--from: %w", err)
	}
	catalogue, err := p.catalogue()
	if err != nil {
		return explain.Task{}, err
	}
	task, err := explain.ParseTask(catalogue, words, side)
	if task.Instrument == nil && !o.fromSaid {
		task.From = explain.Written // an interval is the way that it says
	}
	task.WithoutSignature, task.MaxSignature = o.withoutSignature, o.maxSignature
	return task, err
}

// given is the music to explain.
func (o *explainOptions) given(ctx context.Context, p *program, t explain.Task, said *texts.Texts) (given explain.Passage, err error) {
	if o.score.path != "" {
		if o.notes != "" || o.key != "" {
			return given, fmt.Errorf("--from-score brings its own notes and key; leave out --notes and --key")
		}
		return o.score.read(ctx, p, &o.runFlags, t)
	}
	key, err := explain.ParseKey(said, o.key)
	if err != nil {
		return given, fmt.Errorf("--key: %w", err)
	}
	pitches, err := explain.ParsePitches(said, o.notes)
	if err != nil {
		return given, fmt.Errorf("--notes: %w", err)
	}
	if by := o.score.octave.by; by != nil {
		for i := range pitches {
			pitches[i].Octave += *by
		}
	}
	given.Part, err = t.Given(pitches, key)
	return given, err
}

// texts reads the language, and the paper that is usual where it is spoken.
func (o *explainOptions) texts() (*texts.Texts, error) {
	said, err := texts.In(o.language)
	if err != nil {
		return nil, err
	}
	return said, o.settle(string(said.Language), o.onPaper())
}

// onPaper reports whether the page is to be a PDF.
func (o *explainOptions) onPaper() bool { return strings.EqualFold(filepath.Ext(o.out), ".pdf") }

// page makes the page for a browser, or the one for paper where the file's name asks for
// it.
func (o *explainOptions) page(e lesson) ([]byte, error) {
	if o.onPaper() {
		return e.PDF(o.size)
	}
	return e.Page()
}

// writePage writes the lesson page.
func (o *explainOptions) writePage(p *program, e lesson, said *texts.Texts) error {
	page, err := o.page(e)
	if err != nil {
		return err
	}
	if _, err := o.writeFile(o.out, page, o.score.inputs()...); err != nil {
		return err
	}
	if !o.json && !o.quiet {
		_, err = fmt.Fprintln(p.streams.Out, said.Say("lesson.file", texts.Fill{"file": o.out}))
	}
	return err
}
