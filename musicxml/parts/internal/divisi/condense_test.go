package divisi_test

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts/internal/divisi"
)

// TestCondensedPairs puts pairs of real parts (first and second flute, horns,
// trombones of ../shared/scores) on one staff as a score does (unisons "a 2",
// solos "1." and "2.", chords where the rhythm is the same, else two voices), and
// divides that staff again: each player must have the very notes, ties, slurs,
// tuplets, beams and articulations of the part that an editor wrote.
func TestCondensedPairs(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	pairs := 0
	for _, file := range musicxmltest.SharedFiles(t, "scores/written/*.mxl") {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		names := score.ScoreParts()
		for i := 1; i < len(score.Parts); i++ {
			if !isPair(names[i-1].Name, names[i].Name) {
				continue
			}
			first, err := score.ReadPart(i-1, nil)
			require.NoError(t, err)
			second, err := score.ReadPart(i, nil)
			require.NoError(t, err)
			if divided(lay(t, first)) || divided(lay(t, second)) {
				continue // chords and voices of its own: a string section
			}
			pairs++
			dropLoneTies(t, first)
			dropLoneTies(t, second)
			want := [][]string{spell(t, first), spell(t, second)}
			staff := condense(t, first, second)
			for k := range 2 {
				part := staff.Copy()
				timeline, err := musicxml.NewTimeline(part)
				require.NoError(t, err)
				report, err := divisi.Divide(timeline, divisi.Options{Players: pair(), Keep: k, Lexicon: lexicon})
				require.NoError(t, err)
				assert.Empty(t, report.Warnings)
				got := spell(t, part)
				for bar := range got {
					if !assert.Equal(t, want[k][bar], got[bar], "%s, %s, bar %d", file, names[i-1+k].Name, bar+1) {
						t.FailNow()
					}
				}
			}
		}
	}
	assert.Greater(t, pairs, 20)
}

// dropLoneTies takes out ties that an editor left with one end: on a shared staff
// such an end may meet the other part's.
func dropLoneTies(t testing.TB, part *etree.Element) {
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	ends := map[string]int{}
	each := func(do func(key string, e *etree.Element, end string)) {
		for i := range timeline.Measures {
			m := &timeline.Measures[i]
			for _, ev := range m.Events {
				if ev.Kind != musicxml.Note || ev.Rest {
					continue
				}
				start := m.Start.Add(ev.Onset)
				do(fmt.Sprint(start, height(ev.Element), "stop"), ev.Element, "stop")
				do(fmt.Sprint(start.Add(ev.Duration), height(ev.Element), "start"), ev.Element, "start")
			}
		}
	}
	each(func(key string, e *etree.Element, end string) {
		for _, tie := range musicxml.Children(e, "tie") {
			if musicxml.Attr(tie, "type") == end {
				ends[key]++
			}
		}
	})
	each(func(key string, e *etree.Element, end string) {
		other := strings.TrimSuffix(key, end) + map[string]string{"start": "stop", "stop": "start"}[end]
		if ends[other] > 0 {
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

func lay(t testing.TB, part *etree.Element) *musicxml.Timeline {
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	return timeline
}

// isPair reports whether two names differ in an odd number and the next.
func isPair(a, b string) bool {
	n := len(a) - 1
	return n > 0 && len(b) == n+1 && a[:n] == b[:n] && (a[n] == '1' && b[n] == '2' || a[n] == '3' && b[n] == '4')
}

// spell writes each bar's notes in the order of time.
func spell(t testing.TB, part *etree.Element) []string {
	timeline, err := musicxml.NewTimeline(part)
	require.NoError(t, err)
	bars := make([]string, len(timeline.Measures))
	for i := range timeline.Measures {
		var notes []string
		for _, ev := range timeline.Measures[i].Events {
			if ev.Kind == musicxml.Note && !ev.Rest {
				notes = append(notes, fmt.Sprintf("%08.4f %s", ev.Onset.Float(), spellNote(ev.Element)))
			}
		}
		sort.Strings(notes)
		bars[i] = strings.Join(notes, "\n")
	}
	return bars
}

func spellNote(e *etree.Element) string {
	var marks []string
	var walk func(e *etree.Element)
	walk = func(e *etree.Element) {
		for _, c := range e.ChildElements() {
			switch c.Tag {
			case "beam":
				marks = append(marks, "beam "+musicxml.Attr(c, "number")+" "+musicxml.Text(c))
			case "tied", "tie", "slur", "tuplet", "wavy-line", "glissando", "slide":
				marks = append(marks, c.Tag+" "+musicxml.Attr(c, "type"))
			case "grace", "chord":
				marks = append(marks, c.Tag)
			case "articulations", "ornaments":
				for _, a := range c.ChildElements() {
					if a.Tag != "wavy-line" {
						marks = append(marks, a.Tag)
					}
				}
				walk(c)
			case "notations":
				walk(c)
			}
		}
	}
	walk(e)
	sort.Strings(marks)
	text := musicxml.ChildText(e, "type") + strings.Repeat(".", len(musicxml.Children(e, "dot")))
	if p := musicxml.Child(e, "pitch"); p != nil {
		text += " " + musicxml.ChildText(p, "step") + musicxml.ChildText(p, "alter") + musicxml.ChildText(p, "octave")
	}
	return text + " " + strings.Join(marks, ", ")
}

// condense puts two parts on one staff.
func condense(t testing.TB, a, b *etree.Element) *etree.Element {
	first, err := musicxml.NewTimeline(a)
	require.NoError(t, err)
	second, err := musicxml.NewTimeline(b)
	require.NoError(t, err)
	kinds := make([]string, len(first.Measures))
	for i := range kinds {
		kinds[i] = kindOf(&first.Measures[i], &second.Measures[i])
	}
	raiseSlurs(a, b, kinds)
	staff := etree.NewElement("part")
	for i := range first.Measures {
		staff.AddChild(condenseBar(first.Measures[i].Element, second.Measures[i].Element, kinds[i]))
	}
	return staff
}

// kindOf says how two bars share a staff.
func kindOf(a, b *musicxml.Measure) string {
	notesA, notesB := soundingIn(a), soundingIn(b)
	switch {
	case len(notesA) == 0 && len(notesB) == 0:
		return "rest"
	case len(notesB) == 0:
		return "1."
	case len(notesA) == 0:
		return "2."
	case rhythmOf(a, true) == rhythmOf(b, true):
		return "a 2"
	case rhythmOf(a, false) == rhythmOf(b, false) && above(notesA, notesB):
		return "chords"
	}
	return "voices"
}

func soundingIn(m *musicxml.Measure) []*etree.Element {
	var notes []*etree.Element
	for _, ev := range m.Events {
		if ev.Kind == musicxml.Note && !ev.Rest {
			notes = append(notes, ev.Element)
		}
	}
	return notes
}

func rhythmOf(m *musicxml.Measure, pitches bool) string {
	var text []string
	for _, ev := range m.Events {
		if ev.Kind != musicxml.Note {
			continue
		}
		note := fmt.Sprintf("%v %v %v", ev.Onset, ev.Duration, ev.Rest)
		if pitches && !ev.Rest {
			note += spellNote(ev.Element)
		} else if !ev.Rest {
			// A chord shares its stem: what hangs on it must be equal.
			if spelled := strings.SplitN(spellNote(ev.Element), " ", 3); len(spelled) == 3 {
				note += spelled[2]
			}
		}
		text = append(text, note)
	}
	return strings.Join(text, "|")
}

// above reports whether the notes can be chords with the first on top.
func above(a, b []*etree.Element) bool {
	for i := range a {
		if musicxml.Child(a[i], "chord") != nil || musicxml.Child(b[i], "chord") != nil || musicxml.Child(a[i], "grace") != nil ||
			height(a[i]) <= height(b[i]) {
			return false
		}
	}
	return true
}

func height(note *etree.Element) int {
	p := musicxml.Child(note, "pitch")
	if p == nil {
		return 0
	}
	octave, _ := strconv.Atoi(musicxml.ChildText(p, "octave"))
	alter, _ := strconv.Atoi(musicxml.ChildText(p, "alter"))
	return 12*octave + []int{9, 11, 0, 2, 4, 5, 7}[musicxml.ChildText(p, "step")[0]-'A'] + alter
}

// raiseSlurs numbers the second part's slurs from 4, as a staff with two voices
// does, but for those that lie in unisons; where such a slur begins or ends on a
// unison, the first part's note gets its end too.
func raiseSlurs(a, b *etree.Element, kinds []string) {
	type end struct {
		bar, note int
		slur      *etree.Element
	}
	open := map[string]end{}
	barsA := musicxml.Children(a, "measure")
	for i, measure := range musicxml.Children(b, "measure") {
		for k, note := range musicxml.Children(measure, "note") {
			for _, notations := range musicxml.Children(note, "notations") {
				for _, slur := range musicxml.Children(notations, "slur") {
					number := musicxml.Attr(slur, "number")
					here := end{i, k, slur}
					if musicxml.Attr(slur, "type") == "start" {
						open[number] = here
						continue
					}
					from, ok := open[number]
					delete(open, number)
					if !ok || kinds[from.bar] == "a 2" && kinds[i] == "a 2" {
						continue
					}
					for _, e := range []end{from, here} {
						n, _ := strconv.Atoi(number)
						e.slur.CreateAttr("number", strconv.Itoa(max(n, 1)+3))
						if kinds[e.bar] == "a 2" {
							musicxml.Child(musicxml.Children(barsA[e.bar], "note")[e.note], "notations").AddChild(e.slur.Copy())
						}
					}
				}
			}
		}
	}
}

// condenseBar puts two bars on one staff; everything but notes is the first's.
func condenseBar(a, b *etree.Element, kind string) *etree.Element {
	bar := a.Copy()
	var notes []*etree.Element
	for _, c := range bar.ChildElements() {
		switch c.Tag {
		case "note", "backup", "forward", "direction":
			bar.RemoveChild(c)
		}
	}
	if kind != "rest" && kind != "chords" && kind != "voices" {
		direction := etree.NewElement("direction")
		direction.CreateElement("direction-type").CreateElement("words").SetText(kind)
		notes = append(notes, direction)
	}
	switch kind {
	case "2.":
		notes = append(notes, voice(b, "1")...)
	case "chords":
		lower := voice(b, "1")
		for i, n := range voice(a, "1") {
			if musicxml.Child(n, "rest") != nil {
				notes = append(notes, n)
				continue
			}
			musicxml.AddInOrder(n, etree.NewElement("chord"))
			notes = append(notes, lower[i], n)
		}
	case "voices":
		upper := voice(a, "1")
		length := 0
		for _, n := range upper {
			d, _ := strconv.Atoi(musicxml.ChildText(n, "duration"))
			if musicxml.Child(n, "chord") == nil {
				length += d
			}
		}
		backup := etree.NewElement("backup")
		backup.CreateElement("duration").SetText(strconv.Itoa(length))
		notes = append(append(append(notes, upper...), backup), voice(b, "2")...)
	default:
		notes = append(notes, voice(a, "1")...)
	}
	at := len(bar.Child)
	for i, token := range bar.Child {
		if e, ok := token.(*etree.Element); ok && e.Tag == "barline" && musicxml.Attr(e, "location") != "left" {
			at = i
			break
		}
	}
	for i, n := range notes {
		bar.InsertChildAt(at+i, n)
	}
	return bar
}

// voice copies a bar's notes into a voice.
func voice(bar *etree.Element, name string) []*etree.Element {
	var notes []*etree.Element
	for _, n := range musicxml.Children(bar, "note") {
		c := n.Copy()
		musicxml.SetChildText(c, "voice", name)
		notes = append(notes, c)
	}
	return notes
}
