package wording

import (
	"embed"
	"sync"

	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

//go:embed data
var data embed.FS

var table = sync.OnceValues(func() (*words.Table, error) { return words.ReadTable(data, "data/wording.csv") })

// say fills a text, in English where the language is none of the five. Where the table
// cannot be read there is nothing to say.
func say(l pitch.Language, key string, fill words.Fill) string {
	t, err := table()
	if err != nil {
		return ""
	}
	if _, err := words.In(l); err != nil {
		l = pitch.English
	}
	return t.In(l, key, fill)
}

// Take tells a player to take another instrument, where the old one stops: "To Piccolo".
func Take(l pitch.Language, instrument string) string {
	return say(l, "take", words.Fill{"instrument": instrument})
}

// Part names a part by its number alone: "Part 2".
func Part(l pitch.Language, number string) string { return say(l, "part", words.Fill{"n": number}) }

// For names a part that stands for another: "Horn in E♭ (for Horn in F)".
func For(l pitch.Language, part, other string) string {
	return say(l, "for", words.Fill{"part": part, "other": other})
}
