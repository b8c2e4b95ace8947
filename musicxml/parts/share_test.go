package parts_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// TestSharedStavesComeApart puts pairs and threes of winds of real scores on one staff and
// takes it apart again as any score is, for its players: each has note for note what the
// editor wrote, with ties, slurs, articulations and ornaments; and what the staff sounds is
// what its players sound.
func TestSharedStavesComeApart(t *testing.T) {
	t.Parallel()
	files := musicxmltest.SharedSpread(t, "scores/written/*.mxl")
	bars := 60
	if os.Getenv(musicxmltest.EveryScore) == "1" {
		bars = 10000
	}
	groups, marks, words := 0, 0, map[string]int{}
	var written []string
	for _, file := range files {
		whole := readScore(t, file)
		names := whole.ScoreParts()
		for i := 1; i < len(names); i++ {
			if !numbersFollow(names[i-1].Name, names[i].Name) {
				continue
			}
			group := []int{i - 1, i}
			if i+1 < len(names) && numbersFollow(names[i].Name, names[i+1].Name) && strings.HasPrefix(names[i].Name, "Trombone") {
				group = append(group, i+1)
			}
			score := theseStaves(t, whole, group, bars)
			o := parts.DefaultOptions()
			var share []string
			for _, k := range group {
				share = append(share, names[k].Name)
			}
			o.Share = [][]string{share}
			sheets, err := allSheets(t, score, o)
			if err != nil {
				assert.ErrorContains(t, err, "several notes at once", "%s %v", file, share)
				continue
			}
			require.Len(t, sheets, 1)
			groups++
			name := fmt.Sprintf("%s, %v", filepath.Base(file), share)
			shared := sheets[0].Bytes(musicxml.WriteOptions{})
			for _, w := range []string{"a 2", "a 3", "1.", "2.", "3."} {
				words[w] += strings.Count(string(shared), ">"+w+"<")
			}
			again, err := musicxml.Read(slices.Clone(shared), musicxml.ReadOptions{})
			require.NoError(t, err)
			o = parts.DefaultOptions()
			single, err := allSheets(t, score, o)
			require.NoError(t, err)
			o.Players = true
			back, err := allSheets(t, again, o)
			require.NoError(t, err)
			require.Len(t, back, len(group), name)
			var sounds []string
			for k := range group {
				want, got := partOf(single[k]), partOf(back[k])
				if !assert.Equal(t, spelled(t, want), spelled(t, got), "%s, player %d", name, k+1) {
					if dir := os.Getenv("DESKPART_FAILED"); dir != "" {
						os.WriteFile(filepath.Join(dir, "shared.musicxml"), shared, 0o600)
						os.WriteFile(filepath.Join(dir, "shared-score.musicxml"), bytesOf(score), 0o600)
					}
					return
				}
				assert.Equal(t, soundedBy(t, want), soundedBy(t, got), "%s, player %d as it sounds", name, k+1)
				assert.Equal(t, marked(t, want), marked(t, got), "%s, player %d, marks", name, k+1)
				marks += len(marked(t, want))
				sounds = append(sounds, soundedBy(t, want)...)
			}
			if len(written) < 8 {
				written = append(written, filepath.Join(t.TempDir(), "shared.musicxml"))
				require.NoError(t, os.WriteFile(written[len(written)-1], shared, 0o600))
			}
			slices.Sort(sounds)
			staff := slices.Compact(soundedBy(t, partOf(sheets[0])))
			assert.Equal(t, slices.Compact(sounds), staff, name)
		}
	}
	assert.GreaterOrEqual(t, groups, 10)
	t.Logf("%d groups, %d marks", groups, marks)
	for _, w := range []string{"a 2", "1.", "2."} {
		assert.Positive(t, words[w], w)
	}
	text, err := musicxmltest.Validate(t, written...)
	assert.NoError(t, err, text)
}

// numbersFollow reports whether two names differ in a number and the next.
func numbersFollow(a, b string) bool {
	n := len(a) - 1
	return n > 0 && len(b) == n+1 && a[:n] == b[:n] && b[n] == a[n]+1 && a[n] >= '1' && a[n] <= '8' &&
		!strings.HasPrefix(a, "Viol") && !strings.HasPrefix(a, "Soprano")
}

// theseStaves makes a score of some staves of another, its first bars.
func theseStaves(t *testing.T, from *musicxml.Score, chosen []int, bars int) *musicxml.Score {
	t.Helper()
	var list []*etree.Element
	for _, i := range chosen {
		part := firstBars(t, from, i, bars)
		dropLoneTies(t, part)
		list = append(list, part)
	}
	return scoreOfParts(t, from, list)
}

// dropLoneTies takes out ties that an editor left with one end: on a shared staff such an
// end may meet another player's.
func dropLoneTies(t *testing.T, part *etree.Element) {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	ends := map[string]bool{}
	each := func(do func(e *etree.Element, end, key, other string)) {
		for i := range timeline.Measures {
			m := &timeline.Measures[i]
			for _, ev := range m.Events {
				if ev.Kind != musicxml.Note || ev.Rest || musicxml.Child(ev.Element, "pitch") == nil {
					continue
				}
				p := contentOf(musicxml.Child(ev.Element, "pitch").Copy())
				start := m.Start.Add(ev.Onset)
				end := start.Add(ev.Duration)
				do(ev.Element, "start", "start "+end.String()+p, "stop "+end.String()+p)
				do(ev.Element, "stop", "stop "+start.String()+p, "start "+start.String()+p)
			}
		}
	}
	has := func(e *etree.Element, end string) bool {
		return slices.ContainsFunc(musicxml.Children(e, "tie"), func(tie *etree.Element) bool { return musicxml.Attr(tie, "type") == end })
	}
	each(func(e *etree.Element, end, key, _ string) { ends[key] = ends[key] || has(e, end) })
	each(func(e *etree.Element, end, _, other string) {
		if ends[other] {
			return
		}
		for _, holder := range append(musicxml.Children(e, "notations"), e) {
			for _, tie := range append(musicxml.Children(holder, "tie"), musicxml.Children(holder, "tied")...) {
				if musicxml.Attr(tie, "type") == end {
					holder.RemoveChild(tie)
				}
			}
		}
	})
}

func allSheets(t *testing.T, score *musicxml.Score, o parts.Options) ([]*parts.Part, error) {
	t.Helper()
	surveyed := partstest.Survey(t, score, o)
	job, err := surveyed.Assign()
	if err != nil {
		return nil, err
	}
	var sheets []*parts.Part
	for i := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		sheets = append(sheets, sheet)
	}
	return sheets, nil
}

// spelled lists the notes of a part with what hangs on them.
func spelled(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return told(t, part, func(bar int, ev *musicxml.Event) []string {
		if ev.Kind != musicxml.Note || ev.Rest {
			return nil
		}
		var marks []string
		collectMarks(ev.Element, &marks)
		sort.Strings(marks)
		return []string{fmt.Sprintf("%04d %s %s %v %s %s", bar, ev.Onset, ev.Duration, ev.Grace, letters(ev.Element), strings.Join(marks, " "))}
	})
}

// told is what is told of the events of a part, sorted.
func told(t *testing.T, part *etree.Element, of func(bar int, ev *musicxml.Event) []string) []string {
	t.Helper()
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	var list []string
	for i := range timeline.Measures {
		for k := range timeline.Measures[i].Events {
			list = append(list, of(i, &timeline.Measures[i].Events[k])...)
		}
	}
	slices.Sort(list)
	return list
}

// letters are step, alter and octave of a note, "" without pitch.
func letters(note *etree.Element) string {
	pitch := musicxml.Child(note, "pitch")
	return musicxml.ChildText(pitch, "step") + musicxml.ChildText(pitch, "alter") + musicxml.ChildText(pitch, "octave")
}

func collectMarks(e *etree.Element, marks *[]string) {
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "type", "dot":
			*marks = append(*marks, c.Tag+musicxml.Text(c))
		case "tie", "tied", "slur", "tuplet", "wavy-line":
			*marks = append(*marks, c.Tag+musicxml.Attr(c, "type"))
		case "articulations", "ornaments":
			for _, a := range c.ChildElements() {
				*marks = append(*marks, a.Tag)
			}
		case "notations":
			collectMarks(c, marks)
		}
	}
}

// marked lists what a part says to its player beside the notes: dynamics, words and both
// ends of lines, by bar and time.
func marked(t *testing.T, part *etree.Element) []string {
	t.Helper()
	return told(t, part, func(bar int, ev *musicxml.Event) (list []string) {
		if ev.Kind != musicxml.Direction {
			return nil
		}
		for _, kind := range musicxml.Children(ev.Element, "direction-type") {
			for _, e := range kind.ChildElements() {
				text := musicxml.Text(e)
				for _, c := range e.ChildElements() {
					text += c.Tag
				}
				if !whoPlays.MatchString(text) {
					list = append(list, fmt.Sprintf("%04d %s %s %s", bar, ev.Onset, e.Tag+musicxml.Attr(e, "type"), text))
				}
			}
		}
		return list
	})
}

// whoPlays are words of a staff for several players, which no player's own part has.
var whoPlays = regexp.MustCompile(`(?i)^\W*(\d|I{1,3}|(a|à|zu|unis\.?) *\d|unis|div)\W*$`)
