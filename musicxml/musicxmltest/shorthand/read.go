package shorthand

import (
	"fmt"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
)

var beamFlags = map[string]string{"begin": "{", "continue": "-", "end": "}"}

// Read writes a <part> in the notation; what it cannot say is left out, and
// attributes too.
func Read(part *etree.Element) string { return read(part, false) }

// ReadAll is Read with keys, clefs and transpositions.
func ReadAll(part *etree.Element) string { return read(part, true) }

func read(part *etree.Element, attributes bool) string {
	var bars []string
	for _, measure := range musicxml.Children(part, "measure") {
		bars = append(bars, readBar(measure, attributes))
	}
	return strings.Join(bars, " | ")
}

func readBar(measure *etree.Element, attributes bool) string {
	var tokens []string
	for _, e := range measure.ChildElements() {
		switch e.Tag {
		case "note":
			if musicxml.Child(e, "chord") != nil {
				last := len(tokens) - 1
				head, tail, _ := strings.Cut(tokens[last], ":")
				tokens[last] = head + "+" + readPitch(e) + ":" + tail
				continue
			}
			tokens = append(tokens, readNote(e))
		case "direction":
			tokens = append(tokens, readDirection(e)...)
		case "attributes":
			if text := readAttributes(e); attributes && text != "" {
				tokens = append(tokens, text)
			}
		case "backup":
			tokens = append(tokens, "/")
		case "forward":
			tokens = append(tokens, "_"+musicxml.ChildText(e, "duration"))
		}
	}
	return strings.Join(tokens, " ")
}

func readDirection(e *etree.Element) []string {
	var tokens []string
	at := ""
	if offset := musicxml.ChildText(e, "offset"); offset != "" {
		at = "@" + offset
	}
	for _, typed := range musicxml.Children(e, "direction-type") {
		for _, c := range typed.ChildElements() {
			switch c.Tag {
			case "words":
				tokens = append(tokens, fmt.Sprintf("%q%s", musicxml.Text(c), at))
			case "dynamics":
				tokens = append(tokens, "!"+c.ChildElements()[0].Tag+at)
			case "wedge":
				tokens = append(tokens, "!"+map[string]string{"crescendo": "<", "diminuendo": ">", "stop": "."}[musicxml.Attr(c, "type")]+at)
			}
		}
	}
	return tokens
}

func readPitch(e *etree.Element) string {
	if rest := musicxml.Child(e, "rest"); rest != nil {
		if musicxml.Attr(rest, "measure") == "yes" {
			return "R"
		}
		return "r"
	}
	p, pitched, err := music.PitchOf(e)
	if err != nil || !pitched {
		return ""
	}
	return p.String()
}

func readNote(e *etree.Element) string {
	pitch := readPitch(e)
	if pitch == "R" && musicxml.Child(e, "notations") == nil {
		return pitch
	}
	if pitch == "R" {
		return "R?"
	}
	text := pitch + ":" + valueLetters[musicxml.ChildText(e, "type")]
	if musicxml.ChildText(e, "type") == "" {
		text += musicxml.ChildText(e, "duration")
	}
	text += strings.Repeat("d", len(musicxml.Children(e, "dot")))
	if musicxml.Child(e, "time-modification") != nil {
		text += "t"
	}
	for _, beam := range musicxml.Children(e, "beam") {
		if musicxml.Attr(beam, "number") == "1" {
			text += beamFlags[musicxml.Text(beam)]
		}
	}
	for _, tie := range musicxml.Children(e, "tie") {
		text += map[string]string{"stop": "^", "start": "~"}[musicxml.Attr(tie, "type")]
	}
	for _, notations := range musicxml.Children(e, "notations") {
		for _, c := range notations.ChildElements() {
			text += map[string]string{"slurstop": ")", "slurstart": "(", "tupletstart": "[", "tupletstop": "]", "fermata": "?",
				"articulations": "."}[c.Tag+musicxml.Attr(c, "type")]
		}
	}
	if musicxml.Attr(e, "print-object") == "no" {
		text += "*"
	}
	if id := musicxml.Children(e, "instrument"); len(id) > 0 {
		text += "#"
		for _, i := range id {
			text += musicxml.Attr(i, "id")[1:]
		}
	}
	if lyric := musicxml.Child(e, "lyric"); lyric != nil {
		text += "'" + musicxml.ChildText(lyric, "text") + "'"
	}
	if musicxml.Child(e, "cue") != nil {
		return "c!" + text
	}
	if musicxml.Child(e, "grace") != nil {
		return "g!" + text
	}
	return text
}

func readAttributes(e *etree.Element) string {
	var words []string
	for _, c := range e.ChildElements() {
		switch c.Tag {
		case "key", "clef", "transpose":
			words = append(words, c.Tag)
			for _, value := range c.ChildElements() {
				if value.Tag != "mode" {
					words = append(words, musicxml.Text(value))
				}
			}
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "[" + strings.Join(words, " ") + "]"
}
