package files_test

import (
	"path"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/files"
)

// The forbidden characters and names are those of Windows ("Naming Files, Paths,
// and Namespaces"); the results are worked out by hand.
func TestSafe(t *testing.T) {
	t.Parallel()
	x := func(n int) string { return strings.Repeat("x", n) }
	for _, c := range []struct{ name, why, text, want, ascii string }{
		{"a part's label", "what players call it stays readable", "05 Clarinet in B♭ 1", "05 Clarinet in B♭ 1", "05_Clarinet_in_Bb_1"},
		{"a sharp key", "a flat is b, a sharp is spelled", "Trumpet in C♯", "Trumpet in C♯", "Trumpet_in_Csharp"},
		{"a hash for a sharp", "\"#\" after a note's name", "Horn in F# (low)", "Horn in F# (low)", "Horn_in_Fsharp_(low)"},
		{"a hash for a number", "\"#\" before a number", "Horn #2", "Horn #2", "Horn_2"},
		{"double flat and natural", "the other signs", "B𝄫 B♮", "B𝄫 B♮", "Bbb_Bnatural"},
		{"umlauts", "German plain spelling", "Große Flöte für Ümit", "Große Flöte für Ümit", "Grosse_Floete_fuer_Uemit"},
		{"accents", "stripped in ASCII", "Clarinette en si bémol, façade", "Clarinette en si bémol, façade", "Clarinette_en_si_bemol_facade"},
		{"decomposed accent", "Unicode form C", "bémol", "bémol", "bemol"},
		{"Cyrillic", "another script in ASCII", "Флейта", "Флейта", "Fleita"},
		{"slash", "two players on one staff", "Flute 1/2", "Flute 1-2", "Flute_1-2"},
		{"upwards", "names never leave the folder", "../../etc/passwd", "-..-etc-passwd", "-..-etc-passwd"},
		{"two dots", "the folder above", "..", "unnamed", "unnamed"},
		{"nothing", "a part without a name", "", "unnamed", "unnamed"},
		{"white space alone", "nothing is left", " \t\r\n", "unnamed", "unnamed"},
		{"Windows' signs", "not allowed there", `a<b>c:d"e/f\g|h?i*j`, `a_b_c-d'e-f-g-h_i_j`, `a_b_c-d_e-f-g-h_i_j`},
		{"control characters", "some break a line", "Oboe\n1\x00\x1b[31m\x7f", "Oboe 1[31m", "Oboe_1_31m"},
		{"direction of writing", "could hide the real extension", "Horn\u202elxm.exe", "Hornlxm.exe", "Hornlxm.exe"},
		{"dot and space at the end", "Windows drops them", "Horn in F. . ", "Horn in F", "Horn_in_F"},
		{"dot at the start", "would be hidden", ".Horn", "Horn", "Horn"},
		{"device", "Windows keeps it", "con", "con_", "con_"},
		{"device with extension", "kept as well", "NUL.musicxml", "NUL_.musicxml", "NUL_.musicxml"},
		{"device with space and extension", "kept as well", "aux .xml", "aux _.xml", "aux_.xml"},
		{"port", "COM1 to COM9", "Com1", "Com1_", "Com1_"},
		{"port with superscript", "also kept", "LPT²", "LPT²_", "LPT2_"},
		{"no port", "more than a digit", "COM10", "COM10", "COM10"},
		{"no port either", "letters after it", "Comb", "Comb", "Comb"},
		{"no UTF-8", "any bytes can come out of a broken file", "Oboe\xff\xfe 1", "Oboe_ 1", "Oboe_1"},
		{"a long name", "120 bytes at most, cut in the middle", x(130), x(78) + "…" + x(39), x(78) + "..." + x(39)},
		{"a long name of wide letters", "no letter is cut", strings.Repeat("é", 100), strings.Repeat("é", 39) + "…" + strings.Repeat("é", 19), strings.Repeat("e", 100)},
		{"a long name with an accent of its own", "no accent is cut off", x(118) + "x̣̃", x(78) + "…" + x(34) + "x̣̃", x(119)},
		{"accents of their own", "none begins the end", strings.Repeat("x̣", 50) + "y", strings.Repeat("x̣", 26) + "…" + strings.Repeat("x̣", 12) + "y", x(50) + "y"},
		{"a long name with a number", "the end tells it from others", x(119) + " 12", x(78) + "…" + x(36) + " 12", x(78) + "..." + x(36) + "_12"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, c.want, files.NameStyle{}.Safe(c.text), c.why)
			assert.Equal(t, c.ascii, files.NameStyle{ASCII: true}.Safe(c.text), c.why)
		})
	}
}

func TestSafePath(t *testing.T) {
	t.Parallel()
	for _, c := range [][2]string{
		{"a/b/c.mxl", "a/b/c.mxl"},
		{"../../c.mxl", "unnamed/unnamed/c.mxl"}, // never above
		{"/etc/passwd", "etc/passwd"},            // never absolute
		{"./.", "unnamed"},
		{"aux/con.xml", "aux_/con_.xml"}, // Windows keeps a device's name for a folder, too
		{`a\b/c`, "a-b/c"},               // a folder on Windows, a letter elsewhere
	} {
		assert.Equal(t, c[1], files.NameStyle{}.SafePath(c[0]))
	}
}

func TestUnique(t *testing.T) {
	t.Parallel()
	x := func(n int) string { return strings.Repeat("x", n) }
	long := x(200)
	for _, c := range []struct {
		name, why   string
		ascii       bool
		stems, want []string
	}{
		{"clash", "a number", false, []string{"Horn", "Horn", "Horn"}, []string{"Horn.mxl", "Horn (2).mxl", "Horn (3).mxl"}},
		{"clash in ASCII", "a number without space", true, []string{"Horn", "Horn"}, []string{"Horn.mxl", "Horn_2.mxl"}},
		{"capitals", "one file on Windows and macOS", false, []string{"horn", "HORN"}, []string{"horn.mxl", "HORN (2).mxl"}},
		{"Unicode form", "one file on macOS", false, []string{"Flöte", "Flo\u0308te"}, []string{"Flöte.mxl", "Flöte (2).mxl"}},
		{"number taken", "the next free one", false, []string{"Horn (2)", "Horn", "Horn"}, []string{"Horn (2).mxl", "Horn.mxl", "Horn (3).mxl"}},
		{"long names", "the number fits into 120 bytes", false, []string{long, long}, []string{x(76) + "…" + x(37) + ".mxl", x(73) + "…" + x(36) + " (2).mxl"}},
		{"unsafe names that fall together", "after they are made safe", false, []string{"a/b", "a:b"}, []string{"a-b.mxl", "a-b (2).mxl"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			names := files.Names{Style: files.NameStyle{ASCII: c.ascii}}
			for i, stem := range c.stems {
				assert.Equal(t, c.want[i], names.Unique(stem, ".mxl"), c.why)
			}
		})
	}
}

// FuzzSafe: whatever comes in, the name can be used on every system, and making
// it safe again changes nothing.
func FuzzSafe(f *testing.F) {
	for _, text := range []string{"05 Clarinet in B♭ 1", "..", "con.x", "a\u0301\u202e/", strings.Repeat("é", 99), "COM¹ .", "ß", "\xff", "𝄪#"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, style := range []files.NameStyle{{}, {ASCII: true}} {
			name := style.Safe(text)
			assert.NotEmpty(t, name)
			assert.LessOrEqual(t, len(name), 120)
			assert.True(t, utf8.ValidString(name))
			assert.Equal(t, name, path.Base(name))
			assert.NotContains(t, `. `, name[len(name)-1:])
			assert.False(t, strings.ContainsAny(name, "<>:\"/\\|?*\x00\n"))
			assert.Equal(t, name, style.Safe(name), "safe already")
			if style.ASCII {
				assert.Equal(t, len(name), utf8.RuneCountInString(name))
				assert.NotContains(t, name, " ")
			}
		}
	})
}
