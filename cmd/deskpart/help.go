package main

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// The groups of flags in a command's help, in order. Flags that stand in none of the
// other lists say something of the music.
var flagGroups = []struct {
	title string
	names []string
}{
	{"The music", nil},
	{"The paper", []string{"pdf", "paper", "staff", "margin", "large", "large-print", "one-sided", "print", "job", "copies"}},
	{"The files", []string{"out", "format", "bundle", "bag", "ascii-names", "force", "files-from", "csv", "details", "question"}},
	{"The machine", []string{"jobs", "memory", "shard", "json", "quiet", "strict", "help", "version", "no-descriptions"}},
}

// commandGroups are the commands in the help of the program, by what a musician wants.
var commandGroups = []struct {
	title string
	names []string
}{
	{"From a score to the desks", []string{"extract", "print", "proof"}},
	{"The ensemble you have", []string{"survey", "fit", "reassign", "collate"}},
	{"Whole scores", []string{"convert", "verify"}},
	{"The lesson", []string{"explain", "exercise", "mark"}},
	{"Instruments and the shell", []string{"instruments", "completion", "help"}},
}

// printUsage prints how a command is used.
func printUsage(cmd *cobra.Command) error {
	var b bytes.Buffer
	b.WriteString("Usage:\n")
	if cmd.Runnable() {
		fmt.Fprintf(&b, "  %s\n", cmd.UseLine())
	}
	if cmd.HasAvailableSubCommands() {
		fmt.Fprintf(&b, "  %s COMMAND …\n", cmd.CommandPath())
	}
	if cmd.HasExample() {
		fmt.Fprintf(&b, "\nExamples:\n%s\n", cmd.Example)
	}
	if cmd.HasAvailableSubCommands() {
		writeCommands(&b, cmd)
	}
	writeFlags(&b, cmd)
	if !cmd.HasParent() {
		fmt.Fprintf(&b, "\nTopics (deskpart help TOPIC):\n")
		for _, topic := range topics {
			fmt.Fprintf(&b, "  %-12s %s\n", topic.name, topic.short)
		}
		b.WriteString("\nFor one command: deskpart COMMAND --help\n")
	} else if cmd.Flag("max-input") != nil {
		b.WriteString("\nWhat reading a file may cost, and how to allow more: deskpart help limits\n")
	}
	_, err := b.WriteTo(cmd.OutOrStdout())
	return err
}

func writeCommands(b *bytes.Buffer, cmd *cobra.Command) {
	listed := map[string]bool{}
	write := func(sub *cobra.Command) {
		listed[sub.Name()] = true
		fmt.Fprintf(b, "  %-12s %s\n", sub.Name(), sub.Short)
	}
	if !cmd.HasParent() {
		for _, group := range commandGroups {
			fmt.Fprintf(b, "\n%s:\n", group.title)
			for _, name := range group.names {
				if sub, _, err := cmd.Find([]string{name}); err == nil {
					write(sub)
				}
			}
		}
		return
	}
	b.WriteString("\nCommands:\n")
	for _, sub := range cmd.Commands() {
		if sub.IsAvailableCommand() {
			write(sub)
		}
	}
}

// writeFlags writes the flags of a command, a group at a time.
func writeFlags(b *bytes.Buffer, cmd *cobra.Command) {
	groups := make([][]*pflag.Flag, len(flagGroups))
	cmd.Flags().VisitAll(func(flag *pflag.Flag) {
		if i := groupOf(flag.Name); !flag.Hidden {
			groups[i] = append(groups[i], flag)
		}
	})
	for i, group := range groups {
		if len(group) > 0 {
			fmt.Fprintf(b, "\n%s:\n", flagGroups[i].title)
		}
		for _, flag := range group {
			writeFlag(b, flag)
		}
	}
}

// helpIndent is where the texts of flags begin.
const helpIndent = 27

// writeFlag writes a flag with what it takes, what it is for and what holds without it.
func writeFlag(b *bytes.Buffer, flag *pflag.Flag) {
	takes, usage := usageOf(flag)
	head := "      --" + flag.Name
	if flag.Shorthand != "" {
		head = "  -" + flag.Shorthand + ", --" + flag.Name
	}
	if takes != "" {
		head += " " + takes
	}
	if usual := usualOf(flag); usual != "" {
		usage += " (default " + usual + ")"
	}
	if len([]rune(head)) >= helpIndent-1 {
		b.WriteString(head + "\n")
		head = ""
	}
	explain.WriteHanging(b, fmt.Sprintf("%-*s", helpIndent, head), usage)
}

// usageOf is what a flag takes, as a word in capitals, and what it is for.
func usageOf(flag *pflag.Flag) (takes, usage string) {
	switch flag.Name {
	case "help":
		return "", "this help"
	case "version":
		return "", "the program's version"
	}
	takes, usage = pflag.UnquoteUsage(flag)
	switch takes {
	case "int", "uint":
		takes = "N"
	case "string":
		takes = "WORD"
	case "strings":
		takes = "LIST"
	case "float":
		takes = "NUMBER"
	}
	return takes, usage
}

// usualOf is what holds without a flag, "" for nothing worth a word.
func usualOf(flag *pflag.Flag) string {
	switch flag.DefValue {
	case "", "0", "false", "[]":
		return ""
	}
	return flag.DefValue
}

// groupOf is the place of a flag's group.
func groupOf(flag string) int {
	for i, group := range flagGroups {
		if slices.Contains(group.names, flag) {
			return i
		}
	}
	return 0
}

// newHelpCmd is the help of commands and topics.
func newHelpCmd(p *program) *cobra.Command {
	var language pitch.Language
	cmd := &cobra.Command{
		Use:   "help [COMMAND | TOPIC]",
		Short: "Help for a command or a topic",
		Long:  "Help for a command, or for one of the topics that deskpart --help lists.",
		Example: `  A command:
    deskpart help extract
  What the warnings mean, and what to do about them, also in German:
    deskpart help warnings
    deskpart help warnings above-range turn --language de
  The JSON Schema of what survey prints:
    deskpart help json survey`,
		ValidArgsFunction: func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
			return startingWith(helpWords(cmd.Root(), args), begun), cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				cmd.Root().InitDefaultHelpFlag()
				cmd.Root().InitDefaultVersionFlag()
				return cmd.Root().Help()
			}
			for _, topic := range topics {
				if topic.name == args[0] {
					said, err := texts.In(language)
					if err != nil {
						return err
					}
					return topic.print(p.streams.Out, args[1:], said)
				}
			}
			found, rest, err := cmd.Root().Find(args)
			if err != nil || len(rest) > 0 || found == cmd.Root() {
				return unknownHelp(cmd.Root(), args)
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	}
	addLanguage(cmd.Flags(), &language, "the topic warnings")
	return cmd
}

// helpWords are what may stand behind help.
func helpWords(root *cobra.Command, args []string) (words []string) {
	if len(args) > 0 {
		if args[0] == topicJSON {
			return schemaNames()
		}
		return nil
	}
	for _, topic := range topics {
		words = append(words, topic.name+"\t"+topic.short)
	}
	for _, cmd := range root.Commands() {
		if cmd.IsAvailableCommand() {
			words = append(words, cmd.Name()+"\t"+cmd.Short)
		}
	}
	return words
}

// unknownHelp says that there is no help by a name.
func unknownHelp(root *cobra.Command, args []string) error {
	var names []string
	for _, word := range helpWords(root, nil) {
		name, _, _ := strings.Cut(word, "\t")
		names = append(names, name)
	}
	if near := nearest(args[0], names); near != "" && near != args[0] {
		return fmt.Errorf("there is no help on %q; did you mean %s?", args[0], near)
	}
	return fmt.Errorf("there is no help on %q; there is on %s", strings.Join(args, " "), strings.Join(names, ", "))
}
