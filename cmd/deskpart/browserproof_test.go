package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
	"deskpart/musicxml/engraving/svgread"
	"deskpart/musicxml/musicxmltest"
)

func testProofOfExamples(t *testing.T, b *browsertest.Browser) {
	root := musicxmltest.ProjectRoot(t)
	examples, err := filepath.Glob(filepath.Join(root, "examples", "*.musicxml"))
	require.NoError(t, err)
	require.NotEmpty(t, examples)
	for _, score := range musicxmltest.Sweep(examples[1:], examples) { // the first is opened by others, too
		readBackProof(t, b, score)
	}
}

// unlikeSound are files whose pages cannot say what they sound.
var unlikeSound = map[string]string{
	"01g-Pitches-AllArrowAccidentals.musicxml": "has accidentals without <alter>",
	"01h-Pitches-TurkishPersian.musicxml":      "has accidentals without <alter>",
	"12ac-Clefs-TAB-Switch.xml":                "has tablature, where places are strings",
}

// The kinds of the test suite: pitches, clefs, keys, chords, tuplets, grace notes,
// two voices, several staves, transposing instruments.
func testProofOfSuite(t *testing.T, b *browsertest.Browser) {
	few := []string{"testsuite/xmlFiles/12ad*", "testsuite/xmlFiles/23a*", "testsuite/xmlFiles/43a*", "testsuite/xmlFiles/72a*"}
	var all []string
	for _, kind := range []string{"01", "12", "13", "21", "23", "24", "42", "43", "72"} {
		all = append(all, "testsuite/xmlFiles/"+kind+"*")
	}
	for _, score := range musicxmltest.SharedSample(t, few, all) {
		if unlikeSound[filepath.Base(score)] == "" {
			readBackProof(t, b, score)
		}
	}
}

// A spread of real movements; the largest one whole.
func testProofOfMovements(t *testing.T, b *browsertest.Browser) {
	shared := musicxmltest.SharedDir(t)
	notes := 0
	rows := []struct{ score, only string }{
		{"concert/Haydn_104_1.concert.mxl", "*clarinet*"},
		{"songs/3_Heidenr_slein__D.257.mxl", "*"},
		{"quartets/sq7093885.mxl", "*"},
		{"leadsheets/Over_There.mxl", "*"},
		{"concert/Brahms_Op.90_3.concert.mxl", "*"},
		{"written/Schubert_D.485_1.mxl", "*horn*"},
		{"songs/1_Fr_hlingsblumen.mxl", "*"},
	}
	for _, row := range rows[:musicxmltest.Sweep(2, len(rows))] {
		notes += readBackProof(t, b, filepath.Join(shared, "scores", filepath.FromSlash(row.score)), "--only", row.only)
	}
	t.Logf("%d notes read back", notes)
	assert.Greater(t, notes, musicxmltest.Sweep(700, 8000), "the movements have more notes than that")
}

// readBackProof opens the proof of a score, has all parts drawn, reads them back
// into pitches and compares what they sound with the score, bar by bar.
func readBackProof(t *testing.T, b *browsertest.Browser, score string, flags ...string) (notes int) {
	t.Helper()
	t.Run(filepath.Base(score), func(t *testing.T) {
		page := b.Open(t, written(t, append([]string{"proof", score}, flags...)...))
		page.Accessible()
		parts := extracted(t, score, flags...)
		require.NotEmpty(t, parts)
		source := soundsOf(t, score)
		for i, part := range parts {
			id := fmt.Sprintf("p%d", i+1)
			compareOpening(t, page, id, part, source[part.id])
			notes += compareWhole(t, page, id, part, source[part.id])
		}
		page.Accessible()
	})
	return notes
}

// compareOpening reads the opening: where two staves stand one above the other,
// the upper one is at sounding pitch.
func compareOpening(t *testing.T, page *browsertest.Page, id string, part playersPart, want sounds) {
	t.Helper()
	svg := page.Music("#" + id + " > .scroll > svg.music")
	lines, err := svgread.Read(svg)
	require.NoError(t, err, part.label)
	require.Len(t, lines, 1, part.label)
	staves := lines[0].Staves
	written := part.sounds()
	for _, staff := range staves {
		require.NotEmpty(t, staff.Bars, part.label)
	}
	if len(staves) == part.staves {
		compareBars(t, part.label+", opening", &part, heard(staves, part.transpose), written, want)
		return
	}
	require.Len(t, staves, 2*part.staves, part.label)
	compareBars(t, part.label+", opening, sounding", &part, heard(staves[:part.staves], nil), written, want)
	compareBars(t, part.label+", opening, written", &part, heard(staves[part.staves:], part.transpose), written, want)
}

// compareWhole unfolds the whole part, reads it, and counts its notes.
func compareWhole(t *testing.T, page *browsertest.Page, id string, part playersPart, want sounds) (notes int) {
	t.Helper()
	page.Text(fmt.Sprintf(`document.querySelector("#%s-whole summary").click(); ""`, id))
	page.Await(fmt.Sprintf(`document.querySelector("#%s-whole .drawn svg.music") !== null`, id))
	lines, err := svgread.Read(page.Music("#" + id + "-whole .drawn svg.music"))
	require.NoError(t, err, part.label)
	bar := 0
	got := sounds{}
	for _, line := range lines {
		require.Len(t, line.Staves, part.staves, part.label)
		for _, staff := range line.Staves {
			assert.NotEmpty(t, staff.Text, "%s: a staff without a text alternative", part.label)
		}
		for _, drawn := range line.Staves[0].Bars {
			assert.Greater(t, drawn.Number, bar, "%s: bars in order", part.label)
			bar = drawn.Number
		}
		got.add(heard(line.Staves, part.transpose))
	}
	assert.LessOrEqual(t, bar, part.bars, part.label)
	for n := range part.sounds() {
		assert.Contains(t, got, n, "%s: a bar with notes is not drawn", part.label)
	}
	compareBars(t, part.label, &part, got, got, want)
	for _, bar := range got {
		notes += len(bar)
	}
	return notes
}

// A reader's ways through a proof, by mouse and by keys.
func testProofInUse(t *testing.T, b *browsertest.Browser) {
	score := filepath.Join(musicxmltest.SharedDir(t), "scores", "concert", "Brahms_Op.68_1.concert.mxl")
	page := b.Open(t, written(t, "proof", score, "--only", "*Horn*"), browsertest.Size(1000, 900))
	const drawn = `document.querySelectorAll(".whole .drawn svg.music").length`
	assert.Zero(t, page.Number(drawn), "nothing is drawn before it is asked for")

	// A warning leads to its bar: the part unfolds, the bar is framed, in sight, and
	// has the focus, so that a screen reader goes on from there.
	link := page.Text(`document.querySelector('#p2 a[href="#p2-b497"]').getAttribute("href")`)
	require.Equal(t, "#p2-b497", link)
	page.Click(`#p2 a[href="#p2-b497"]`)
	page.Await(`document.querySelector("#p2-whole .found") !== null`)
	assert.Equal(t, "497", page.Text(`document.querySelector(".found").closest("[data-bar]").dataset.bar`))
	assert.Equal(t, "true", page.Text(`String(document.activeElement === document.querySelector(".found").closest("svg"))`))
	page.Await(`(() => { const box = document.querySelector(".found").getBoundingClientRect(); return box.top >= 0 && box.bottom <= innerHeight; })()`)
	assert.Contains(t, page.Text(`document.getElementById("status").textContent`), "Bar 497 of")
	assert.Positive(t, page.Number(`document.querySelectorAll("#p2-whole .spot").length`), "bars with a warning are marked")

	// By keys: unfold, go to a bar, which may lie in a multi-bar rest.
	page.Text(`document.querySelector("#p1-whole summary").focus(); ""`)
	page.Press(kb.Enter)
	page.Await(`document.querySelector("#p1-whole .drawn svg.music") !== null`)
	page.Press(kb.Tab)
	page.Press("100" + kb.Enter)
	page.Await(`document.querySelector("#p1-whole .found") !== null`)
	assert.Equal(t, "#p1-whole", page.Text(`"#" + document.querySelector(".found").closest(".whole").id`))
	assert.Equal(t, 1, page.Number(`document.querySelectorAll(".found").length`), "the frame before has gone")
	page.Text(`document.querySelector("#p1-whole input").value = ""; document.querySelector("#p1-whole input").focus(); ""`)
	page.Press("9999" + kb.Enter)
	page.Await(`document.getElementById("status").textContent === "There is no bar 9999"`)

	// Ticking a part off at either place ticks it off at both.
	page.Click(`#p2 [data-tick]`)
	page.Await(`document.querySelector('nav [data-tick="2"]').checked`)
	assert.True(t, strings.HasPrefix(page.Text(`document.getElementById("ticked").textContent`), "1 of 4"))

	page.Click(`[data-draw="all"]`)
	page.Await(`document.getElementById("status").textContent === "All parts are drawn"`)
	page.Accessible()
	page.Click(`[data-draw="none"]`)
	assert.Zero(t, page.Number(`document.querySelectorAll(".whole[open]").length`))
}

// Light, dark, tinted, narrow, printed.
func testProofEverywhere(t *testing.T, b *browsertest.Browser) {
	file := written(t, "proof", filepath.Join(musicxmltest.ProjectRoot(t), "examples", "lanterns-on-the-quay.musicxml"))
	everywhere(t, b, file, "proof", func(page *browsertest.Page) {
		page.Click(`[data-draw="all"]`)
		page.Await(`document.getElementById("status").textContent === "All parts are drawn"`)
	})
}

// everywhere has a page look as different readers have it, and prints it.
func everywhere(t *testing.T, b *browsertest.Browser, file, name string, prepare func(*browsertest.Page)) {
	t.Helper()
	page := b.Open(t, file, browsertest.Size(1000, 1300))
	assert.False(t, page.IsDark())
	page.Accessible()
	prepare(page)
	page.Legible()
	page.Shoot(name + "-light")
	page.Do(browsertest.Prefer("dark"))
	assert.True(t, page.IsDark())
	page.Legible()
	page.Shoot(name + "-dark")
	page.Do(browsertest.Prefer("light"), browsertest.Size(360, 740))
	page.Narrow()
	page.Shoot(name + "-narrow")
	page.Do(browsertest.Size(1000, 1300))
	page.Click(".look summary")
	all := []string{"#tint-cream", "#tint-blue", "#tint-green", "#tint-none", "#light-dark", "#light-light", "#large-print", "#tint-cream"}
	for _, choice := range musicxmltest.Sweep(all[5:], all) {
		page.Click(choice)
		page.Legible()
	}
	page.Shoot(name + "-tint")
	for paper, size := range browsertest.Papers {
		if paper != musicxmltest.Sweep("A4", paper) {
			continue
		}
		pdf := page.Print(size)
		assert.True(t, strings.HasPrefix(string(pdf), "%PDF"), paper)
		page.ShootPaper(name+"-"+paper, size)
	}
}
