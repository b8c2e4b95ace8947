package shorthand

import (
	"cmp"
	"regexp"
	"strconv"
	"strings"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

var (
	lengths      = map[string]int{"w": 96, "h": 48, "q": 24, "e": 12, "s": 6}
	valueNames   = map[string]string{"w": "whole", "h": "half", "q": "quarter", "e": "eighth", "s": "16th"}
	valueLetters = map[string]string{"whole": "w", "half": "h", "quarter": "q", "eighth": "e", "16th": "s"}
)

// noteToken is a note: what it is, its pitches, its value, its flags, its instruments,
// its syllable, its other notations.
var noteToken = regexp.MustCompile(`^([gu]!)?(\+)?([A-G][#b]*\d(?:\+[A-G][#b]*\d)*|r|x|_)(?::([whqes])(d*)(t?))?([^'#«]*)(?:#(\d+))?(?:'([^']*)')?(?:«(.*)»)?$`)

// noteText is a token taken apart.
type noteText struct {
	kind, pitches, value, dots, triplet, flags, instruments, syllable, notations string
	further                                                                      bool // one more note of the chord before
}

func (w *writer) note(token string) {
	m := noteToken.FindStringSubmatch(token)
	require.NotNil(w.t, m, "note %q", token)
	n := noteText{kind: m[1], further: m[2] != "", pitches: m[3], value: m[4], dots: m[5], triplet: m[6], flags: m[7],
		instruments: m[8], syllable: m[9], notations: strings.ReplaceAll(m[10], "·", " ")}
	n.value = cmp.Or(n.value, "q")
	if n.pitches == "_" {
		w.measure.CreateElement("forward").CreateElement("duration").SetText(strconv.Itoa(n.length()))
		w.now += n.length()
		return
	}
	for i, name := range strings.Split(n.pitches, "+") {
		w.head(n, name, i)
	}
	if n.kind != "g!" && !n.further {
		w.now += n.length()
	}
}

func (n noteText) length() int {
	length := lengths[n.value]
	if n.dots != "" {
		length = length * 3 / 2
	}
	if n.triplet != "" {
		length = length * 2 / 3
	}
	return length
}

// head writes one note of a chord, counted from 0.
func (w *writer) head(n noteText, name string, i int) {
	note := w.measure.CreateElement("note")
	if n.kind == "g!" {
		note.CreateElement("grace")
	}
	if i > 0 || n.further {
		note.CreateElement("chord")
	}
	w.what(note, n.kind, name)
	if n.kind != "g!" {
		note.CreateElement("duration").SetText(strconv.Itoa(n.length()))
	}
	ends(note, "tie", n.flags)
	for _, id := range n.instruments {
		note.CreateElement("instrument").CreateAttr("id", "I"+string(id))
	}
	note.CreateElement("voice").SetText(strconv.Itoa(w.voice))
	note.CreateElement("type").SetText(valueNames[n.value])
	if n.dots != "" {
		note.CreateElement("dot")
	}
	if n.triplet != "" {
		modified := note.CreateElement("time-modification")
		modified.CreateElement("actual-notes").SetText("3")
		modified.CreateElement("normal-notes").SetText("2")
	}
	w.stem(note, n.flags)
	if w.staves || w.staff > 1 {
		note.CreateElement("staff").SetText(strconv.Itoa(w.staff))
	}
	w.marks(note, n, i == 0)
}

// what writes the pitch, the rest or the stroke.
func (w *writer) what(note *etree.Element, kind, name string) {
	if name == "r" || name == "x" {
		note.CreateElement("rest")
		if name == "x" {
			note.CreateAttr("print-object", "no")
		}
		return
	}
	p, err := pitch.Parse(name)
	require.NoError(w.t, err)
	if kind == "u!" {
		e := note.CreateElement("unpitched")
		e.CreateElement("display-step").SetText(p.Step.String())
		e.CreateElement("display-octave").SetText(strconv.Itoa(p.Octave))
		return
	}
	require.NoError(w.t, music.WritePitch(note.CreateElement("pitch"), p))
}

func (w *writer) stem(note *etree.Element, flags string) {
	for flag, stem := range map[string]string{"↑": "up", "↓": "down", "!": "none"} {
		if strings.Contains(flags, flag) {
			note.CreateElement("stem").SetText(stem)
		}
	}
}

// marks writes beams, notations and the syllable; of a chord its first note has them,
// and the others their ties.
func (w *writer) marks(note *etree.Element, n noteText, first bool) {
	notations := etree.NewElement("notations")
	ends(notations, "tied", n.flags)
	if strings.Contains(n.flags, "*") && first {
		note.CreateAttr("print-object", "no")
	}
	if first {
		for _, flag := range n.flags {
			mark(note, notations, flag)
		}
		w.raw(notations, n.notations)
	}
	if len(notations.ChildElements()) > 0 {
		note.AddChild(notations)
	}
	if first && n.syllable != "" {
		note.CreateElement("lyric").CreateElement("text").SetText(n.syllable)
	}
}

// ends writes the ends of a tie.
func ends(parent *etree.Element, tag, flags string) {
	if strings.Contains(flags, "^") {
		parent.CreateElement(tag).CreateAttr("type", "stop")
	}
	if strings.Contains(flags, "~") {
		parent.CreateElement(tag).CreateAttr("type", "start")
	}
}

// mark writes what one flag says.
func mark(note, notations *etree.Element, flag rune) {
	if beam := map[rune]string{'{': "begin", '-': "continue", '}': "end"}[flag]; beam != "" {
		e := note.CreateElement("beam")
		e.CreateAttr("number", "1")
		e.SetText(beam)
	}
	for tag, flags := range map[string]string{"slur": "()", "tuplet": "[]"} {
		switch strings.IndexRune(flags, flag) {
		case 0:
			span(notations, tag, "start")
		case 1:
			span(notations, tag, "stop")
		}
	}
	switch flag {
	case '?':
		notations.CreateElement("fermata")
	case '.':
		notations.CreateElement("articulations").CreateElement("staccato")
	}
}

func span(notations *etree.Element, tag, end string) {
	e := notations.CreateElement(tag)
	e.CreateAttr("type", end)
	e.CreateAttr("number", "1")
}
