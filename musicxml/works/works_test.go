package works_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/works"
)

// movement is a movement's parts in score order: names, with ": music" where it is not
// one note.
func movement(names ...string) []shorthand.Entry {
	var entries []shorthand.Entry
	for _, name := range names {
		name, music, _ := strings.Cut(name, ": ")
		if music == "" {
			music = "C5:w"
		}
		entries = append(entries, shorthand.Entry{Name: name, Music: music})
	}
	return entries
}

// find finds the players of movements.
func find(t *testing.T, o parts.Options, movements ...[]shorthand.Entry) *works.Work {
	t.Helper()
	var scores []*musicxml.Score
	for _, entries := range movements {
		score, err := musicxml.Read(shorthand.Score(t, entries...), musicxml.ReadOptions{})
		require.NoError(t, err)
		scores = append(scores, score)
	}
	return workOf(t, o, scores)
}

func workOf(t *testing.T, o parts.Options, scores []*musicxml.Score) *works.Work {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	o.Work = true
	var surveyed []*parts.Surveyed
	for _, score := range scores {
		s := partstest.Survey(t, score, o)
		surveyed = append(surveyed, s)
	}
	work, err := works.Find(catalogue, o.Language, surveyed)
	require.NoError(t, err)
	return work
}

// seating lists the players with what each has in every movement, "–" where silent.
func seating(w *works.Work) []string {
	var rows []string
	for _, p := range w.Players {
		row := p.Label + " ="
		for m, file := range p.Files {
			if file < 0 {
				row += " – |"
				continue
			}
			row += " " + w.Jobs[m].Assignment(file).Label + " |"
		}
		rows = append(rows, strings.TrimSuffix(row, " |"))
	}
	return rows
}

// TestPlayers: expected by hand, as an orchestra's librarian seats them.
func TestPlayers(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		why       string
		movements [][]shorthand.Entry
		players   bool
		want      []string
	}{
		{why: "a symphony: clarinets change key, horns and trumpets their crooks, trombones and piccolo enter at the end", movements: [][]shorthand.Entry{
			movement("Flute", "Clarinet in A 1", "Clarinet in A 2", "Horn in F 1", "Horn in F 2", "Trumpet in C", "Violins I", "Violins II", "Viola"),
			movement("Flute", "Clarinet in Bb 1", "Clarinet in Bb 2", "Horn in E 1", "Horn in E 2", "Violin I", "Violin II", "Viola"),
			movement("Flute", "Klarinette 1 in C", "Klarinette 2 in C", "Horn 1 in C", "Trompete in D", "Violine I", "Violine II", "Bratsche"),
			movement("Piccolo", "Flute", "Clarinet in Bb 1", "Clarinet in Bb 2", "Horn in F 1", "Horn in F 2", "Trumpet in C", "Trombone", "Violins I", "Violins II", "Viola"),
		}, want: []string{
			"Piccolo = – | – | – | Piccolo",
			"Flute = Flute | Flute | Flute | Flute",
			"Clarinet 1 = Clarinet in A 1 | Clarinet in B♭ 1 | Clarinet in C 1 | Clarinet in B♭ 1",
			"Clarinet 2 = Clarinet in A 2 | Clarinet in B♭ 2 | Clarinet in C 2 | Clarinet in B♭ 2",
			"Horn 1 = Horn in F 1 | Horn in E 1 | Horn in C 1 | Horn in F 1",
			"Horn 2 = Horn in F 2 | Horn in E 2 | – | Horn in F 2",
			"Trumpet = Trumpet in C | – | Trumpet in D | Trumpet in C",
			"Trombone = – | – | – | Trombone",
			"Violin 1 = Violin 1 | Violin 1 | Violin 1 | Violin 1",
			"Violin 2 = Violin 2 | Violin 2 | Violin 2 | Violin 2",
			"Viola = Viola | Viola | Viola | Viola",
		}},
		{why: "together everywhere: one desk, as in the score", movements: [][]shorthand.Entry{
			movement("Flutes 1 & 2", "Oboe"), movement("Oboe"), movement("Flutes 1.2", "Oboe"),
		}, want: []string{"Flutes 1, 2 = Flutes 1, 2 | – | Flutes 1, 2", "Oboe = Oboe | Oboe | Oboe"}},
		{why: "on staves of their own in one movement: divided in the other", movements: [][]shorthand.Entry{
			movement("Flutes 1 & 2", "Oboe"), movement("Flute 1", "Flute 2", "Oboe"),
		}, want: []string{"Flute 1 = Flute 1 | Flute 1", "Flute 2 = Flute 2 | Flute 2", "Oboe = Oboe | Oboe"}},
		{why: "two pairs, of which one movement has one player", movements: [][]shorthand.Entry{
			movement("Horns in F 1.2", "Horns in C 3.4"), movement("Horn in F 1", "Horns in C 3.4"),
		}, want: []string{"Horn in F 1 = Horn in F 1 | Horn in F 1", "Horn in F 2 = Horn in F 2 | –", "Horns in C 3, 4 = Horns in C 3, 4 | Horns in C 3, 4"}},
		{why: "without numbers, the first that are free, in score order", movements: [][]shorthand.Entry{
			movement("Horn in F", "Horn in D"), movement("Horn in E 1", "Horn in E 2"),
		}, want: []string{"Horn 1 = Horn in F | Horn in E 1", "Horn 2 = Horn in D | Horn in E 2"}},
		{why: "the only flute has a number in one movement", movements: [][]shorthand.Entry{
			movement("Flute"), movement("Flute 1"),
		}, want: []string{"Flute 1 = Flute | Flute 1"}},
		{why: "one staff in each movement, however many play from it", movements: [][]shorthand.Entry{
			movement("Clarinets in A: C5+E5:w"), movement("Clarinets in Bb: C5:w"),
		}, want: []string{"Clarinet = Clarinet in A | Clarinet in B♭"}},
		{why: "cello and bass on one staff and apart", movements: [][]shorthand.Entry{
			movement("Cello & Double Bass: bass C3:w"), movement("Violoncello: bass C3:w", "Contrabass: bass C3:w"),
		}, want: []string{"Cello = Cello | Cello", "Double Bass = Double Bass | Double Bass"}},
		{why: "asked for a part a player", players: true, movements: [][]shorthand.Entry{
			movement("Oboes 1.2"), movement("Oboes 1.2"),
		}, want: []string{"Oboe 1 = Oboe 1 | Oboe 1", "Oboe 2 = Oboe 2 | Oboe 2"}},
		{why: "instruments that nobody knows, by their names", movements: [][]shorthand.Entry{
			movement("Zugfidel 1", "Zugfidel 2"), movement("Zugfidel 2"),
		}, want: []string{"Zugfidel 1 = Zugfidel 1 | –", "Zugfidel 2 = Zugfidel 2 | Zugfidel 2"}},
		{why: "two staves of one name are two players", movements: [][]shorthand.Entry{
			movement("Solo", "Solo"), movement("Solo"),
		}, want: []string{"Solo = Solo | Solo", "Solo = Solo | –"}},
	} {
		t.Run(c.why, func(t *testing.T) {
			t.Parallel()
			o := parts.DefaultOptions()
			o.Input, o.Players = parts.Concert, c.players
			assert.Equal(t, c.want, seating(find(t, o, c.movements...)))
		})
	}
}

// TestEveryFileOnce: whatever the movements, each part file is one player's.
func TestEveryFileOnce(t *testing.T) {
	t.Parallel()
	substitutes, err := instrumentstest.Load(t).Substitutes()
	require.NoError(t, err)
	o := parts.DefaultOptions()
	o.Substitutes = substitutes
	w := find(t, o, movement("Horn in F", "Horn in F", "Trombones 1.2.3", "Tuba"), movement("Horn in D 2", "Trombone 3", "Bass Trombone", "Tuba"), movement("Horn"))
	for m, job := range w.Jobs {
		seen := map[int]int{}
		for _, p := range w.Players {
			if p.Files[m] >= 0 {
				seen[p.Files[m]]++
			}
		}
		assert.Len(t, seen, len(job.Assignments()), "movement %d", m+1)
		for file, n := range seen {
			assert.Equal(t, 1, n, fmt.Sprint(m, file))
		}
	}
}

// TestTacetSheet: the bars, key and marks of the movement in the player's own pitch, and
// the word; nothing else.
func TestTacetSheet(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	o := parts.DefaultOptions()
	o.RestBars = 0
	w := find(t, o, []shorthand.Entry{{Name: "Flute", Music: `[key 2] <direction><direction-type><rehearsal>A</rehearsal></direction-type></direction> D5:q'la' E5:h !p F5:q | C5:w`}})
	sheet, err := w.Jobs[0].MakeTacet(nil, "Horn 1", catalogue.ByID("horn-f"))
	require.NoError(t, err)
	part := sheet.Document.FindElement("//part")
	assert.True(t, sheet.Report.Tacet)
	assert.Empty(t, sheet.Report.Warnings)
	assert.Empty(t, part.FindElements("//pitch"))
	assert.Empty(t, part.FindElements("//dynamics"))
	assert.Len(t, part.SelectElements("measure"), 2)
	assert.Equal(t, "3", part.FindElement("//fifths").Text(), "D major, a fifth higher")
	assert.Equal(t, "-7", part.FindElement("//transpose/chromatic").Text())
	assert.Equal(t, "A", part.FindElement("//rehearsal").Text())
	assert.Equal(t, "Tacet", part.FindElement("//words").Text())
	assert.Equal(t, "Horn 1", sheet.Document.FindElement("//part-name").Text())
}

// TestWorkOfSharedScores: four movements that change the keys of clarinets, horns and
// trumpets, and who plays; expected by hand from the scores' lists of parts.
func TestWorkOfSharedScores(t *testing.T) {
	t.Parallel()
	if os.Getenv("DESKPART_EVERY_SCORE") == "" {
		t.Skip("four large scores")
	}
	var scores []*musicxml.Score
	for _, name := range []string{"Haydn_104_1", "Brahms_Op.68_1", "Brahms_Op.90_3", "Brahms_Op.98_4"} {
		score, err := musicxml.ReadFile(musicxmltest.SharedFiles(t, "scores/written/"+name+".mxl")[0], musicxml.ReadOptions{})
		require.NoError(t, err)
		scores = append(scores, score)
	}
	work := workOf(t, parts.DefaultOptions(), scores)
	assert.Equal(t, []string{
		"Flute 1 = Flute 1 | Flute 1 | Flute 1 | Flute 1",
		"Flute 2 = Flute 2 | Flute 2 | Flute 2 | Flute 2",
		"Oboe 1 = Oboe 1 | Oboe 1 | Oboe 1 | Oboe 1",
		"Oboe 2 = Oboe 2 | Oboe 2 | Oboe 2 | Oboe 2",
		"Clarinet 1 = Clarinet in A 1 | Clarinet in B♭ 1 | Clarinet in B♭ 1 | Clarinet in A 1",
		"Clarinet 2 = Clarinet in A 2 | Clarinet in B♭ 2 | Clarinet in B♭ 2 | Clarinet in A 2",
		"Bassoon 1 = Bassoon 1 | Bassoon 1 | Bassoon 1 | Bassoon 1",
		"Bassoon 2 = Bassoon 2 | Bassoon 2 | Bassoon 2 | Bassoon 2",
		"Contrabassoon = – | Contrabassoon | – | Contrabassoon",
		"Horn 1 = Horn in D 1 | Horn in C 1 | Horn in C 1 | Horn in E 1",
		"Horn 2 = Horn in D 2 | Horn in C 2 | Horn in C 2 | Horn in E 2",
		"Horn 3 = – | Horn in E♭ 3 | – | Horn in C 3",
		"Horn 4 = – | Horn in E♭ 4 | – | Horn in C 4",
		"Trumpet 1 = Trumpet in D 1 | Trumpet in C 1 | – | Trumpet in E 1",
		"Trumpet 2 = Trumpet in D 2 | Trumpet in C 2 | – | Trumpet in E 2",
		"Trombone 1 = – | – | – | Trombone 1",
		"Trombone 2 = – | – | – | Trombone 2",
		"Trombone 3 = – | – | – | Trombone 3",
		"Timpani = Timpani | Timpani | – | Timpani",
		"Violin 1 = Violin 1 | Violin 1 | Violin 1 | Violin 1",
		"Violin 2 = Violin 2 | Violin 2 | Violin 2 | Violin 2",
		"Viola = Viola | Viola | Viola | Viola",
		"Cello = Cello | Cello | Cello | Cello",
		"Double Bass = Double Bass | Double Bass | Double Bass | Double Bass",
	}, seating(work))
}
