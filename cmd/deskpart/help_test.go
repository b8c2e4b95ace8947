package main

import (
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/notice"
)

// badLines are command lines that cannot be run, and what is said of them.
var badLines = []struct{ line, want string }{
	{"frob", `there is no command "frob"; deskpart --help lists them`},
	{"frob --out x", `there is no command "frob"; deskpart --help lists them`},
	{"extrac --out x", `there is no command "extrac"; did you mean extract?`},
	{"verfiy -q", `there is no command "verfiy"; did you mean verify?`},
	{"json", `there is no command "json"; did you mean deskpart help json?`},
	{"--frob", `there is no flag --frob; deskpart --help lists the flags`},
	{"extract --frob", `there is no flag --frob; deskpart extract --help lists the flags`},
	{"extract --outt x", `there is no flag --outt; did you mean --out?`},
	{"extract -x", `there is no flag -x; deskpart extract --help lists the flags`},
	{"extract --out", `--out wants something behind it: DIR, DIR that the parts go to`},
	{"extract s.xml --jobs x", `--jobs "x" is not a whole number from 0`},
	{"extract s.xml --language latin", `--language "latin" is not one of en, de, fr, it, es`},
	{"extract s.xml --input both", `--input "both" is not one of auto, concert, written`},
	{"extract s.xml --max-signature 8", `--max-signature "8" is not a whole number from 0 to 7`},
	{"extract s.xml --max-signature -4", `--max-signature "-4" is not a whole number from 0 to 7`},
	{"verify s.xml --spelling nice", `--spelling "nice" is not one of exact, readable`},
	{"fit s.xml --level star", `--level "star" is not one of professional, school`},
	{"convert s.xml --to auto", `--to "auto" is not one of concert, written`},
	{"exercise --level 9", `--level "9" is not a whole number from 1 to 5`},
	{"extract s.xml --jobs -1", `--jobs "-1" is not a whole number from 0`},
	{"extract s.xml --players=x", `--players "x" is not true or false`},
	{"print s.xml --staff x", `--staff "x" is not a number`},
	{"exercise --seed -1", `--seed "-1" is not a whole number from 0`},
	{"extract --=x", `"--=x" is no flag; deskpart extract --help lists the flags`},
	{"extract", `no score was named; give a file or a folder, such as deskpart extract score.musicxml`},
	{"survey", `no score was named; give a file or a folder, such as deskpart survey score.musicxml`},
	{"convert --to concert", `no score was named; give a file or a folder, such as deskpart convert scores/ --to concert`},
	{"exercise foo", `deskpart exercise takes no words beside its flags, and "foo" was given`},
	{"fit", `no score was named; give one, such as deskpart fit score.musicxml --part Flute`},
	{"proof a b", `deskpart proof works on one score, and 2 were named: "a", "b" …`},
	{"collate", `no part was named; give the score first and then its parts, such as deskpart collate score.musicxml parts/`},
	{"mark", `no key was named; give an answer or a folder of exercises, then what is to be marked`},
	{"reassign s.xml --part P1", `--to is missing: the INSTRUMENT that is to play it, by name or id; such as deskpart reassign SCORE --part X --to INSTRUMENT --out FILE`},
	{"instruments match", `no name was given; give the names of parts, such as deskpart instruments match "Klarinette in B 2"`},
	{"help frob", `there is no help on "frob"; there is on json, warnings, exit-status, limits, collate,`},
	{"help extrct", `there is no help on "extrct"; did you mean extract?`},
	{"help json frob", `there is no schema "frob"; there is one of collate,`},
	{"help warnings above", `there is no code "above"; did you mean above-range?`},
	{"completion tcsh", `words are completed in bash, fish, powershell, zsh, and not in "tcsh"`},
	{"completion bash x", `deskpart completion bash takes no words beside its flags, and "x" was given`},
}

// sentences are those of the libraries that read the line (cobra's and pflag's sources).
var sentences = regexp.MustCompile(`unknown (flag|shorthand|command|help)|invalid argument|required flag|needs an argument|bad flag syntax|accepts \d|requires at|strconv|parsing|autocompletion script|[Ff]or the specified shell|help for |version for `)

// TestBadLines: what cannot be run is said in one line of the program's own words, with
// status 2 and nothing on standard output.
func TestBadLines(t *testing.T) {
	t.Parallel()
	for _, bad := range badLines {
		out, errs, code := command(t, strings.Fields(bad.line)...)
		assert.Equal(t, exitCannotRun, code, bad.line)
		assert.Empty(t, out, bad.line)
		assert.True(t, strings.HasPrefix(errs, "deskpart: "+bad.want), "%s: %s", bad.line, errs)
		assert.Equal(t, 1, strings.Count(errs, "\n"), errs)
		assert.NotRegexp(t, sentences, errs)
	}
}

// allCommands are the commands and their own.
func allCommands(cmd *cobra.Command) []*cobra.Command {
	all := []*cobra.Command{cmd}
	for _, sub := range cmd.Commands() {
		all = append(all, allCommands(sub)...)
	}
	return all
}

// TestHelpOfCommands: every command explains itself, in lines that fit a terminal and in
// the program's own words; its flags are grouped, and the limits stand elsewhere.
func TestHelpOfCommands(t *testing.T) {
	t.Parallel()
	root := newRootCmd(&program{streams: &report.Streams{}})
	listed, _, _ := command(t, "--help")
	for _, cmd := range allCommands(root) {
		args := strings.Fields(cmd.CommandPath())[1:]
		out, errs, code := command(t, append(args, "--help")...)
		require.Equal(t, exitDone, code, errs)
		assert.Empty(t, errs)
		assert.NotRegexp(t, sentences, out)
		assert.NotRegexp(t, `--max-(input|expanded|ratio|entries|depth|attributes|parts)`, out)
		assert.Contains(t, out, "\nThe machine:\n  -h, --help ")
		_, flags, _ := strings.Cut(out, "\nThe machine:")
		for _, line := range strings.Split(flags, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), 80, "%s: %s", cmd.CommandPath(), line)
		}
		if cmd.Parent() == root {
			assert.Regexp(t, `(?m)^  `+cmd.Name()+` +`+regexp.QuoteMeta(cmd.Short)+`$`, listed)
		}
		again, _, code := command(t, append([]string{"help"}, args...)...)
		assert.Equal(t, exitDone, code)
		assert.Equal(t, out, again, "help %s", cmd.Name())
	}
}

// TestHelpOfTopics: all codes, schemas and limits there are stand in their topics.
func TestHelpOfTopics(t *testing.T) {
	t.Parallel()
	warnings, _, code := command(t, "help", "warnings")
	require.Equal(t, exitDone, code)
	for _, n := range notice.All() {
		assert.Contains(t, warnings, "\n  "+string(n.Code)+"\n      "+n.Meaning+";\n      "+n.Remedy+"\n")
	}
	one, _, _ := command(t, "help", "warnings", "above-range")
	assert.True(t, strings.HasPrefix(one, "  above-range\n"), one)
	json, _, code := command(t, "help", "json")
	require.Equal(t, exitDone, code)
	require.NotEmpty(t, schemaNames())
	for _, name := range schemaNames() {
		assert.Contains(t, json, "\n  "+name+" ")
		text, _, code := command(t, "help", "json", name)
		assert.Equal(t, exitDone, code)
		parseJSON(t, []byte(text))
	}
	limits, _, code := command(t, "help", "limits")
	require.Equal(t, exitDone, code)
	for _, flag := range []string{"input", "expanded", "ratio", "entries", "depth", "attributes", "parts"} {
		assert.Contains(t, limits, "--max-"+flag+" ")
	}
	status, _, code := command(t, "help", "exit-status")
	require.Equal(t, exitDone, code)
	for _, n := range []string{"0 ", "1 ", "2 ", "130 ", "143", "129"} {
		assert.Contains(t, status, n)
	}
}

// TestCompletion: a shell is offered what a flag takes: words, languages, instruments in
// any language, levels, the parts of the score on the line, score files.
func TestCompletion(t *testing.T) {
	t.Parallel()
	score := filepath.Join(musicxmltest.ProjectRoot(t), "examples", "two-ferries.musicxml")
	for _, row := range []struct {
		args []string
		want []string // the last is cobra's word for what a shell may add
	}{
		{[]string{"extract", "x", "--language", ""}, []string{"en", "de", "fr", "it", "es", ":4"}},
		{[]string{"fit", "x", "--level", "s"}, []string{"school", ":4"}},
		{[]string{"extract", "--input", ""}, []string{"auto", "concert", "written", ":4"}},
		{[]string{"verify", "--spelling", "r"}, []string{"readable", ":4"}},
		{[]string{"exercise", "--from", ""}, []string{"sounding", "written", "both", ":4"}},
		{[]string{"exercise", "--topic", "s"}, []string{"signature", "score-reading", "sight", ":4"}},
		{[]string{"reassign", score, "--to", "englis"}, []string{"Englischhorn", "English Horn", "english-horn", ":4"}},
		{[]string{"fit", score, "--have", "2 flute, 3 englischh"}, []string{"2 flute, 3 Englischhorn", ":6"}},
		{[]string{"explain", "englischh"}, []string{"Englischhorn", ":4"}},
		{[]string{"reassign", score, "--part", "b"}, []string{"Bassoon", ":4"}},
		{[]string{"extract", ""}, []string{"musicxml", "xml", "mxl", ":8"}},
		{[]string{"extract", "--plan", ""}, []string{"csv", ":8"}},
		{[]string{"extract", "--out", ""}, []string{":16"}},
		{[]string{"help", "json", "s"}, []string{"survey", ":4"}},
	} {
		out, _, code := command(t, append([]string{"__complete"}, row.args...)...)
		assert.Equal(t, exitDone, code)
		assert.Equal(t, row.want, strings.Split(strings.TrimSpace(out), "\n"), row.args)
	}
}
