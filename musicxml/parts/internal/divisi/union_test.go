package divisi_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
)

// notesOf lists what sounds in each bar of a part: onset, length, pitch; each
// once, whatever the number of noteheads.
func notesOf(t testing.TB, part *etree.Element) []map[string]bool {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	bars := make([]map[string]bool, len(timeline.Measures))
	for i := range timeline.Measures {
		bars[i] = map[string]bool{}
		for _, ev := range timeline.Measures[i].Events {
			if ev.Kind != musicxml.Note || ev.Rest {
				continue
			}
			name := "unpitched"
			if p := musicxml.Child(ev.Element, "pitch"); p != nil {
				name = musicxml.ChildText(p, "step") + musicxml.ChildText(p, "alter") + musicxml.ChildText(p, "octave")
			}
			bars[i][fmt.Sprintf("%s at %v for %v", name, ev.Onset, ev.Duration)] = true
		}
	}
	return bars
}

// checkUnion divides a part among players and checks that the union of what they
// have is the staff, and that each part is whole.
func checkUnion(t testing.TB, tree func() *etree.Element, players int) bool {
	t.Helper()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	source := tree()
	want := notesOf(t, source)
	whole := faults(source)
	union := make([]map[string]bool, len(want))
	for i := range union {
		union[i] = map[string]bool{}
	}
	for i := range players {
		part := tree()
		timeline, err := musicxml.NewTimeline(part)
		require.NoError(t, err)
		lengths := make([]musicxml.Fraction, len(timeline.Measures))
		for k := range timeline.Measures {
			lengths[k] = timeline.Measures[k].Length
		}
		o := divisi.Options{Keep: i, Lexicon: lexicon}
		for n := range players {
			o.Players = append(o.Players, divisi.Player{Number: n + 1})
		}
		_, err = divisi.Divide(timeline, o)
		require.NoError(t, err)
		for k, bar := range notesOf(t, part) {
			for note := range bar {
				union[k][note] = true
			}
		}
		if !checkWhole(t, part, lengths, whole, i) {
			return false
		}
	}
	return assert.Equal(t, want, union, "the union of the players is not the staff")
}

// checkWhole checks that a player's part fills its bars in one voice and has both
// ends of what had both ends in the score.
func checkWhole(t testing.TB, part *etree.Element, lengths []musicxml.Fraction, before map[string]int, player int) bool {
	t.Helper()
	ok := true
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	for i := range timeline.Measures {
		m := &timeline.Measures[i]
		var filled musicxml.Fraction
		for _, ev := range m.Events {
			if ev.Kind == musicxml.Note && ev.Voice == "1" && !ev.Chord {
				filled = filled.Add(ev.Duration)
			}
		}
		ok = assert.Equal(t, lengths[i].String(), filled.String(), "player %d, measure %s: the first voice does not fill the bar", player+1, m.Number) && ok
	}
	for kind, n := range faults(part) {
		if n > before[kind] {
			ok = assert.Fail(t, "lone end", "player %d: %d of %s, the score has %d", player+1, n, kind, before[kind])
		}
	}
	return ok
}

// faults counts the ends without other ends, and broken beams, of a part.
func faults(part *etree.Element) map[string]int {
	f := faultFinder{open: map[string]int{}, count: map[string]int{}, beams: map[string]bool{}}
	f.walk(part)
	for _, on := range f.beams {
		if on {
			f.count["beam"]++
		}
	}
	for tag, n := range f.open {
		f.count[tag] = max(n, -n)
	}
	return f.count
}

type faultFinder struct {
	open, count map[string]int
	beams       map[string]bool // open, by voice and number
}

func (f *faultFinder) walk(e *etree.Element) {
	switch e.Tag {
	case "note":
		if musicxml.Child(e, "grace") == nil && musicxml.Child(e, "chord") == nil {
			f.beam(e)
		}
	case "slur", "tuplet", "tied", "glissando", "slide", "wavy-line", "wedge", "dashes", "bracket", "octave-shift":
		switch musicxml.Attr(e, "type") {
		case "stop":
			f.open[e.Tag]--
		case "continue", "let-ring":
		default:
			f.open[e.Tag]++
		}
	}
	for _, c := range e.Child {
		if c, ok := c.(*etree.Element); ok {
			f.walk(c)
		}
	}
}

func (f *faultFinder) beam(note *etree.Element) {
	for _, b := range musicxml.Children(note, "beam") {
		key := musicxml.ChildText(note, "voice") + "," + musicxml.Attr(b, "number")
		state := musicxml.Text(b)
		if strings.Contains(state, "hook") {
			continue
		}
		if f.beams[key] == (state == "begin") {
			f.count["beam"]++
		}
		f.beams[key] = state != "end"
	}
}

// TestUnionOfGeneratedStaves divides random staves: two voices, chords, markers,
// ties, slurs, tuplets, grace notes, hidden rests and gaps.
func TestUnionOfGeneratedStaves(t *testing.T) {
	t.Parallel()
	for seed := range uint64(400) {
		random := rand.New(rand.NewPCG(seed, 3))
		players := 2 + random.IntN(2)
		music := randomMusic(random, players)
		if !checkUnion(t, func() *etree.Element { return shorthand.Part(t, music) }, players) {
			t.Fatalf("seed %d, %d players: %s", seed, players, music)
		}
	}
}

// randomMusic writes six bars.
func randomMusic(r *rand.Rand, players int) string {
	bars := make([]string, 6)
	for i := range bars {
		voices := []string{randomVoice(r, players, "C D E F G A", 5)}
		if r.IntN(3) == 0 {
			voices = append(voices, randomVoice(r, players, "E F G A B", 4))
		}
		bars[i] = strings.Join(voices, " / ")
	}
	return strings.Join(bars, " | ")
}

// randomVoice fills a bar of four quarters.
func randomVoice(r *rand.Rand, players int, steps string, octave int) string {
	rhythms := []string{"w", "h h", "q q h", "hd q", "e{ e} q h", "et[{ et- et]} q h", "h et[{ et- et]} e{ e}", "e{ e- e- e} h", "q qd e h"}
	letters := strings.Fields(steps)
	var tokens []string
	slur, hairpin, last := false, false, ""
	for _, rhythm := range strings.Fields(rhythms[r.IntN(len(rhythms))]) {
		value, flags := strings.TrimRight(rhythm, "[]{}-"), strings.TrimLeft(rhythm, "whqesdt")
		if r.IntN(6) == 0 {
			words := []string{`"1."`, `"2."`, `"a 2"`, `"div."`, `"solo"`, `"dolce"`, "!p", "!f", "!<"}
			word := words[r.IntN(len(words))]
			if hairpin = hairpin != (word == "!<"); word == "!<" && !hairpin {
				word = "!."
			}
			tokens = append(tokens, word)
		}
		pitch := fmt.Sprintf("%s%d", letters[r.IntN(len(letters))], octave)
		if last != "" && r.IntN(4) == 0 {
			pitch = last
		}
		switch r.IntN(8) {
		case 0:
			pitch, flags = "r", strings.Trim(flags, "{}-")
		case 1:
			pitch, flags = "x", strings.Trim(flags, "{}-")
		case 2:
			pitch += "+" + fmt.Sprintf("%s%d", letters[r.IntN(len(letters))], octave-1)
		}
		if pitch == "r" || pitch == "x" {
			flags = strings.Trim(flags, "{}-")
			last = ""
		} else {
			if r.IntN(5) == 0 {
				tokens = append(tokens, "g!C5:e")
			}
			if r.IntN(4) == 0 {
				flags += map[bool]string{false: "(", true: ")"}[slur]
				slur = !slur
			}
			if last == pitch && r.IntN(2) == 0 {
				flags += "^"
				tokens[len(tokens)-1] = addFlag(tokens[len(tokens)-1], "~")
			}
			last = pitch
		}
		tokens = append(tokens, pitch+":"+value+flags)
	}
	if hairpin {
		tokens = append(tokens, "!.")
	}
	return strings.Join(tokens, " ")
}

// addFlag ties a note on, if the token is one.
func addFlag(token, flag string) string {
	if strings.ContainsAny(token[:1], `"!g`) {
		return token
	}
	return token + flag
}

// TestUnionOfSharedStaves divides every part of the shared scores as if two or
// three players shared it: strings with chords and divided voices, both hands of
// the piano, choirs. The union must be the staff.
func TestUnionOfSharedStaves(t *testing.T) {
	t.Parallel()
	files := musicxmltest.SharedFiles(t, "scores/*/*.mxl", "testsuite/xmlFiles/*")
	files = slices.DeleteFunc(files, func(name string) bool { return strings.Contains(name, "/scores/concert/") })
	checked := 0
	for _, file := range files {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		if err != nil {
			continue // not a score; the reader's own tests look at those
		}
		for i := range score.Parts {
			part, err := score.ReadPart(i, nil)
			if err != nil {
				continue
			}
			tree := part.Copy
			if timeline, err := musicxml.NewTimeline(part); err != nil || !divided(timeline) {
				continue
			}
			checked++
			if !checkUnion(t, tree, 2+checked%2) {
				t.Fatalf("%s, part %s", file, score.Parts[i].ID)
			}
		}
	}
	assert.Greater(t, checked, 40, "parts with chords or voices in ../shared")
}

// divided reports whether a part has several notes at once somewhere.
func divided(t *musicxml.Timeline) bool {
	for i := range t.Measures {
		voice := ""
		for _, ev := range t.Measures[i].Events {
			if ev.Kind == musicxml.Note && !ev.Rest && (ev.Chord || voice != "" && ev.Voice != voice) {
				return true
			}
			if ev.Kind == musicxml.Note {
				voice = ev.Voice
			}
		}
	}
	return false
}
