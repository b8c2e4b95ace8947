package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/agnivade/levenshtein"
	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// badFlag says what is wrong with a flag, in words of our own. given is the command
// line.
func badFlag(cmd *cobra.Command, given []string, err error) error {
	if name := firstWord(given); !cmd.HasParent() && name != "" {
		return unknownCommand(cmd, name) // which has no flags to be right or wrong
	}
	var (
		unknown  *pflag.NotExistError
		valued   *pflag.ValueRequiredError
		invalid  *pflag.InvalidValueError
		unformed *pflag.InvalidSyntaxError
	)
	lists := "; " + cmd.CommandPath() + " --help lists the flags"
	switch {
	case errors.As(err, &unknown):
		name := unknown.GetSpecifiedName()
		if letters := unknown.GetSpecifiedShortnames(); letters != "" {
			return fmt.Errorf("there is no flag -%s%s", name, lists)
		}
		if near := nearest(name, flagNames(cmd)); near != "" {
			return fmt.Errorf("there is no flag --%s; did you mean --%s?", name, near)
		}
		return fmt.Errorf("there is no flag --%s%s", name, lists)
	case errors.As(err, &valued):
		takes, usage := usageOf(valued.GetFlag())
		return fmt.Errorf("--%s wants something behind it: %s, %s", valued.GetFlag().Name, takes, usage)
	case errors.As(err, &invalid):
		return fmt.Errorf("--%s %q is not %s", invalid.GetFlag().Name, invalid.GetValue(), wanted(invalid))
	case errors.As(err, &unformed):
		return fmt.Errorf("%q is no flag%s", unformed.GetSpecifiedFlag(), lists)
	}
	return err
}

// wanted is what the value of a flag should have been.
func wanted(err *pflag.InvalidValueError) string {
	if value, is := err.GetFlag().Value.(interface{ wanted() string }); is {
		return value.wanted()
	}
	switch err.GetFlag().Value.Type() {
	case "int", "int64":
		return "a whole number"
	case "uint64":
		return "a whole number from 0"
	case "float64":
		return "a number"
	case "bool":
		return "true or false"
	}
	return "a list that can be read: put quotation marks around the whole of it"
}

// firstWord is the first of the words on a command line if it is no flag, or "".
func firstWord(given []string) string {
	if len(given) > 0 && !strings.HasPrefix(given[0], "-") {
		return given[0]
	}
	return ""
}

// flagNames are the names of the flags of a command, those of the help alone.
func flagNames(cmd *cobra.Command) (names []string) {
	cmd.Flags().VisitAll(func(flag *pflag.Flag) { names = append(names, flag.Name) })
	return names
}

// nearest is the word of a list that is spelled most like another and may be meant, or "".
func nearest(word string, list []string) string {
	best, least := "", len(word)/3+1
	for _, other := range list {
		if strings.HasPrefix(other, word) && word != "" {
			return other
		}
		if d := levenshtein.ComputeDistance(strings.ToLower(word), other); d <= least && (best == "" || d < least) {
			best, least = other, d
		}
	}
	return best
}

// unknownCommand says that there is no such command, and which may be meant.
func unknownCommand(root *cobra.Command, name string) error {
	var names []string
	for _, cmd := range root.Commands() {
		if cmd.IsAvailableCommand() {
			names = append(names, cmd.Name())
		}
	}
	if near := nearest(name, names); near != "" {
		return fmt.Errorf("there is no command %q; did you mean %s?", name, near)
	}
	for _, topic := range topics {
		if topic.name == name {
			return fmt.Errorf("there is no command %q; did you mean deskpart help %s?", name, name)
		}
	}
	return fmt.Errorf("there is no command %q; deskpart --help lists them", name)
}

// noWords refuses words where a command takes flags alone.
func noWords(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return fmt.Errorf("%s takes no words beside its flags, and %q was given", cmd.CommandPath(), args[0])
	}
	return nil
}

// oneScoreNamed refuses all but one path. example is the rest of a command line.
func oneScoreNamed(example string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		switch len(args) {
		case 0:
			return fmt.Errorf("no score was named; give one, such as %s score.musicxml%s", cmd.CommandPath(), example)
		case 1:
			return nil
		}
		return fmt.Errorf("%s works on one score, and %d were named: %q, %q …", cmd.CommandPath(), len(args), args[0], args[1])
	}
}

// scoresNamed refuses a line that names no score. example is the rest of it.
func scoresNamed(flags *runFlags, example string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == 0 && flags.filesFrom == "" {
			return fmt.Errorf("no score was named; give a file or a folder, such as %s %s", cmd.CommandPath(), example)
		}
		return withoutEquals(cmd, args)
	}
}

// withoutEquals refuses a title or a table that stands behind its flag with a space: a flag
// that may stand alone takes it behind an equals sign only, and it would be a path.
func withoutEquals(cmd *cobra.Command, args []string) error {
	for _, arg := range args {
		if _, err := os.Stat(arg); standsAlone(cmd, "work") && errors.Is(err, fs.ErrNotExist) && !strings.ContainsAny(arg, "*?[") {
			return fmt.Errorf("there is no file or folder %q; if it is the title of the work, write --work=%[1]q", arg)
		}
		if standsAlone(cmd, "substitutes") && strings.EqualFold(filepath.Ext(arg), ".csv") {
			return fmt.Errorf("%q is no score; if it is the table of substitutes, write --substitutes=%[1]q", arg)
		}
	}
	return nil
}

// standsAlone reports whether a flag was given without the value that it can have.
func standsAlone(cmd *cobra.Command, name string) bool {
	flag := cmd.Flag(name)
	return flag != nil && flag.Changed && flag.Value.String() == flag.NoOptDefVal
}

// required refuses a line on which a flag is missing, and says what they are for.
func required(cmd *cobra.Command, names ...string) error {
	missing := slices.DeleteFunc(slices.Clone(names), cmd.Flags().Changed)
	if len(missing) == 0 {
		return nil
	}
	_, usage := usageOf(cmd.Flag(missing[0]))
	return fmt.Errorf("--%s is missing: %s; such as %s", missing[0], usage, strings.TrimSuffix(cmd.UseLine(), " [flags]"))
}
