package main

import (
	"encoding/json"
	"errors"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"deskpart/cmd/internal/files"
)

// outFlags are how a command writes files.
type outFlags struct {
	force bool // write over files that no earlier run made. Default: false
	cmd   *cobra.Command
}

func (f *outFlags) addFlags(cmd *cobra.Command) {
	f.cmd = cmd
	cmd.Flags().BoolVar(&f.force, "force", false, "write over files that no earlier run made, too")
}

// making says who makes files, and how. root is the folder that the record stands in,
// "" for one beside each file.
func (f *outFlags) making(root string) (files.Making, error) {
	settings, err := json.Marshal(settingsOf(f.cmd))
	return files.Making{Command: f.cmd.Name(), Version: version, Settings: settings, Root: root, Force: f.force}, err
}

// writeFile writes the one file of a command, whole.
func (f *outFlags) writeFile(path string, data []byte, inputs ...files.Input) (wrote bool, err error) {
	making, err := f.making("")
	if err != nil {
		return false, err
	}
	output := files.NewOutput(making, inputs...)
	wrote, err = output.WriteFile(path, data, files.Origin{})
	return wrote, errors.Join(err, output.Close())
}

// outFile is a file to be written, below the folder of a run.
type outFile struct {
	name string
	data []byte
}

// writeFolder writes the files of a run, all or, where something stands in the way of
// one, none; what an earlier run made there beside them goes.
func (f *outFlags) writeFolder(root string, made []outFile, inputs ...files.Input) error {
	making, err := f.making(root)
	if err != nil {
		return err
	}
	output := files.NewOutput(making, inputs...)
	return errors.Join(writeAll(output, root, made), output.Close())
}

func writeAll(output *files.Output, root string, made []outFile) error {
	for _, file := range made {
		at := filepath.Join(root, file.name)
		if err := output.Folder(filepath.Dir(at)).Check(filepath.Base(at), file.data); err != nil {
			return err
		}
	}
	var paths []string
	for _, file := range made {
		paths = append(paths, filepath.Join(root, file.name))
		if _, err := output.WriteFile(paths[len(paths)-1], file.data, files.Origin{}); err != nil {
			return err
		}
	}
	_, err := output.RemoveAllBut(paths)
	return err
}

// notSettings are the flags that decide nothing about the bytes of a file.
var notSettings = []string{"out", "force", "strict", "json", "quiet", "help", "jobs", "memory", "files-from", "shard",
	"max-input", "max-expanded", "max-ratio", "max-entries", "max-depth", "max-attributes", "max-parts", "max-text", "max-header"}

// settingsOf are the flags and arguments of a command that decide about the bytes of
// its files, by their names in JSON.
func settingsOf(cmd *cobra.Command) map[string]any {
	settings := map[string]any{}
	if args := cmd.Flags().Args(); len(args) > 0 && cmd.Annotations[argumentsAreInputs] == "" {
		settings["arguments"] = args
	}
	cmd.Flags().VisitAll(func(flag *pflag.Flag) {
		if !slices.Contains(notSettings, flag.Name) {
			settings[strings.ReplaceAll(flag.Name, "-", "_")] = valueOf(flag.Value)
		}
	})
	return settings
}

// argumentsAreInputs marks a command whose arguments are files to work on, which the
// record names one by one.
const argumentsAreInputs = "arguments are inputs"

// valueOf is a flag's value as JSON has it.
func valueOf(value pflag.Value) any {
	if list, is := value.(pflag.SliceValue); is {
		return slices.Concat([]string{}, list.GetSlice()) // a list of nothing is none the less one
	}
	text := value.String()
	switch value.Type() {
	case "bool":
		return text == "true"
	case "float64":
		if n, err := strconv.ParseFloat(text, 64); err == nil {
			return n
		}
	case "int", "int64", "uint64":
		return json.Number(text)
	}
	return text
}
