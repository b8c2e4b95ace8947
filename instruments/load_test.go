package instruments_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
)

// tables copies the catalogue's files so that a test can spoil them.
func tables(t *testing.T) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	for _, name := range []string{"instruments.csv", "names.csv", "ranges.csv", "aliases.csv", "words.csv", "ensembles.csv", "programs.csv", "tunings.csv"} {
		data, err := os.ReadFile("data/" + name)
		require.NoError(t, err)
		files[name] = &fstest.MapFile{Data: data}
	}
	return files
}

// TestLoadErrors spoils one cell at a time. The error must name file, line and
// column in words that help the musician who edits the table.
func TestLoadErrors(t *testing.T) {
	t.Parallel()
	const clarinet = "clarinet-bflat,clarinet,,clarinet,woodwind,Bb,,-1,-2,0,Bb3,treble,wind.reed.clarinet.bflat; wind.reed.clarinet,72,yes,usual; says-key; breath,"
	for _, test := range []struct{ name, file, old, new, want string }{
		{"interval against worked note", "instruments.csv", clarinet, strings.Replace(clarinet, "-1,-2,0", "-1,-3,0", 1),
			"column written_c4_sounds: is Bb3, but the interval gives Bbb3"},
		{"worked note against interval", "instruments.csv", clarinet, strings.Replace(clarinet, "Bb3", "Bb2", 1),
			"is Bb2, but the interval gives Bb3"},
		{"key against worked note", "instruments.csv", clarinet, strings.Replace(clarinet, "woodwind,Bb", "woodwind,A", 1),
			"column key: is A, but a written C sounds Bb3"},
		{"directions", "instruments.csv", clarinet, strings.Replace(clarinet, "-1,-2,0,Bb3", "-1,-2,1,Bb4", 1),
			"steps, semitones and octaves point in different directions"},
		{"steps out of an octave", "instruments.csv", clarinet, strings.Replace(clarinet, "-1,-2,0", "-8,-14,0", 1),
			`column diatonic: "-8" is not a whole number from -6 to 6`},
		{"clef", "instruments.csv", clarinet, strings.Replace(clarinet, ",treble,", ",trebel,", 1), `column clefs: "trebel" is no clef`},
		{"flag", "instruments.csv", clarinet, strings.Replace(clarinet, "breath", "breathe", 1), `column flags: "breathe" is no flag`},
		{"group", "instruments.csv", clarinet, strings.Replace(clarinet, "woodwind", "wood", 1), `column group: "wood" is none of`},
		{"program", "instruments.csv", clarinet, strings.Replace(clarinet, ",72,", ",129,", 1), `"129" is not a whole number from 1 to 128`},
		{"chords", "instruments.csv", clarinet, strings.Replace(clarinet, ",yes,", ",perhaps,", 1), `column one_line: "perhaps" is none of yes, no`},
		{"no usual member", "instruments.csv", clarinet, strings.Replace(clarinet, "usual; ", "", 1), `kind "clarinet" has 0 usual instruments`},
		{"id twice", "instruments.csv", "\nclarinet-a,", "\nclarinet-d,", `column id: "clarinet-d" stands twice`},
		{"empty family", "instruments.csv", clarinet, strings.Replace(clarinet, ",,clarinet,", ",,,", 1), "column family: is empty"},
		{"columns", "instruments.csv", "id,kind,", "id,sort,", "line 1: columns are id,sort"},
		{"name of no kind", "names.csv", "\nflute,en,", "\nflote,en,", `"flote" is no kind of instrument`},
		{"language", "names.csv", "\nflute,de,", "\nflute,nl,", `"nl" is none of en, de, fr, it, es`},
		{"language twice", "names.csv", "\nflute,de,", "\nflute,en,", `"flute" has two rows for en`},
		{"range of no instrument", "ranges.csv", "\nflute,professional", "\nflote,professional", `"flote" is no instrument`},
		{"range note", "ranges.csv", "\nflute,professional,,written,B3", "\nflute,professional,,written,H3", `column low: "H3": not a pitch such as C4, F#3 or Bb4`},
		{"range order", "ranges.csv", "\nflute,professional,,written,B3", "\nflute,professional,,written,B5", "do not rise"},
		{"alias of no kind", "aliases.csv", ",flute,", ",flote,", `"flote" is no kind and no instrument`},
		{"word's role", "words.csv", ",ordinal,1,", ",number,1,", `column role: "number" is none of`},
		{"condition", "aliases.csv", ",baritone-horn,clef,", ",baritone-horn,in brassband,", `column when: "in brassband" is none of`},
		{"ensemble of no instruments", "ensembles.csv", "brass-band,cornet;", "brass-band,cornets;", `column has: "cornets" is no instrument, kind, family or group`},
		{"ensemble without what is none", "ensembles.csv", ",woodwind;", ",woodwinds;", `column lacks: "woodwinds" is no instrument, kind, family or group`},
		{"ensemble that reads nothing", "ensembles.csv", ",tenor-horn-eflat;", ",tenor-horn;", `column reads: "tenor-horn" is no instrument`},
		{"program of no kind", "programs.csv", "\n74,flute,", "\n74,flote,", `column kind: "flote" is no kind of instrument`},
		{"program twice", "programs.csv", "\n74,flute,", "\n73,flute,", `column program: 73 stands twice`},
		{"no program", "programs.csv", "\n74,flute,", "\n174,flute,", `"174" is not a whole number from 1 to 128`},
		{"tuning of no kind", "tunings.csv", "\nguitar,", "\ngitar,", `column kind: "gitar" is no kind of instrument`},
		{"tuning", "tunings.csv", "\nguitar,E4;", "\nguitar,X4;", `column strings: `},
		{"ordinal", "words.csv", ",ordinal,1,", ",ordinal,one,", `column meaning: "one" is no number`},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			files := tables(t)
			text := string(files[test.file].Data)
			require.Contains(t, text, test.old, "the row to spoil has moved")
			files[test.file].Data = []byte(strings.Replace(text, test.old, test.new, 1))
			_, err := instruments.LoadFrom(files)
			require.Error(t, err)
			assert.Contains(t, err.Error(), test.want)
			assert.Contains(t, err.Error(), "catalogue: "+test.file)
		})
	}
}

func TestLoadFromSpreadsheet(t *testing.T) {
	t.Parallel()
	files := tables(t)
	for _, file := range files {
		text := strings.ReplaceAll(string(file.Data), "\n", "\r\n")
		file.Data = []byte("\ufeff" + text)
	}
	c, err := instruments.LoadFrom(files)
	require.NoError(t, err, "a spreadsheet saves with byte order mark and other line ends")
	assert.NotNil(t, c.ByID("clarinet-bflat"))
}

func TestLoadMissingFile(t *testing.T) {
	t.Parallel()
	files := tables(t)
	delete(files, "ranges.csv")
	_, err := instruments.LoadFrom(files)
	assert.ErrorContains(t, err, "ranges.csv")
}
