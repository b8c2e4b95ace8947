package marked_test

import (
	"fmt"
	"html"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/pages/marked"
	"deskpart/cmd/internal/texts"
	"deskpart/cmd/internal/texts/textstest"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/svgread"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// sheet makes exercises and the marker of one language.
func sheet(t *testing.T, l pitch.Language, count int) (exercise.Sheet, marking.Marker) {
	t.Helper()
	c := instrumentstest.Load(t)
	said := textstest.In(t, l)
	sheets, err := exercise.Make(c, exercise.Settings{Instrument: c.ByID("horn-f"), From: explain.Sounding, Count: count, Seed: 6, Level: 3, Versions: 1})
	require.NoError(t, err)
	m := marking.Marker{Texts: said}
	for _, e := range sheets[0].Exercises {
		data, err := e.Key(sheets[0])
		require.NoError(t, err)
		k, err := marking.NewKeys(parse(t, string(data)), nil, c)
		require.NoError(t, err)
		m.Keys = append(m.Keys, k...)
	}
	return sheets[0], m
}

func parse(t *testing.T, text string) *musicxml.Score {
	t.Helper()
	s, err := musicxml.Read([]byte(text), musicxml.ReadOptions{Name: "answer.musicxml"})
	require.NoError(t, err)
	return s
}

// handIn marks an answer that was changed as text.
func handIn(t *testing.T, s exercise.Sheet, m marking.Marker, pupil string, number int, change func(string) string) []marking.Result {
	t.Helper()
	data, err := explain.Sheet{Title: "A", Staves: []explain.SheetStaff{{Name: "Horn", Part: s.Exercises[number-1].Answer}}}.Bytes()
	require.NoError(t, err)
	results, err := m.Mark(parse(t, change(string(data))))
	require.NoError(t, err)
	for i := range results {
		results[i].Pupil = pupil
	}
	return results
}

// pupilPage is the page of the first pupil.
func pupilPage(t *texts.Texts, r class.Report) ([]byte, error) {
	page, err := marked.Pupil(t, r, r.Summary.Pupils[0])
	if err != nil {
		return nil, err
	}
	return page.HTML()
}

// TestPupilPage: a page shows the answer with the number of the mistake under it,
// the rule, the right answer, and all of it in the language.
func TestPupilPage(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		language        pitch.Language
		right, practise string
	}{
		{pitch.English, "Right", "What to practise:"}, {pitch.German, "Richtig", "Was du üben kannst:"}, {pitch.French, "Juste", "Pour t&#39;exercer"},
		{pitch.Italian, "Giusto", "Che cosa esercitare:"}, {pitch.Spanish, "Correcto", "Qué practicar:"},
	} {
		s, m := sheet(t, row.language, 2)
		dropSecondBar := func(text string) string {
			from, to := strings.Index(text, `<measure number="2"`), strings.Index(text, `<measure number="3"`)
			return text[:from] + text[to:]
		}
		results := handIn(t, s, m, "Ida <b>", 1, dropSecondBar)
		require.Len(t, results[0].Mistakes, 1)
		report := class.Report{Class: class.New(results), Texts: m.Texts}
		page, err := pupilPage(m.Texts, report)
		require.NoError(t, err)
		text := string(page)
		assert.True(t, strings.Contains(text, `<html lang="`+string(row.language)+`"`), `<html lang="`+string(row.language)+`"`)
		assert.True(t, strings.Contains(text, "Ida &lt;b&gt;"), "Ida &lt;b&gt;")
		assert.True(t, strings.Contains(text, row.right), row.right)
		assert.True(t, strings.Contains(text, row.practise), row.practise)
		assert.True(t, strings.Contains(text, html.EscapeString(m.Texts.Pick("rule", "bars-missing"))), m.Texts.Pick("rule", "bars-missing"))
		assert.True(t, strings.Contains(text, ">[1]<"), ">[1]<")
		again, err := pupilPage(m.Texts, report)
		require.NoError(t, err)
		assert.True(t, text == string(again), "the same bytes")
	}
}

// has asserts without printing a whole page.
func has(t *testing.T, page, text string, why ...any) {
	t.Helper()
	assert.True(t, strings.Contains(page, text), append([]any{text}, why...)...)
}

// TestAnotherExercise: a pupil whose answer is one to another question is told to look, before
// all the mistakes; who made one mistake throughout is not.
func TestAnotherExercise(t *testing.T) {
	t.Parallel()
	s, m := sheet(t, pitch.English, 2)
	says := func(keys marking.Marker, change func(string) string) bool {
		page, err := pupilPage(m.Texts, class.Report{Class: class.New(handIn(t, s, keys, "Ida", 1, change)), Texts: m.Texts})
		require.NoError(t, err)
		return strings.Contains(string(page), html.EscapeString(m.Texts.Say("marked.hardly", nil)))
	}
	as := func(text string) string { return text }
	assert.True(t, says(marking.Marker{Texts: m.Texts, Keys: m.Keys[1:]}, as), "the other exercise's key")
	assert.False(t, says(m, as))
	assert.False(t, says(m, func(text string) string {
		return strings.NewReplacer("<octave>4<", "<octave>5<", "<octave>5<", "<octave>6<").Replace(text)
	}), "an octave too high")
}

// TestDrawnAnswer: what is drawn is what was handed in, and what is right beneath.
func TestDrawnAnswer(t *testing.T) {
	t.Parallel()
	s, m := sheet(t, pitch.English, 1)
	results := handIn(t, s, m, "Ida", 1, func(text string) string { return strings.Replace(text, "<octave>4</octave>", "<octave>5</octave>", 1) })
	report := class.Report{Class: class.New(results), Texts: m.Texts}
	page, err := pupilPage(m.Texts, report)
	require.NoError(t, err)
	_, wide, _ := strings.Cut(string(page), `<div class="wide">`)
	wide, _, _ = strings.Cut(wide, "</div>")
	lines, err := svgread.Read(wide)
	require.NoError(t, err)
	var answer, right []string
	for _, line := range lines {
		n := len(line.Staves)
		require.GreaterOrEqual(t, n, 2)
		for _, bar := range line.Staves[n-2].Bars {
			for _, note := range bar.Notes {
				answer = append(answer, note.String())
			}
		}
		for _, bar := range line.Staves[n-1].Bars {
			for _, note := range bar.Notes {
				right = append(right, note.String())
			}
		}
	}
	differ := 0
	require.Equal(t, len(s.Exercises[0].Pairs), len(right))
	for i, p := range s.Exercises[0].Pairs {
		assert.Equal(t, p.To.String(), right[i])
		if answer[i] != right[i] {
			differ++
		}
	}
	assert.Equal(t, 1, differ)
	has(t, wide, `class="wrong"`)
}

// TestEveryRuleIsTold: every rule has its words and trains something, in every
// language.
func TestEveryRuleIsTold(t *testing.T) {
	t.Parallel()
	for _, l := range pitch.Languages() {
		said := textstest.In(t, l)
		for _, rule := range marking.Rules {
			assert.True(t, said.Has("rule", string(rule)), rule)
			assert.True(t, said.Has("practise", marked.Skills[rule]), rule)
		}
		for _, kind := range marking.Kinds {
			assert.True(t, said.Has("kind", string(kind)), kind)
		}
	}
}

// TestClassPage: the table has every pupil and exercise, and what is common has the
// names of those who did it.
func TestClassPage(t *testing.T) {
	t.Parallel()
	s, m := sheet(t, pitch.German, 3)
	same := func(text string) string { return text }
	noKey := func(text string) string {
		from, to := strings.Index(text, "<key>"), strings.Index(text, "</key>")
		return text[:from] + "<key><fifths>0</fifths>" + text[to:]
	}
	var results []marking.Result
	for n := 1; n <= 3; n++ {
		results = append(results, handIn(t, s, m, "Anna", n, same)...)
		results = append(results, handIn(t, s, m, "ben", n, noKey)...)
	}
	results = append(results, handIn(t, s, m, "Cleo", 2, noKey)...)
	results = append(results, marking.Unmarked(m.Texts, "dora.pdf", notice.IsPDF, nil))
	report := class.Report{Class: class.New(results), Texts: m.Texts}
	page, err := marked.Class(m.Texts, report, map[string]string{"Anna": "Anna.html"}).HTML()
	require.NoError(t, err)
	text := string(page)
	has(t, text, `<a href="Anna.html">Anna</a>`)
	assert.Equal(t, 3, strings.Count(text, `<th scope="col">1</th>`)+strings.Count(text, `<th scope="col">2</th>`)+strings.Count(text, `<th scope="col">3</th>`))
	has(t, text, "ben, Cleo", "who did it")
	has(t, text, "dora.pdf")
	has(t, text, fmt.Sprintf("%d/%d", results[0].Notes, results[0].Notes))
}
