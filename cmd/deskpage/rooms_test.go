package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

// TestPage goes every road of the page in a real browser, one for all. The page may ask
// the network for nothing and complain of nothing.
func TestPage(t *testing.T) {
	browser := browsertest.Start(t)
	groups := []struct {
		name string
		test func(*testing.T, *browsertest.Browser)
	}{
		{"parts, from a server", testParts},
		{"files", testFiles},
		{"parts by keyboard", testKeyboard},
		{"rarer choices", testRare},
		{"a work", testWork},
		{"a school", testSchool},
		{"scripts in texts", testHostile},
		// By default not these.
		{"many files", testMany},
		{"crash", testCrash},
		{"everywhere", testEverywhere},
		{"a browser without locks", testWithoutLocks},
	}
	for _, group := range musicxmltest.Sweep(groups[:len(groups)-4], groups) {
		t.Run(group.name, func(t *testing.T) { group.test(t, browser) })
	}
}

// testFiles is one visit: good files, and bad ones after them.
func testFiles(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	testBytes(t, d)
	testBadFiles(t, d)
}

// testSchool is one visit of a teacher to all rooms. To open the page takes more than what is
// done in it.
func testSchool(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	testLanguages(t, d)
	testExplain(t, d)
	testSheet(t, d)
	testBand(t, d)
}

// unzipped are the files of an archive by their base names.
func unzipped(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	archive, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	files := map[string][]byte{}
	for _, entry := range archive.File {
		opened, err := entry.Open()
		require.NoError(t, err)
		files[path.Base(entry.Name)], err = io.ReadAll(opened)
		require.NoError(t, err)
	}
	return files
}

// TestPageIsSmall: what a school's connection has to carry.
func TestPageIsSmall(t *testing.T) {
	if testing.Short() {
		t.Skip("the page is built")
	}
	info, err := os.Stat(built(t))
	require.NoError(t, err)
	assert.Less(t, info.Size(), int64(8e6))
}

// testParts goes the road of the parts; the page works from a school's server as from the
// disk.
func testParts(t *testing.T, b *browsertest.Browser) {
	d := openAt(t, b, served(t))
	d.Accessible()
	d.Click("#try-example")
	d.next("parts")
	d.await(`document.querySelectorAll(".seats tbody tr").length === 17`) // examples/README.md
	d.Accessible()

	// A change is made, is said, and taken back.
	d.choose("#instrument-2", "clarinet-bflat")
	d.await(`document.querySelector("#label-2").value === "Clarinet in B♭"`)
	assert.Contains(t, d.Text(`document.querySelectorAll(".seats tbody tr")[2].innerText`), "as you chose")
	d.Click("#undo")
	d.await(`document.querySelector("#label-2").value === "Oboe"`)

	// A plan goes out and comes in.
	d.Click("#plan-out")
	name, plan := d.saved()
	assert.Equal(t, "lanterns-on-the-quay plan.csv", name)
	d.drop(map[string][]byte{"plan.csv": bytes.Replace(plan, []byte("Oboe,oboe,"), []byte("Oboe,violin,"), 1)})
	d.await(`document.querySelector("#label-2").value === "Violin"`)

	d.next("parts")
	d.await(`document.querySelector(".pages img")`)
	d.await(`document.querySelector("#parts-state-16").textContent`) // the others are drawn, too
	d.Accessible()
	d.do(`document.querySelectorAll("[name=parts-part]")[4].click()`)
	d.await(`document.querySelector(".pages img")?.alt.startsWith("Clarinet in B♭")`)
	d.Click("#parts-written")
	d.Click("#parts-silence")
	d.Click("#parts-print-this")
	d.await(`window.printed === 1`)
	assert.Equal(t, 1, d.Number(`document.querySelectorAll("#paper img").length`))
	d.Click("#parts-save-pdf")
	name, pdf := d.saved()
	assert.Equal(t, "05 Clarinet in B♭.pdf", name)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	d.next("parts")
	d.Accessible()
	d.Click("#parts-take-all")
	name, all := d.saved()
	assert.Equal(t, "lanterns-on-the-quay.zip", name)
	files := unzipped(t, all)
	assert.Len(t, files, 17+17+3) // parts, pages, the job, the plan and the manifest
	assert.Equal(t, "", d.messages())
}

// run runs the command in a folder; it may say that something needs a person.
func run(t *testing.T, in string, args ...string) {
	t.Helper()
	call := exec.Command(musicxmltest.Program(t), append(args, "--quiet")...)
	call.Dir = in
	if said, err := call.CombinedOutput(); err != nil {
		require.Equal(t, 1, err.(*exec.ExitError).ExitCode(), string(said))
	}
}

// testBytes holds what the page saves against what the command writes.
func testBytes(t *testing.T, d *desk) {
	scores := []string{example(t, "two-ferries.musicxml")}
	if os.Getenv("DESKPART_EVERY_SCORE") == "1" {
		for _, kind := range []string{"concert", "written", "quartets", "songs", "leadsheets"} {
			scores = append(scores, musicxmltest.SharedFiles(t, "scores/"+kind+"/*.mxl")[:2]...)
		}
	}
	for _, score := range scores {
		out := t.TempDir()
		run(t, out, "extract", score, "--out", out)
		run(t, out, "print", score, "--out", out)
		d.drop(map[string][]byte{filepath.Base(score): read(t, score)})
		d.await(`document.querySelector("#parts-next:not(:disabled)")`)
		d.Click("#parts-step-3")
		for _, take := range []struct{ button, endings string }{{"#parts-take-music", ".musicxml manifest.json"}, {"#parts-take-pdf", ".pdf"}} {
			d.Click(take.button)
			_, archive := d.saved()
			got := unzipped(t, archive)
			wanted := 0
			for file, data := range musicxmltest.Contents(t, out) {
				if base := filepath.Base(file); strings.HasSuffix(take.endings, base) || strings.HasPrefix(take.endings, filepath.Ext(base)) {
					wanted++
					assert.True(t, data == string(got[base]), file)
				}
			}
			assert.Len(t, got, wanted, score)
		}
		d.Click("#parts-step-0")
		d.Click("#close-0")
	}
}

// testKeyboard goes the road of the parts without a mouse.
func testKeyboard(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	tabTo := func(id string) {
		t.Helper()
		for range 120 {
			if d.Text(`document.activeElement.id`) == id {
				return
			}
			d.Press(kb.Tab)
		}
		require.Fail(t, "no tab leads to "+id)
	}
	tabTo("try-example")
	d.Press(kb.Enter)
	d.await(`document.querySelector("#parts-next:not(:disabled)")`)
	tabTo("parts-next")
	d.Press(kb.Enter)
	d.await(`document.activeElement.tagName === "H2"`) // one begins at the head of the next step
	tabTo("closer-0")
	d.Press(kb.Enter)
	d.await(`document.querySelector("#closer-told table")`)
	d.Press(kb.Escape)
	d.await(`!document.querySelector("#closer").open && document.activeElement.id === "closer-0"`)
	tabTo("label-0")
	d.Press("Pikk")
	tabTo("parts-next")
	d.Press(kb.Enter)
	d.await(`document.querySelector(".pages img")`)
	d.Press(kb.Tab)
	d.Press(kb.ArrowDown)
	d.await(`document.querySelector(".pages img")?.alt.startsWith("Flutes")`)
	tabTo("parts-next")
	d.Press(kb.Enter)
	tabTo("parts-take-job")
	d.Press(kb.Enter)
	name, _ := d.saved()
	assert.Equal(t, "lanterns-on-the-quay 00 print job.pdf", name)
	tabTo("to-lesson")
	d.Press(kb.Enter)
	tabTo("kind-explain")
	d.Press(kb.ArrowDown)
	d.await(`document.querySelector("#kind-sheet").checked`)
	tabTo("lesson-next")
	d.Press(kb.Enter)
	tabTo("lesson-next")
	d.Press(kb.Enter)
	d.await(`document.querySelector("#lesson-page")`)
	tabTo("lesson-save-all")
	d.Press(kb.Enter)
	name, _ = d.saved()
	assert.True(t, strings.HasPrefix(name, "sheet "), name)
	tabTo("to-band")
	d.Press(kb.Enter)
	tabTo("band-next")
	d.Press(kb.Enter)
	tabTo("band-add")
	d.Press(kb.Enter)
	tabTo("band-next")
	d.Press(kb.Enter)
	d.await(`document.querySelector("#room-band .seats")`)
}

func testBand(t *testing.T, d *desk) {
	d.Click("#to-band")
	d.drop(map[string][]byte{"two-ferries.musicxml": read(t, example(t, "two-ferries.musicxml"))})
	d.next("band")
	for _, player := range []string{"flute", "clarinet-bflat", "horn-f", "euphonium-bflat-treble"} { // no bassoon
		d.choose("#band-instrument", player)
		d.Click("#band-add")
	}
	d.Accessible()
	d.next("band")
	d.await(`document.querySelector("#room-band .seats")`)
	d.Accessible()
	assert.Contains(t, d.Text(`document.querySelector("#room-band table").innerText`), "Bassoon")
	d.await(`document.querySelectorAll("#room-band .seats tbody tr").length === 4`)
	d.next("band")
	d.await(`document.querySelector(".pages img")`)
	d.next("band")
	d.Click("#band-take-pdf")
	name, all := d.saved()
	assert.Equal(t, "two-ferries PDF.zip", name)
	files := unzipped(t, all)
	assert.Len(t, files, 4)
	assert.True(t, slices.ContainsFunc(keysOf(files), func(name string) bool { return strings.Contains(name, "Euphonium") }), keysOf(files))
}

func keysOf(files map[string][]byte) (names []string) {
	for name := range files {
		names = append(names, name)
	}
	return names
}

func testExplain(t *testing.T, d *desk) {
	d.Click("#to-lesson")
	d.Accessible()
	d.next("lesson")
	d.Accessible()
	d.choose("#notes", "D4 F#4 A4")
	d.next("lesson")
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector(".ways")`)
	// A horn in F reads a fifth above what sounds: A, C sharp, E (trade/transpositions).
	assert.Equal(t, "A4C♯5E5", d.Text(`[...document.querySelector("#lesson-page").contentDocument.querySelectorAll(".ways tbody tr")].map((r) => r.children[2].textContent).join("")`))
	d.do(`document.querySelector("#lesson-page").contentDocument.querySelector("[data-play=written]").click()`)
	d.do(`document.querySelector("#lesson-page").contentDocument.querySelector("[data-hear]").click()`)
	d.Accessible()
	d.Click("#lesson-save")
	name, page := d.saved()
	assert.Equal(t, "lesson.html", name)
	assert.Contains(t, string(page), "<script>")

	// A topic that is about no instrument is not asked for one, and is explained.
	d.Click("#lesson-step-1")
	d.choose("#source", "topic")
	d.choose("#topic", "clef")
	assert.Equal(t, "false", d.Text(`String(!!document.querySelector("#lesson-instrument"))`))
	d.next("lesson")
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector("h1")?.textContent.includes("clef")`)
}

// testSheet makes a sheet, hands in its own answers and questions, and has them marked.
func testSheet(t *testing.T, d *desk) {
	d.Click("#to-lesson")
	d.Click("#lesson-step-0")
	d.Click("#kind-sheet")
	d.next("lesson")
	d.Accessible()
	d.choose("#sheet-instrument", "horn-f")
	d.choose("#count", "2")
	d.next("lesson")
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector("h1")`)
	d.Click("#lesson-save-all")
	_, archive := d.saved()
	sheet := unzipped(t, archive)
	assert.ElementsMatch(t, []string{"exercise-01.musicxml", "exercise-02.musicxml", "answer-01.musicxml", "answer-02.musicxml",
		"exercises.html", "answers.html", "exercises.pdf", "answers.pdf"}, keysOf(sheet))
	d.Click("#lesson-step-0")
	d.Click("#kind-mark")
	d.next("lesson")
	d.Accessible()
	d.drop(map[string][]byte{"Ada 1.musicxml": sheet["answer-01.musicxml"], "Ada 2.musicxml": sheet["answer-02.musicxml"],
		"Ben 1.musicxml": sheet["exercise-01.musicxml"], "Cleo.pdf": []byte("%PDF-1.4")})
	d.next("lesson")
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector("table")`)
	class := d.Text(`document.querySelector("#lesson-page").contentDocument.body.innerText`)
	assert.Contains(t, class, "Ada")
	assert.Contains(t, class, "Ben")
	assert.Contains(t, d.messages(), "Cleo.pdf")
	d.do(`document.querySelector("#lesson-page").contentDocument.querySelector("a[href='Ben.html']").click()`)
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector("h1")?.textContent.includes("Ben")`)
	d.Click("#lesson-save-all")
	_, marks := d.saved()
	holdMarks(t, sheet, unzipped(t, marks))
	d.Click("#lesson-save-table")
	name, table := d.saved()
	assert.Equal(t, "class.csv", name)
	assert.Contains(t, string(table), "Ada")
}

// holdMarks holds the marked pages against those of the command.
func holdMarks(t *testing.T, sheet, got map[string][]byte) {
	t.Helper()
	dir := t.TempDir()
	write := func(name string, data []byte) {
		require.NoError(t, os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o777))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), data, 0o666))
	}
	for name, data := range sheet {
		write("sheet/"+name, data)
	}
	write("Ada 1.musicxml", sheet["answer-01.musicxml"])
	write("Ada 2.musicxml", sheet["answer-02.musicxml"])
	write("Ben 1.musicxml", sheet["exercise-01.musicxml"])
	write("Cleo.pdf", []byte("%PDF-1.4"))
	run(t, dir, "mark", "sheet", "Ada 1.musicxml", "Ada 2.musicxml", "Ben 1.musicxml", "Cleo.pdf", "--out", "pages", "--pdf")
	pages, err := os.ReadDir(filepath.Join(dir, "pages"))
	require.NoError(t, err)
	pages = slices.DeleteFunc(pages, func(e os.DirEntry) bool { return e.Name() == "deskpart-record.jsonl" })
	for _, page := range pages {
		assert.True(t, bytes.Equal(read(t, filepath.Join(dir, "pages", page.Name())), got[page.Name()]), page.Name())
	}
	assert.Len(t, got, len(pages)+1) // and the table
	assert.GreaterOrEqual(t, len(pages), 6)
}

// testWork makes one work of two scores: the command's files and books.
func testWork(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	dir := t.TempDir()
	scores := map[string][]byte{}
	for name, from := range map[string]string{"quay 2.musicxml": "two-ferries.musicxml", "quay 10.musicxml": "the-harbour-wall.musicxml"} {
		scores[name] = read(t, example(t, from))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), scores[name], 0o666))
	}
	run(t, dir, "extract", "--work", "quay 2.musicxml", "quay 10.musicxml", "--out", "parts")
	run(t, dir, "print", "--work", "quay 2.musicxml", "quay 10.musicxml", "--out", "prints")
	scores["notes.txt"] = []byte("no score") // what else lies in a folder is left alone
	d.give("#folder", scores)
	d.await(`document.querySelector("#work").hidden && document.querySelectorAll("[name=score]").length === 2`)
	d.do(`document.querySelector("#join-work").click()`)
	d.await(`document.querySelectorAll("[name=score]").length === 3`)
	d.next("parts")
	d.await(`document.querySelector(".seats li")`)
	d.Accessible()
	d.next("parts")
	d.await(`document.querySelector(".pages img")`)
	d.next("parts")
	holdWork(t, d, dir, "#parts-take-music", "parts", ".musicxml")
	holdWork(t, d, dir, "#parts-take-pdf", "prints", ".pdf")

	// Another order, a title, a movement less, and all of it taken back.
	movements := func() string {
		return d.Text(`[...document.querySelectorAll("[id^=movement-title-]")].map((e) => e.value || e.placeholder).join("|")`)
	}
	d.Click("#parts-step-0")
	before := movements()
	d.do(`document.querySelector("#movement-down-0").click()`)
	d.await(`!document.querySelector("#undo-work").disabled && document.querySelector("#parts-next:not(:disabled)")`)
	assert.NotEqual(t, before, movements())
	d.Accessible()
	d.narrow()
	run(t, dir, "extract", "--work", "quay 10.musicxml", "quay 2.musicxml", "--out", "turned")
	d.Click("#parts-step-3")
	holdWork(t, d, dir, "#parts-take-music", "turned", ".musicxml")
	d.Click("#parts-step-0")
	d.choose("#movement-title-1", "Nocturne")
	d.await(`document.querySelector("#movement-title-1")?.value === "Nocturne"`)
	d.choose("#work-title", "Quay Suite")
	d.await(`[...document.querySelectorAll("[name=score]")].at(-1).labels[0].innerText.includes("Quay Suite")`)
	d.do(`document.querySelector("#movement-away-0").click()`)
	d.await(`document.querySelectorAll("[id^=movement-title-]").length === 1 && document.querySelector("#movement-add")`)
	d.do(`document.querySelector("#movement-add").click()`)
	d.await(`document.querySelectorAll("[id^=movement-title-]").length === 2`)
	for range 5 {
		d.await(`document.querySelector("#parts-next:not(:disabled)")`)
		d.do(`document.querySelector("#undo-work").click()`)
		d.await(`document.querySelector("#work").hidden`)
	}
	d.await(`document.querySelector("#undo-work").disabled && [...document.querySelectorAll("[id^=movement-title-]")].map((e) => e.value || e.placeholder).join("|") === ` + strconv.Quote(before))
	assert.Equal(t, "", d.messages())
	d.Click("#close-0") // the work goes on without it
	d.await(`document.querySelectorAll("[id^=movement-title-]").length === 1`)
}

// holdWork holds what the page makes of a work against what the command wrote below a
// folder.
func holdWork(t *testing.T, d *desk, dir, button, folder, ending string) {
	t.Helper()
	d.Click(button)
	_, archive := d.saved()
	got := unzipped(t, archive)
	wanted, err := filepath.Glob(filepath.Join(dir, folder, "*", "*"+ending))
	require.NoError(t, err)
	require.NotEmpty(t, wanted)
	if ending == ".musicxml" {
		manifest, err := filepath.Glob(filepath.Join(dir, folder, "*", "manifest.json"))
		require.NoError(t, err)
		require.Len(t, manifest, 1)
		wanted = append(wanted, manifest...)
	}
	for _, file := range wanted {
		assert.True(t, bytes.Equal(read(t, file), got[filepath.Base(file)]), filepath.Base(file))
	}
	assert.Len(t, keysOf(got), len(wanted))
}

// testRare goes through what stands in the closed sections.
func testRare(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	d.drop(map[string][]byte{"two-ferries.musicxml": read(t, example(t, "two-ferries.musicxml"))})
	d.next("parts")
	d.await(`document.querySelector(".seats")`)
	seats := func() int { return d.Number(`document.querySelectorAll(".seats tbody tr").length`) }
	all := seats()
	d.Click("#more-desks summary")
	d.Accessible()
	d.narrow()

	// One player takes two parts, and gives one back.
	d.do(`const last = document.querySelectorAll("#join-0 option").length - 2; for (const [id, v] of [["join-0", "0"], ["join-1", String(last)]]) document.getElementById(id).value = v; document.querySelector("#join-add").click()`)
	d.await(`document.querySelector(".seats").innerText.includes("with ") || document.querySelector("#messages li")`)
	d.Click("#undo")
	d.await(fmt.Sprintf(`document.querySelectorAll(".seats tbody tr").length === %d`, all))
	d.do(`document.querySelectorAll(".away").forEach((e) => e.click())`)

	// Two parts on one staff, and apart again.
	d.do(`for (const [id, v] of [["share-0", "0"], ["share-1", "1"]]) document.getElementById(id).value = v; document.querySelector("#share-add").click()`)
	d.await(fmt.Sprintf(`document.querySelectorAll(".seats tbody tr").length === %d || document.querySelector("#messages li")`, all-1))
	d.Click("#undo")
	d.await(fmt.Sprintf(`document.querySelectorAll(".seats tbody tr").length === %d`, all))
	d.do(`document.querySelectorAll(".away").forEach((e) => e.click())`)

	// A set for two readers: every part twice.
	d.Click("#edition-0")
	d.await(`document.querySelector("#label-0").disabled`)
	d.Click("#edition-5")
	d.await(fmt.Sprintf(`document.querySelectorAll(".seats tbody tr").length === %d`, 2*all))
	for range 2 {
		d.await(`!document.querySelector("#undo").disabled`)
		d.do(`document.querySelector("#undo").click()`)
		d.await(fmt.Sprintf(`document.querySelectorAll(".seats tbody tr").length === %d`, all))
	}
	d.await(`!document.querySelector("#label-0").disabled`)

	// A closer look at the first part, which goes to another instrument.
	d.Click("#closer-0")
	d.await(`document.querySelector("#closer-told table")`)
	d.Accessible()
	d.Shoot("closer")
	taker := d.Text(`document.querySelector("#closer [id^=give-]").closest("tr").firstChild.textContent`)
	d.Click("#closer [id^=give-]")
	d.await(fmt.Sprintf(`document.querySelector("#instrument-0").selectedOptions[0].textContent === %q`, taker))
	d.Click("#undo")
	d.await(`document.querySelector("#instrument-0").selectedOptions[0].textContent === "Flute"`)

	// The page to look over is the command's.
	d.Click("#parts-step-3")
	d.Click("#parts-take-proof")
	name, page := d.saved()
	assert.Equal(t, "two-ferries proof.html", name)
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "two-ferries.musicxml"), read(t, example(t, "two-ferries.musicxml")), 0o666))
	run(t, dir, "proof", "two-ferries.musicxml", "--out", "proof.html")
	assert.True(t, bytes.Equal(read(t, filepath.Join(dir, "proof.html")), page))

	// Parts that are there already are held against the score.
	run(t, dir, "extract", "two-ferries.musicxml", "--out", "parts")
	d.Click("#parts-more-take summary")
	d.give("#part-files", map[string][]byte{"flute.musicxml": read(t, filepath.Join(dir, "parts", "two-ferries", "01 Flute.musicxml")), "other.musicxml": []byte("no score")})
	d.await(`document.querySelector("#collate-table")`)
	d.Accessible()
	assert.Contains(t, d.Text(`document.querySelector("#parts-more-take").innerText`), "agrees")
	d.Click("#collate-table")
	_, table := d.saved()
	assert.Contains(t, string(table), "other.musicxml")

	// Exercises of a passage are the command's.
	d.Click("#to-lesson")
	d.Click("#kind-sheet")
	d.next("lesson")
	d.choose("#sheet-source", "score")
	d.choose("#sheet-instrument", "horn-f")
	d.choose("#measures", "1-4")
	d.Accessible()
	d.next("lesson")
	d.await(`document.querySelector("#lesson-save-all")`)
	d.Click("#lesson-save-all")
	_, archive := d.saved()
	run(t, dir, "exercise", "--from-score", "two-ferries.musicxml", "--part", "P1", "--measures", "1-4", "--instrument", "horn-f", "--level", "1", "--out", "sheet", "--pdf")
	for name, data := range unzipped(t, archive) {
		assert.True(t, bytes.Equal(read(t, filepath.Join(dir, "sheet", name)), data), name)
	}
}

// testBadFiles: each file that is refused has its line, and the good one opens.
func testBadFiles(t *testing.T, d *desk) {
	good := read(t, example(t, "two-ferries.musicxml"))
	var bomb bytes.Buffer
	w := zip.NewWriter(&bomb)
	entry, err := w.Create("bomb.musicxml")
	require.NoError(t, err)
	_, err = entry.Write(make([]byte, 50<<20))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	d.do(`const t = new DataTransfer(); t.items.add(new File([new Uint8Array(200e6)], "giant.musicxml"));
		document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: t, bubbles: true, cancelable: true }))`)
	d.await(`document.querySelector("#messages").innerText.includes("giant.musicxml: 200 MB")`)
	d.drop(map[string][]byte{"cut.musicxml": good[:len(good)/2], "good.musicxml": good, "bomb.zip": bomb.Bytes(), "letter.docx": []byte("PK\x03\x04x"),
		"empty.musicxml": {}, "scan.pdf": []byte("%PDF-1.7 x"), "photo.xml": []byte("\xff\xd8\xff\xe0"), "song.mid": []byte("MThd\x00\x00\x00\x06")})
	d.await(`document.querySelector("#parts-next:not(:disabled)")`)
	d.await(`document.querySelectorAll("#messages li").length === 7`)
	lines := d.messages()
	for _, said := range []string{"cut.musicxml: ", "bomb.musicxml: ", "letter.docx: ", "empty.musicxml: the file is empty; ", "scan.pdf: the file is a PDF, which shows the notes but does not hold them; export ",
		"photo.xml: the file is a picture; ", "song.mid: the file is a MIDI file, "} {
		assert.Contains(t, lines, said)
	}
	assert.Equal(t, 1, d.Number(`document.querySelectorAll("[name=score]").length`))
}

// testMany: whoever stops in the middle of many files keeps what is open, a file that is
// open is not opened twice, and a name may have any letters.
func testMany(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	good := read(t, example(t, "two-ferries.musicxml"))
	const odd = `Übung 🎺 a\b: "c".musicxml`
	count := func() int { return d.Number(`document.querySelectorAll("[name=score]").length`) }
	for range 2 {
		d.drop(map[string][]byte{odd: good})
		d.await(`document.querySelector("#work").hidden && document.querySelector("#parts-next:not(:disabled)")`)
		assert.Equal(t, 1, count())
	}
	assert.Contains(t, d.Text(`document.querySelector("#status").textContent`), "open already")
	d.Click("#parts-step-3")
	d.Click("#parts-take-music")
	name, _ := d.saved()
	assert.Equal(t, "Übung 🎺 a b c MusicXML.zip", name)
	d.Click("#parts-step-0")

	many := map[string][]byte{}
	for i := range 300 {
		many[fmt.Sprintf("piece %03d.musicxml", i)] = append(slices.Clone(good), fmt.Sprintf("<!-- %d -->", i)...)
	}
	d.do(`const wait = setInterval(() => { if (Number(/\((\d+) of 300\)/.exec(document.querySelector("#status").textContent)?.[1]) > 8) { clearInterval(wait); document.querySelector("#stop").click(); } }, 1)`)
	d.drop(many)
	d.await(`document.querySelector("#status").textContent.startsWith("Stopped: ")`)
	d.await(`document.querySelector("#parts-next:not(:disabled)")`)
	assert.Less(t, 1, count())
	assert.Less(t, count(), 301)
	assert.Equal(t, "", d.messages())
}

// withoutLocks takes the locks away that tell when a worker has ended, also within the
// worker, and leaves it to the test when the page asks whether it is there: beat asks.
const withoutLocks = `
Object.defineProperty(navigator, "locks", { value: undefined });
const Plain = Worker;
window.Worker = class extends Plain { constructor(url) { super(create(new Blob(["Object.defineProperty(navigator, 'locks', { value: undefined });\n", blobs.get(url)]))); } };
const every = setInterval;
window.setInterval = (f, ms) => { if (ms === 3000) window.beat = f; else every(f, ms); };
`

// testWithoutLocks: in a browser that has no locks a worker that was ended is missed, too;
// one that answers is not.
func testWithoutLocks(t *testing.T, b *browsertest.Browser) {
	d := open(t, b, browsertest.First(withoutLocks))
	d.Click("#try-example")
	d.next("parts")
	d.await(`document.querySelector(".seats")`)
	for range 5 {
		d.do(`const answer = new Promise((done) => workers.at(-1).addEventListener("message", done, { once: true })); beat(); await answer`)
	}
	assert.Equal(t, 1, d.Number(`workers.length`))
	d.do(`workers.at(-1).terminate()`) // idle
	d.await(`beat(), document.querySelector("#messages").innerText.includes("in the background")`)
	d.await(`workers.length === 2`)
	d.Click("#parts-step-3")
	d.do(`document.querySelector("#parts-take-all").click();
		const wait = every(() => { if (document.querySelector("#bar").value > 0.1) { clearInterval(wait); workers.at(-1).terminate(); } }, 1)`) // at work
	d.await(`document.querySelector("#bar").value > 0.1`)
	d.await(`beat(), document.querySelector("#messages").innerText.includes("silent for half a minute")`)
	d.do(`document.querySelector(".go-on").click()`)
	d.await(`document.querySelector("#messages").innerText.includes("had to be started again")`)
	d.do(`document.querySelector(".go-on").click()`)
	name, _ := d.saved()
	assert.Equal(t, "lanterns-on-the-quay.zip", name)
}

// testCrash: a program that comes to an end is started again, with the scores there were.
func testCrash(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	d.Click("#try-example")
	d.next("parts")
	d.do(`workers.at(-1).postMessage({ call: "open", files: [[1, 2]] })`) // no file: the program fails
	d.await(`document.querySelector("#messages").innerText.includes("started again")`)
	d.choose("#instrument-2", "clarinet-bflat")
	d.await(`document.querySelector("#label-2").value === "Clarinet in B♭"`)
	assert.Equal(t, 2, d.Number(`workers.length`))
	// A worker that somebody has ended says nothing, and is missed.
	d.next("parts")
	d.await(`document.querySelector("#parts-state-16")?.textContent`)
	d.do(`workers.at(-1).terminate()`)
	d.await(`document.querySelector("#messages").innerText.includes("in the background")`)
	d.await(`workers.length === 3`)
	d.Accessible()
	// One that is ended at work is one click away from going on.
	d.next("parts")
	d.do(`const first = workers.length; document.querySelector("#parts-take-all").click();
		const wait = setInterval(() => { if (document.querySelector("#bar").value > 0.1) { clearInterval(wait); workers.at(-1).terminate(); } }, 1)`)
	d.await(`document.querySelector(".go-on")`)
	// Not by the mouse: the page may still be moving. On a busy machine the lock may tell of the
	// end later than the silence does, and then there are two clicks.
	d.do(`window.going = setInterval(() => document.querySelector(".go-on")?.click(), 500)`)
	_, _ = d.saved()
	d.do(`clearInterval(window.going)`)
	// Stopping in the middle of something begins anew.
	d.do(`document.querySelector("#parts-take-pdf").click()`)
	d.await(`document.querySelector("#bar").value > 0`)
	d.Click("#stop")
	d.await(`document.querySelector("#work").hidden`)
	d.Click("#parts-take-music")
	name, _ := d.saved()
	assert.Equal(t, "lanterns-on-the-quay MusicXML.zip", name)
}

// testHostile: nothing that a score says is run, and nothing in it is taken for the page.
func testHostile(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	const script = `&lt;img src=x onerror="window.hit=1"&gt;&lt;script&gt;window.hit=1&lt;/script&gt;`
	text := string(read(t, example(t, "two-ferries.musicxml")))
	text = strings.ReplaceAll(text, "<part-name>", "<part-name>"+script)
	text = strings.ReplaceAll(text, "<work-title>", "<work-title>"+script)
	d.drop(map[string][]byte{`<img src=x onerror=window.hit=1>.musicxml`: []byte(text)})
	d.next("parts")
	d.await(`document.querySelector(".seats")`)
	d.next("parts")
	d.await(`document.querySelector(".pages img, .pages p:not(.soft)")`)
	d.next("parts")
	d.Click("#to-lesson")
	d.next("lesson")
	d.choose("#source", "score")
	d.next("lesson")
	d.await(`document.querySelector("#work").hidden`)
	assert.Equal(t, "undefined", d.Text(`typeof window.hit`))
}

// testLanguages: the page speaks all five languages, and no text is missing.
func testLanguages(t *testing.T, d *desk) {
	all := pitch.Languages()
	for _, l := range append(slices.Clone(all[1:]), all[0]) { // the first, English, last: the visit goes on in it
		d.choose("#language", string(l))
		said := textstest.In(t, l)
		head := said.Raw("page.")["page.head-parts"]
		encoded, err := json.Marshal(head)
		require.NoError(t, err)
		d.await(`document.querySelector("h1").textContent === ` + string(encoded))
		assert.Equal(t, string(l), d.Text(`document.documentElement.lang`))
		assert.NotContains(t, d.Text(`document.body.innerText`), "[page.")
		d.Accessible()
		d.narrow()
	}
}

// look is a light, and a window: a telephone's, a tablet's or a projector's.
type look struct {
	light, window string
	width         int64
}

// looks are all there are, the telephone's last.
func looks() (all []look) {
	for _, light := range []string{"light", "dark"} {
		all = append(all, look{light, "projector", 1920}, look{light, "tablet", 820}, look{light, "phone", 360})
	}
	return all
}

// testEverywhere goes through all rooms on the smallest window, on which one has to scroll
// for most things, and looks at each in every light and window.
func testEverywhere(t *testing.T, b *browsertest.Browser) {
	d := open(t, b)
	// as has the page look so and holds what is shown against each look.
	as := func(name string, more ...func()) {
		t.Helper()
		for _, l := range looks() {
			d.Do(browsertest.Size(l.width, max(800, l.width*9/16)))
			d.do(fmt.Sprintf(`const e = document.querySelector("#light"); e.value = %q; e.dispatchEvent(new Event("change"))`, l.light))
			d.narrow()
			d.Legible()
			for _, also := range more {
				also()
			}
			d.Shoot(strings.Join([]string{name, l.light, l.window}, "-"))
		}
	}
	as("parts-0")
	d.Click("#try-example")
	d.next("parts")
	d.await(`document.querySelector(".seats")`)
	as("parts-1")
	d.do(`document.querySelector("#more-desks").open = true; document.querySelector("#closer-0").click()`)
	d.await(`document.querySelector("#closer-told table")`)
	as("parts-1-closer")
	d.do(`document.querySelector("#closer-close").click(); document.querySelector("#more-desks").scrollIntoView()`)
	as("parts-1-more")
	d.next("parts")
	d.await(`document.querySelector(".pages img")?.complete`)
	as("parts-2", func() { inked(t, d) })
	d.next("parts")
	as("parts-3")
	d.Click("#to-band")
	d.next("band")
	d.Click("#band-add")
	as("band-1")
	d.next("band")
	d.await(`document.querySelector("#room-band .seats")`)
	as("band-2")
	d.Click("#to-lesson")
	as("lesson-0")
	d.next("lesson")
	as("lesson-1")
	d.next("lesson")
	d.await(`document.querySelector("#lesson-page")?.contentDocument?.querySelector(".ways")`)
	as("lesson-2")
}

// inked asserts that the page of music which the window shows is dark on white.
func inked(t *testing.T, d *desk) {
	t.Helper()
	d.do(`await document.querySelector(".pages img").decode(); document.querySelector(".pages").scrollIntoView({ block: "start" })`)
	var box [4]int
	require.NoError(t, json.Unmarshal([]byte(d.Text(`(() => { const r = document.querySelector(".pages img").getBoundingClientRect(); return JSON.stringify([r.left, r.top, r.right, Math.min(r.bottom, innerHeight)].map(Math.round)); })()`)), &box))
	shown := d.Picture()
	dark, white := 0, 0
	for y := box[1] + 2; y < box[3]-2; y++ {
		for x := box[0] + 2; x < box[2]-2; x++ {
			r, g, b, _ := shown.At(x, y).RGBA()
			switch sum := r + g + b; {
			case sum < 3*0x6000:
				dark++
			case sum > 3*0xf000:
				white++
			}
		}
	}
	assert.Greater(t, dark, 200, "nothing is drawn in %v", box)
	assert.Greater(t, white, dark, "the paper is not white")
}
