package main

import (
	"context"
	"errors"
	"fmt"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/instruments"
)

// version is the program's own; the schema's and the catalogue's stand beside it
// in --version.
const version = report.Version

// The exit statuses of every command.
const (
	exitDone        = 0 // done, nothing to look at
	exitNeedsPerson = 1 // done, but something needs a person
	exitCannotRun   = 2 // could not run
	// A run that a signal ended has 128 and its number (run.Interrupted.Status).
)

// errNeedsPerson ends a command that did its work but found something that a
// person has to look at. All has been said by then.
var errNeedsPerson = errors.New("something needs a person")

// errBadPlan ends a command that made nothing because of its plan. All has been said.
var errBadPlan = errors.New("the plan cannot be played")

// program is what all commands share.
type program struct {
	streams *report.Streams
	// catalogue loads the instruments, when first asked.
	catalogue func() (*instruments.Catalogue, error)
}

// execute carries out one command line and returns the exit status.
func execute(ctx context.Context, args []string, streams *report.Streams) int {
	p := &program{streams: streams, catalogue: sync.OnceValues(instruments.Load)}
	root := newRootCmd(p)
	root.SetArgs(args)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error { return badFlag(cmd, args, err) })
	root.SetIn(streams.In)
	root.SetOut(streams.Out)
	root.SetErr(streams.Err)
	err := root.ExecuteContext(ctx)
	if err == nil || errors.Is(err, errNeedsPerson) {
		if failed := streams.OutErr(); failed != nil {
			err = failed
		}
	}
	var stopped run.Interrupted
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errNeedsPerson):
		return exitNeedsPerson
	case errors.As(err, &stopped):
		streams.Say(stopped.Error() + " before the end; run it again to go on")
		return stopped.Status()
	}
	var plan *planError
	switch {
	case errors.As(err, &plan):
		for _, row := range plan.Rows {
			streams.Say(plan.file + ": " + row)
		}
	case !errors.Is(err, errBadPlan):
		streams.Say(err.Error())
	}
	return exitCannotRun
}

// newRootCmd builds the command tree.
func newRootCmd(p *program) *cobra.Command {
	root := &cobra.Command{
		Use:   "deskpart",
		Short: "Parts for every player's desk out of a score, in the pitch that each one reads",
		Long: `deskpart reads a score in the open MusicXML standard and writes the parts that
stand on the players' desks: each in the pitch, key, clef and octave that its
player reads, sounding exactly as the score sounds.

Copying or arranging music that is in copyright needs the holder's permission.`,
		Version:       version + " (MusicXML 4.0)",
		SilenceErrors: true,
		SilenceUsage:  true,
		// Suggestions would come in several lines; a message is one.
		DisableSuggestions: true,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return nil
			}
			return unknownCommand(cmd, args[0])
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	for _, newCmd := range commands {
		root.AddCommand(newCmd(p))
	}
	root.SetUsageFunc(printUsage)
	root.SetHelpCommand(newHelpCmd(p))
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd("")
	refuseWords(root)
	p.completeValues(root)
	return root
}

// refuseWords lets the commands for the shell refuse what they do not know.
func refuseWords(root *cobra.Command) {
	completion, _, err := root.Find([]string{"completion"})
	if err != nil || completion == root {
		return
	}
	completion.Short = "Let your shell complete commands, flags, languages, instruments and names of parts"
	completion.Long = `Prints a script for your shell. Once it is loaded, the Tab key completes commands and
their flags, languages, instruments, and the names of the parts of the score that
stands on the line.`
	completion.Example = `  In bash, for this session, and for every one:
    source <(deskpart completion bash)
    deskpart completion bash > ~/.local/share/bash-completion/completions/deskpart
  In zsh, for every session:
    deskpart completion zsh > "${fpath[1]}/_deskpart"
  In fish, for every session:
    deskpart completion fish > ~/.config/fish/completions/deskpart.fish`
	var shells []string
	for _, shell := range completion.Commands() {
		shell.Args, shell.Short = noWords, "The script for "+shell.Name()
		shell.Long = shell.Short + "; deskpart completion --help says how it is loaded."
		shells = append(shells, shell.Name())
	}
	completion.Args = cobra.ArbitraryArgs
	completion.RunE = func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 {
			return cmd.Help()
		}
		return fmt.Errorf("words are completed in %s, and not in %q", strings.Join(shells, ", "), args[0])
	}
}

// commands are the constructors of all commands, in the order of the help.
var commands = []func(*program) *cobra.Command{
	newExtractCmd,
	newPrintCmd,
	newSurveyCmd,
	newFitCmd,
	newReassignCmd,
	newConvertCmd,
	newVerifyCmd,
	newCollateCmd,
	newInstrumentsCmd,
	newProofCmd,
	newExplainCmd,
	newExerciseCmd,
	newMarkCmd,
}
