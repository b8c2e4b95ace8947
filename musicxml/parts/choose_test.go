package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// seated is the job of a score of two flutes on one staff, two horns and a clarinet.
func seated(t *testing.T, o parts.Options) *parts.Job {
	t.Helper()
	data := shorthand.Score(t, shorthand.Entry{Name: "Flutes 1 & 2", Music: `E5+C5:w`}, shorthand.Entry{Name: "Horn 1", Music: `C4:w`},
		shorthand.Entry{Name: "Horn 2", Music: `C4:w`}, shorthand.Entry{Name: "Clarinet in B♭", Music: `C4:w`})
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	job := partstest.Job(t, score, o)
	return job
}

func TestChoose(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	o.Players = true
	job := seated(t, o)
	for player, labels := range map[int]map[string]string{
		0: {"P2": "Horn in F 1", "horn 2": "Horn in F 2", "Flutes 1 & 2": "Flute 1", "Flute 2": "Flute 2", "2. Flöte": "Flute 2", "flute": "Flute 1", "P1:2": "Flute 2",
			"Clarinet in Bb": "Clarinet in B♭", "clarinet": "Clarinet in B♭", "Klarinette": "Clarinet in B♭"},
		2: {"Flutes 1 & 2": "Flute 2", "flutes 1, 2": "Flute 2", "Flute*": "Flute 2"},
	} {
		for words, label := range labels {
			i, err := job.Choose(words, player)
			require.NoError(t, err, words)
			assert.Equal(t, label, job.Assignment(i).Label, words)
		}
	}
	for words, wrong := range map[string]string{
		"Horn*":           `"Horn*" means several parts: Horn 1 (P2), Horn 2 (P3); name one of them or its id`,
		"Bassoon":         `no part is called "Bassoon"; the parts are Flutes 1 & 2 (P1), Flute 1 (P1:1), Flute 2 (P1:2), Horn 1 (P2), Horn 2 (P3), Clarinet in B♭ (P4)`,
		"Clarinnet in Bb": `no part is called "Clarinnet in Bb"; did you mean Clarinet in B♭?`,
	} {
		_, err := job.Choose(words, 0)
		assert.EqualError(t, err, wrong)
	}
	_, err := job.Choose("Flutes 1 & 2", 3)
	assert.EqualError(t, err, `part "Flutes 1 & 2" (P1) has no player 3`)
}

// TestNamedInAPlan: a row of a plan and a pattern of Only find a part in any spelling;
// what they do not find is told.
func TestNamedInAPlan(t *testing.T) {
	t.Parallel()
	labels := func(job *parts.Job) (list []string) {
		for _, a := range job.Assignments() {
			list = append(list, a.Label)
		}
		return list
	}
	plan := func(names ...string) (rows []parts.PlanRow) {
		for i, name := range names {
			rows = append(rows, parts.PlanRow{Part: name, Instrument: "oboe", Line: i + 2})
		}
		return rows
	}
	for _, test := range []struct {
		name          string
		plan          []parts.PlanRow
		only          []string
		players       bool
		want, missing []string
		numbers       map[string]int
	}{
		{name: "signs", plan: plan("Clarinet in Bb"), want: []string{"Flutes 1, 2", "Horn in F 1", "Horn in F 2", "Oboe"}},
		{name: "another language", plan: plan("Klarinette in B"), want: []string{"Flutes 1, 2", "Horn in F 1", "Horn in F 2", "Oboe"}},
		{name: "the instrument", plan: plan("horn"), want: []string{"Flutes 1, 2", "Oboe 1", "Oboe 2", "Clarinet in B♭"}},
		{name: "one player", plan: plan("Flute 2"), players: true, want: []string{"Flute 1", "Oboe 2", "Horn in F 1", "Horn in F 2", "Clarinet in B♭"}},
		{name: "one player, in another language", plan: plan("2. Flöte"), players: true, want: []string{"Flute 1", "Oboe 2", "Horn in F 1", "Horn in F 2", "Clarinet in B♭"}},
		{name: "the staff of both", plan: plan("Flutes 1 and 2"), players: true, want: []string{"Oboe 1", "Oboe 2", "Horn in F 1", "Horn in F 2", "Clarinet in B♭"}},
		{name: "nobody", plan: plan("Clarinet in A", "Horn 1"), want: []string{"Flutes 1, 2", "Oboe 1", "Horn in F 2", "Clarinet in B♭"}, missing: []string{"Clarinet in A"}},
		{name: "only, signs", only: []string{"clarinet in b-flat"}, want: []string{"Clarinet in B♭"}, numbers: map[string]int{"Clarinet in B♭": 4}},
		{name: "only, a group", only: []string{"brass"}, want: []string{"Horn in F 1", "Horn in F 2"}},
		{name: "only, the part of a player", only: []string{"P1"}, players: true, want: []string{"Flute 1", "Flute 2"}},
		{name: "only, one player", only: []string{"flute 2"}, players: true, want: []string{"Flute 2"}},
		{name: "only, one of two", only: []string{"horn 1", "tuba"}, want: []string{"Horn in F 1"}, missing: []string{"tuba"}, numbers: map[string]int{"Horn in F 1": 2}},
		{name: "only, what a plan makes", plan: plan("horn 1"), only: []string{"oboe"}, want: []string{"Oboe 1"}},
	} {
		o := parts.DefaultOptions()
		o.Plan, o.Only, o.Players = test.plan, test.only, test.players
		job := seated(t, o)
		assert.Equal(t, test.want, labels(job), test.name)
		for _, a := range job.Assignments() {
			assert.Equal(t, a.Number, test.numbers[a.Label]+map[bool]int{true: a.Number}[test.numbers == nil], "%s: the number among all files", test.name)
		}
		var missing []string
		for _, m := range job.Missing() {
			missing = append(missing, m.Words)
			assert.Equal(t, test.only == nil, m.Row != nil, test.name)
		}
		assert.Equal(t, test.missing, missing, test.name)
	}
}

// TestNamesForAPlan: what a plan calls a part file means it and no other.
func TestNamesForAPlan(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	assert.Equal(t, []string{"Flutes 1 & 2", "Horn 1", "Horn 2", "Clarinet in B♭"}, seated(t, o).Names())
	o.Players = true
	assert.Equal(t, []string{"Flute 1", "Flute 2", "Horn 1", "Horn 2", "Clarinet in B♭"}, seated(t, o).Names())
}
