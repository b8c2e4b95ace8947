package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

// TestLabelsAreRecognised: what the catalogue writes at the head of a part, it reads
// back as the same instrument, or as one that shares its name, and says so.
func TestLabelsAreRecognised(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, i := range c.All() {
		if i.Variant != "" {
			continue // the label does not name the notation
		}
		for _, language := range languages {
			label := i.Label(language, "2")
			m := c.Match(instruments.Query{Name: label, Language: language})
			if m.Instrument != i {
				assert.True(t, m.Assumed, "%s is recognised as %s", label, idOf(m.Instrument))
				assert.Contains(t, m.Alternatives, i, "%s is recognised as %s", label, idOf(m.Instrument))
			}
			assert.Equal(t, "2", m.Number, label)
		}
	}
}

// TestAbbreviationsAreRecognised: likewise, with the sound id beside them, as a
// score has them.
func TestAbbreviationsAreRecognised(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, i := range c.All() {
		if !i.Flags.Usual || i.Kind == "brass-band-bass" {
			continue // "Bass" without its key is the tuba where the sound is a tuba's
		}
		for _, language := range languages {
			short := i.ShortLabel(language, "1")
			m := c.Match(instruments.Query{Name: short, Sound: i.Sound(), Language: language})
			if assert.NotNil(t, m.Instrument, "%s (%s)", short, i.ID) {
				assert.Equal(t, i.Kind, m.Instrument.Kind, "%s (%s)", short, language)
			}
		}
	}
}
