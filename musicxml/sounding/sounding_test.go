package sounding_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/sounding"
)

// bars writes a part of 4/4 bars in a shorthand: a letter a quarter note, "c" a note,
// "." a rest, "q" a cue note, "g" a grace note, "+" a chord note of a quarter, "<" a
// backup of a quarter, ">" a forward of one, "h" a half note, "w" a whole note.
func bars(t *testing.T, divisions int, measures ...string) sounding.Times {
	t.Helper()
	var b strings.Builder
	b.WriteString(`<part id="P1">`)
	for i, m := range measures {
		fmt.Fprintf(&b, `<measure number="%d">`, i+1)
		if i == 0 {
			fmt.Fprintf(&b, `<attributes><divisions>%d</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>`, divisions)
		}
		for _, sign := range m {
			b.WriteString(shorthand(sign, divisions))
		}
		b.WriteString(`</measure>`)
	}
	b.WriteString(`</part>`)
	doc, err := musicxml.ParseDocument([]byte(b.String()), musicxml.ReadOptions{})
	require.NoError(t, err)
	times, err := sounding.Read(doc.Root())
	require.NoError(t, err)
	return times
}

func shorthand(sign rune, divisions int) string {
	const pitch = "<pitch><step>C</step><octave>5</octave></pitch>"
	duration := func(quarters int) string { return fmt.Sprintf("<duration>%d</duration>", quarters*divisions) }
	switch sign {
	case 'c':
		return "<note>" + pitch + duration(1) + "</note>"
	case 'h':
		return "<note>" + pitch + duration(2) + "</note>"
	case 'w':
		return "<note>" + pitch + duration(4) + "</note>"
	case 'u':
		return "<note><unpitched/>" + duration(1) + "</note>"
	case '+':
		return "<note><chord/>" + pitch + duration(1) + "</note>"
	case 'q':
		return "<note><cue/>" + pitch + duration(1) + "</note>"
	case 'g':
		return "<note><grace/>" + pitch + "</note>"
	case '.':
		return "<note><rest/>" + duration(1) + "</note>"
	case '<':
		return "<backup>" + duration(1) + "</backup>"
	case '>':
		return "<forward>" + duration(1) + "</forward>"
	}
	panic(string(sign))
}

// TestMissing holds scores against parts made of them. The gaps are counted by hand:
// measure:beat, from–to in quarter notes, ! where nothing of the bar is left.
func TestMissing(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why   string
		score, made []string
		gaps        string
	}{
		{"the same", "nothing is lost", []string{"cccc"}, []string{"cccc"}, ""},
		{"other rhythm, same time", "time counts, not notes", []string{"cccc", "h.c"}, []string{"w", "cc.c"}, ""},
		{"a beat", "one note turned to a rest", []string{"cccc"}, []string{"c.cc"}, "1:2 1-2"},
		{"two places", "each is named", []string{"cccc"}, []string{".c.c"}, "1:1 0-1; 1:3 2-3"},
		{"half a long note", "the end of a held note is time, too", []string{"w"}, []string{"h.."}, "1:3 2-4"},
		{"a bar", "all of a bar is gone", []string{"cccc", "cc.."}, []string{"cccc", "...."}, "2:1 0-2!"},
		{"a bar that is not there", "the part ends before the score", []string{"cccc", "..cc"}, []string{"cccc"}, "2:3 2-4!"},
		{"lower notes of a chord", "they may go", []string{"c+c+cc"}, []string{"cccc"}, ""},
		{"a second voice in the gaps of the first", "mid-bar, where the first rests", []string{"c..c<<<<cccc"}, []string{"c..c"}, "1:2 1-3"},
		{"the second voice alone", "after a forward", []string{"....<<<<>cc>"}, []string{"...."}, "1:2 1-3!"},
		{"cue notes in the part", "they are silent", []string{"cccc"}, []string{"qqcc"}, "1:1 0-2"},
		{"cue notes in the score", "they were silent before", []string{"qqcc"}, []string{"..cc"}, ""},
		{"grace notes", "they take no time", []string{"g.c.."}, []string{".c.."}, ""},
		{"unpitched", "a stroke sounds", []string{"uu.."}, []string{"u..."}, "1:2 1-2"},
		{"more than the score", "what is added is no loss", []string{"c..."}, []string{"cccc"}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, g := range bars(t, 1, row.score...).Missing(bars(t, 6, row.made...)) {
				text := fmt.Sprintf("%s:%s %s-%s", g.Measure, g.Beat, g.From, g.To)
				if g.Whole {
					text += "!"
				}
				got = append(got, text)
			}
			assert.Equal(t, row.gaps, strings.Join(got, "; "), row.why)
		})
	}
}

// TestUnion: what two players leave to each other is not lost.
func TestUnion(t *testing.T) {
	t.Parallel()
	score := bars(t, 1, "cccc", "cccc", "c.c.")
	first, second := bars(t, 1, "cc..", "cccc", "c..."), bars(t, 2, "..cc", "....", "..")
	assert.NotEmpty(t, score.Missing(first))
	assert.NotEmpty(t, score.Missing(second))
	left := score.Missing(sounding.Union(first, second))
	require.Len(t, left, 1)
	assert.Equal(t, "3", left[0].Measure)
	assert.Equal(t, "3", left[0].Beat)
	assert.Empty(t, score.Missing(sounding.Union(second, first, score)))
	assert.NotEmpty(t, score.Missing(sounding.Union()), "no player at all")
}

// TestBroken: what cannot be counted is an error with its measure.
func TestBroken(t *testing.T) {
	t.Parallel()
	for name, text := range map[string]string{
		"no duration":    `<part><measure number="7"><note><rest/></note></measure></part>`,
		"bad divisions":  `<part><measure number="7"><attributes><divisions>0</divisions></attributes></measure></part>`,
		"backward":       `<part><measure number="7"><backup><duration>x</duration></backup></measure></part>`,
		"minus duration": `<part><measure number="7"><note><duration>-1</duration></note></measure></part>`,
	} {
		doc, err := musicxml.ParseDocument([]byte(text), musicxml.ReadOptions{})
		require.NoError(t, err)
		_, err = sounding.Read(doc.Root())
		assert.ErrorContains(t, err, "measure 7", name)
	}
}
