package divisi_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
)

// FuzzDivide divides whatever can be laid out in time. Nothing panics, what comes
// out can be laid out again, and no note is lost.
func FuzzDivide(f *testing.F) {
	for _, music := range []string{
		`"a 2" C5:e{ D5:e- "1." E5:e- F5:e} G5:h | C5+E5:q. !< D5+F5:q C5+E5:h !.`,
		`E5:h( g!D5:e G5:h) / C5:h* D5:h | "2." C5:et[ D5:et~ D5:et]^ x:q r:h / _:h C5:h?`,
		`"1." E5:w // "3." C4:w | C5+E5:w'la' // "a 2" D4:w`,
	} {
		doc := etree.NewDocument()
		doc.SetRoot(shorthand.Part(f, music))
		data, err := doc.WriteToBytes()
		require.NoError(f, err)
		f.Add(byte(2), data)
	}
	lexicon, err := divisi.LoadLexicon()
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, players byte, data []byte) {
		doc := etree.NewDocument()
		if len(data) > 1<<14 || doc.ReadFromBytes(data) != nil || doc.Root() == nil {
			return
		}
		o := divisi.Options{Lexicon: lexicon}
		for n := range 1 + int(players)%4 {
			o.Players = append(o.Players, divisi.Player{Number: n + 1})
		}
		want, got := fuzzedNotes(doc.Root()), map[string]bool{}
		if want == nil {
			return
		}
		for o.Keep = range o.Players {
			part := doc.Root().Copy()
			timeline, err := musicxml.NewTimeline(part)
			require.NoError(t, err)
			if _, err := divisi.Divide(timeline, o); err != nil {
				return
			}
			for note := range fuzzedNotes(part) {
				got[note] = true
			}
		}
		assert.Equal(t, want, got)
	})
}

// fuzzedNotes lists the pitches of each bar; nil for what cannot be laid out.
func fuzzedNotes(part *etree.Element) map[string]bool {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return nil
	}
	notes := map[string]bool{}
	for i := range timeline.Measures {
		for _, ev := range timeline.Measures[i].Events {
			if p := musicxml.Child(ev.Element, "pitch"); ev.Kind == musicxml.Note && !ev.Rest && p != nil {
				notes[string(rune(i))+musicxml.ChildText(p, "step")+musicxml.ChildText(p, "octave")+ev.Onset.String()] = true
			}
		}
	}
	return notes
}
