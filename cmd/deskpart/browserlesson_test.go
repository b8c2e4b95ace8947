package main

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/browsertest"
	"deskpart/cmd/internal/exercise"
	"deskpart/musicxml/engraving/svgread"
	"deskpart/musicxml/musicxmltest"
)

// A lesson draws the given notes over the answer, and plays both.
func testLessonPage(t *testing.T, b *browsertest.Browser) {
	rows := []struct {
		instrument, from, notes, key string
	}{
		{"horn in F", "sounding", "D4 F#4 C5", "D"},
		{"alto saxophone", "written", "A4 B4 C#5 G5", "A"},
		{"clarinet in A", "sounding", "Eb4 Gb4 B4 F#5", "Eb minor"},
		{"double bass", "sounding", "E1 A1 D2", "0"},
	}
	for _, row := range musicxmltest.Sweep(rows[:2], rows) {
		t.Run(row.instrument, func(t *testing.T) {
			args := []string{"explain", row.instrument, "--from", row.from, "--notes", row.notes, "--key", row.key}
			page := b.Open(t, written(t, args...))
			page.Accessible()
			upper, lower := twoStaves(t, page.Music(".wide svg.music"))
			stdout, _, _ := command(t, append(args, "--json")...)
			var said struct{ Notes, Answer []string }
			require.NoError(t, json.Unmarshal([]byte(stdout), &said))
			assert.Equal(t, said.Notes, upper)
			assert.Equal(t, said.Answer, lower)
			listen(t, page)
		})
	}
	file := written(t, "explain", "horn in F", "--notes", "D4 F#4 C5", "--key", "D")
	everywhere(t, b, file, "lesson", func(*browsertest.Page) {})
}

// twoStaves reads pairs of staves into the names of their notes.
func twoStaves(t *testing.T, svg string) (upper, lower []string) {
	t.Helper()
	lines, err := svgread.Read(svg)
	require.NoError(t, err)
	for _, line := range lines {
		require.Len(t, line.Staves, 2)
		for _, bar := range line.Staves[0].Bars {
			for _, n := range bar.Notes {
				upper = append(upper, n.String())
			}
		}
		for _, bar := range line.Staves[1].Bars {
			for _, n := range bar.Notes {
				lower = append(lower, n.String())
			}
		}
	}
	return upper, lower
}

// listen presses every button, by mouse and by key.
func listen(t *testing.T, page *browsertest.Page) {
	t.Helper()
	buttons := page.Number(`document.querySelectorAll("button").length`)
	require.GreaterOrEqual(t, buttons, 4)
	for i := range buttons {
		page.Text(fmt.Sprintf(`document.querySelectorAll("button")[%d].focus(); ""`, i))
		page.Press(kb.Enter)
	}
	page.Click(`[data-play="sounding"]`)
	page.Await(`document.getElementById("playing").textContent !== ""`)
	page.Click(`[data-stop]`)
	page.Await(`document.getElementById("playing").textContent === ""`)
}

// Sheets of exercises: the melodies over empty staves, and over their answers.
func testExercisePages(t *testing.T, b *browsertest.Browser) {
	rows := []struct {
		name  string
		flags []string
	}{
		{"level 1", []string{"--level", "1"}},
		{"level 2, for one instrument", []string{"--level", "2", "--instrument", "horn in F"}},
		{"level 3, both ways", []string{"--level", "3", "--from", "both"}},
		{"level 4, without signature", []string{"--level", "4", "--without-signature"}},
		{"level 5, large print", []string{"--level", "5", "--large-print"}},
		{"level 2, without clefs", []string{"--level", "2", "--without-clefs"}},
		{"another clef", []string{"--topic", "clef", "--level", "4"}},
		{"by an interval", []string{"--topic", "interval", "--level", "2", "--language", "de"}},
		{"at sight", []string{"--topic", "sight", "--level", "3", "--language", "fr"}},
	}
	for i, row := range rows {
		if i%4 > musicxmltest.Sweep(0, 3) {
			continue // every fourth one by default
		}
		t.Run(row.name, func(t *testing.T) {
			dir := t.TempDir()
			_, errs, code := command(t, append([]string{"exercise", "--count", "4", "--seed", "11", "--out", dir, "--quiet"}, row.flags...)...)
			require.Equal(t, exitDone, code, errs)
			compareSheet(t, b, dir, "exercises.html", func(t *testing.T, n int, lower []svgread.Staff) {
				for _, staff := range lower {
					assert.NotEmpty(t, staff.Bars, "exercise %d", n)
					assert.Equal(t, 5, staff.Lines, "exercise %d", n)
				}
				assert.Empty(t, heard(lower, nil), "exercise %d: the staff to write on is empty", n)
			})
			compareSheet(t, b, dir, "answers.html", func(t *testing.T, n int, lower []svgread.Staff) {
				want := partOfFile(t, filepath.Join(dir, fmt.Sprintf("answer-%02d.musicxml", n)))
				assert.Equal(t, want.written(), heard(lower, nil), "answer %d", n)
			})
		})
	}
	dir := t.TempDir()
	_, errs, code := command(t, "exercise", "--level", "3", "--count", "4", "--out", dir, "--quiet")
	require.Equal(t, exitDone, code, errs)
	everywhere(t, b, filepath.Join(dir, "exercises.html"), "exercises", func(*browsertest.Page) {})
	everywhere(t, b, filepath.Join(dir, "answers.html"), "answers", func(*browsertest.Page) {})
}

// testTopicPages: the sheets of the topics for a band and a score, on every screen and
// paper; by default of the topic with the widest page.
func testTopicPages(t *testing.T, b *browsertest.Browser) {
	for _, row := range musicxmltest.Sweep([]string{"score-reading fr"}, []string{"score-reading fr", "signature it", "concert-scale de", "band-key es"}) {
		topic, language, _ := strings.Cut(row, " ")
		t.Run(topic, func(t *testing.T) {
			dir := t.TempDir()
			_, errs, code := command(t, "exercise", "--topic", topic, "--level", "3", "--count", "2", "--language", language, "--out", dir, "--quiet")
			require.Equal(t, exitDone, code, errs)
			everywhere(t, b, filepath.Join(dir, "exercises.html"), topic+"-exercises", func(*browsertest.Page) {})
			everywhere(t, b, filepath.Join(dir, "answers.html"), topic+"-answers", func(*browsertest.Page) {})
		})
	}
}

// testLecturePages: the lectures on the topics, each in one language, on a telephone and in
// large print.
func testLecturePages(t *testing.T, b *browsertest.Browser) {
	languages := []string{"de", "fr", "it", "es", "en"}
	for i, topic := range exercise.Topics() {
		if i%4 > musicxmltest.Sweep(0, 3) {
			continue // every fourth one by default
		}
		t.Run(string(topic), func(t *testing.T) {
			file := written(t, "explain", "--topic", string(topic), "--language", languages[i%len(languages)])
			page := b.Open(t, file, browsertest.Size(360, 740))
			page.Accessible()
			page.Narrow()
			page.Legible()
			page.Shoot("lecture-" + string(topic))
			page.Click(".look summary")
			page.Click("#large-print")
			page.Narrow()
			page.Legible()
		})
	}
}

// compareSheet reads each exercise of a page: the upper staff is the melody that
// is given, the lower one is for check to look at, as bars of one line.
func compareSheet(t *testing.T, b *browsertest.Browser, dir, name string, check func(t *testing.T, n int, lower []svgread.Staff)) {
	t.Helper()
	page := b.Open(t, filepath.Join(dir, name))
	page.Accessible()
	exercises := page.Number(`document.querySelectorAll(".exercise").length`)
	require.Equal(t, 4, exercises)
	for n := 1; n <= exercises; n++ {
		given := partOfFile(t, filepath.Join(dir, fmt.Sprintf("exercise-%02d.musicxml", n)))
		lines, err := svgread.Read(page.Music(fmt.Sprintf(".exercise:nth-of-type(%d) .wide svg.music", n)))
		require.NoError(t, err)
		var upper, lower []svgread.Staff
		for _, line := range lines {
			require.Zero(t, len(line.Staves)%2)
			half := len(line.Staves) / 2
			upper = append(upper, line.Staves[:half]...)
			lower = append(lower, line.Staves[half:]...)
		}
		assert.Equal(t, given.written(), heard(upper, nil), "exercise %d", n)
		check(t, n, lower)
	}
}

// partOfFile is the one part of a file.
func partOfFile(t *testing.T, path string) playersPart {
	t.Helper()
	doc := etree.NewDocument()
	require.NoError(t, doc.ReadFromFile(path))
	return newPlayersPart("", "", doc.FindElement("//part"))
}

// testMarkedPages: the pages of the class in five languages, by default in the one with the
// longest words: every pupil's page in one of them on a telephone, some and the class on
// every screen and paper.
func testMarkedPages(t *testing.T, b *browsertest.Browser) {
	shown := map[string]string{"en": "Tom", "de": "Samir", "fr": "Yusuf", "it": "Uma", "es": "Olga"}
	for n, language := range musicxmltest.Sweep([]string{"de"}, []string{"en", "de", "fr", "it", "es"}) {
		t.Run(language, func(t *testing.T) {
			sheet, class := newClassroom(t)
			out := filepath.Join(t.TempDir(), "out")
			_, errs, code := command(t, "mark", sheet, class, "--out", out, "--language", language, "--quiet")
			require.Equal(t, exitNeedsPerson, code, errs)
			page := b.Open(t, filepath.Join(out, "class.html"))
			page.Accessible()
			assert.Equal(t, language, page.Text(`document.documentElement.lang`))
			pupils := page.Number(`document.querySelectorAll(".class th a[href]").length`)
			assert.Equal(t, 25, pupils)
			for i := n; i < pupils; i += musicxmltest.Sweep(10, 5) {
				file := page.Text(fmt.Sprintf(`document.querySelectorAll(".class th a[href]")[%d].getAttribute("href")`, i))
				pupil := b.Open(t, filepath.Join(out, file), browsertest.Size(360, 740))
				pupil.Accessible()
				pupil.Narrow()
				pupil.Shoot("pupil-" + language + "-" + file)
			}
			everywhere(t, b, filepath.Join(out, shown[language]+".html"), "pupil-"+language, func(*browsertest.Page) {})
			everywhere(t, b, filepath.Join(out, "class.html"), "class-"+language, func(*browsertest.Page) {})
		})
	}
}
