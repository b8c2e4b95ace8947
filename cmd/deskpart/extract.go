package main

import (
	"encoding/json"
	"errors"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/report"
)

// extractOptions are the flags of extract.
type extractOptions struct {
	shelfFlags
	format  string
	bundle  bool
	onPaper bool
	force   bool
}

// The formats of part files.
const (
	formatMusicXML = report.FormatMusicXML
	formatMXL      = "mxl"
)

func newExtractCmd(p *program) *cobra.Command {
	o := extractOptions{shelfFlags: newShelfFlags(), format: formatMusicXML}
	cmd := &cobra.Command{
		Use:   "extract PATH…",
		Short: "Write every player's part of a score, in the pitch that the player reads",
		Long: `One file for each player's part, in the pitch, key, clef and octave that the
player reads, and a manifest.json that says what was done.

PATH is a score (.musicxml, .xml, .mxl), an opus document, or a folder, which is
searched through. The parts of a score go to DIR/<its path>/<its name>/.

An opus, and a compressed file of several scores, is a work: one set of players for all
its movements, a file for each player and movement. --work makes one of several files.
With --bundle it is one file with an opus, the scores and all their parts.`,
		Example: `  The parts of one symphony movement:
    deskpart extract examples/lanterns-on-the-quay.musicxml
  Only the clarinets and horns, the horns without key signature:
    deskpart extract examples/lanterns-on-the-quay.musicxml --only "*clarinet*" --only "*horn*" --without-signature horn --out horns
  A tune for everybody in the class:
    deskpart extract examples/the-harbour-wall.musicxml --only "solo cornet" --editions "C treble, Bb, Eb, F, C bass, C alto" --out class
  The movements of a work, in order:
    deskpart extract --work="Songs of the Quay" examples/lanterns-on-the-quay.musicxml examples/two-ferries.musicxml --out work
  A whole shelf of scores into another folder, German labels:
    deskpart extract examples/ --out stimmen --language de`,
		Args: scoresNamed(&o.runFlags, "score.musicxml"),
		RunE: func(cmd *cobra.Command, args []string) error { return runExtract(cmd.Context(), p, &o, args) },
	}
	flags := cmd.Flags()
	o.addFlags(p, cmd, "parts", "`DIR` that the parts go to")
	addChoice(flags, &o.format, "format", "musicxml, or mxl for compressed files", formatMusicXML, formatMXL)
	flags.BoolVar(&o.bundle, "bundle", false, "one .mxl with the score and its parts, linked, in place of single files")
	flags.BoolVar(&o.onPaper, "print", false, "a PDF of every part beside it, as deskpart print makes it")
	flags.BoolVar(&o.force, "force", false, "write every file again")
	return cmd
}

// settle checks the flags that are words and reads the plan.
func (o *extractOptions) settle(p *program) error {
	if o.onPaper && o.bundle {
		return errors.New("--print writes beside single files; leave out --bundle")
	}
	return o.shelfFlags.settle(p)
}

// settings are what decides about the bytes of the parts, as the manifest has it.
func (o *extractOptions) settings() (json.RawMessage, error) {
	s := report.NewSettings(o.Options)
	s.Format, s.Bundle, s.ASCIINames, s.Substitutes = o.format, o.bundle, o.asciiNames, o.substitutesSum
	if o.onPaper {
		s.Print = paperSettings{o.paper, o.staff, o.margin, o.large, o.oneSided}
	}
	return json.Marshal(s)
}
