package main

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"deskpart/cmd/internal/report/schema"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
)

const topicJSON = "json"

// topics are what help explains besides commands.
var topics = []struct {
	name, short string
	// print is given the texts of --language; all but the warnings is in English.
	print func(out io.Writer, words []string, said *texts.Texts) error
}{
	{topicJSON, "what --json prints, and the schema of each document", printJSONTopic},
	{"warnings", "what each warning and refusal means, and what to do", printWarningsTopic},
	{"exit-status", "what a command ends with", printExitStatusTopic},
	{"limits", "what reading a file may cost, and how to allow more", printLimitsTopic},
}

const jsonTopic = `With --json a command prints one JSON document on standard output and nothing else
there; messages stay on standard error. Every row that speaks of a file has "input",
the path as it was given. Every document of a command that reads files has

  "rejected"  the files that were refused: [{"input", "code", "text"}]
  "summary"   what the run came to: files, parts, written, unchanged, left, warnings
              and rejected by code; "stopped" says why a run ended before its end

"code" is one of deskpart help warnings and does not change. Pitches are scientific
(C4 is middle C, F#3, Bb4), keys a number of fifths (-3 is three flats). Names are
written in snake_case. Where a command works on one score and that is refused, the
document has "rejected" and "summary" alone. The parts of a score are described by
manifest.json beside them; what other commands made by deskpart-record.jsonl, a line
of JSON for each file.

The JSON Schemas (2020-12) stand in cmd/internal/report/schema;
deskpart help json NAME prints one:

`

func printJSONTopic(out io.Writer, words []string, _ *texts.Texts) error {
	all, err := schema.All()
	if err != nil {
		return err
	}
	switch {
	case len(words) == 1:
		for _, s := range all {
			if s.Name == words[0] {
				_, err := out.Write(s.Text)
				return err
			}
		}
		fallthrough
	case len(words) > 1:
		return fmt.Errorf("there is no schema %q; there is one of %s", strings.Join(words, " "), strings.Join(schemaNames(), ", "))
	}
	io.WriteString(out, jsonTopic)
	for _, s := range all {
		fmt.Fprintf(out, "  %-18s %s\n", s.Name, s.Title)
	}
	return nil
}

func schemaNames() (names []string) {
	all, _ := schema.All() // a test reads them
	for _, s := range all {
		names = append(names, s.Name)
	}
	return names
}

func printWarningsTopic(out io.Writer, words []string, said *texts.Texts) error {
	if len(words) > 0 {
		return printWarnings(out, words, said)
	}
	fmt.Fprintf(out, "%s\n%s\n%s\n", said.Say("help.warning", nil), said.Say("help.refusal", nil), said.Say("help.code", nil))
	headings := map[notice.Kind]string{notice.Warning: said.Say("help.warnings", nil), notice.Refusal: said.Say("help.refusals", nil)}
	var kind notice.Kind
	for _, n := range notice.All() {
		if n.Kind != kind {
			kind = n.Kind
			fmt.Fprintf(out, "\n%s:\n", headings[kind])
		}
		printNotice(out, n, said)
	}
	return nil
}

// printWarnings explains single codes.
func printWarnings(out io.Writer, codes []string, said *texts.Texts) error {
	var names []string
	for _, n := range notice.All() {
		names = append(names, string(n.Code))
	}
	for _, code := range codes {
		n, known := notice.Lookup(notice.Code(code))
		if !known {
			hint := "deskpart help warnings lists them"
			if near := nearest(code, names); near != "" {
				hint = "did you mean " + near + "?"
			}
			return fmt.Errorf("there is no code %q; %s", code, hint)
		}
		printNotice(out, n, said)
	}
	return nil
}

func printNotice(out io.Writer, n notice.Notice, said *texts.Texts) {
	fmt.Fprintf(out, "  %s\n      %s;\n      %s\n", n.Code, said.Meaning(n), said.Remedy(n, texts.AtCommand))
}

func printExitStatusTopic(out io.Writer, words []string, _ *texts.Texts) error {
	if len(words) > 0 {
		return fmt.Errorf("deskpart help exit-status takes no further words, and %q was given", words[0])
	}
	_, err := io.WriteString(out, `Every command ends with one of these, however quiet it is:

    0  done, nothing to look at; warnings do not change it
    1  done, but something needs a person: a file was rejected, no score was found, a
       part that was asked for is not there or was not made, a check failed, or, under
       --strict, a part was not recognised. All else was done
    2  could not run: a flag or a word that is not known, no such path, output that
       cannot be written or delivered, or something of yours that stands in the way of
       the one file to be written. One line on standard error says what
  130  stopped by Ctrl-C (128 + the signal's number; 143 by a scheduler's request to
       end, 129 when the terminal went): what is written is whole, and the same command
       again goes on from there. It says so even under --quiet

A reader who goes away ("deskpart survey archive/ | head") is no fault. What was
rejected stands in --json under "rejected".
`)
	return err
}

func printLimitsTopic(out io.Writer, words []string, _ *texts.Texts) error {
	if len(words) > 0 {
		return fmt.Errorf("deskpart help limits takes no further words, and %q was given", words[0])
	}
	io.WriteString(out, `Files may come from strangers. A file that is larger, unpacks to more or nests deeper
than any score has reason to is refused in one line, and the run goes on with the
others. These flags of every command that reads scores set the limits; nobody
needs them for a score that a notation program wrote:

`)
	var flags runFlags
	set := pflag.NewFlagSet("", pflag.ContinueOnError)
	flags.defineLimits(set)
	var b bytes.Buffer
	set.VisitAll(func(flag *pflag.Flag) { writeFlag(&b, flag) })
	b.WriteTo(out)
	io.WriteString(out, `
--memory SIZE (such as 512MiB; default: half of what the machine, or the group of
processes that it runs in, has) bounds the work in flight: a score that alone would
not fit is refused in a line. --jobs N is how many workers there are.
`)
	return nil
}
