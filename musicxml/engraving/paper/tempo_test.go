package paper

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Beats a minute that words let one expect (from memory: the middle of what metronomes
// print), and every row of the table is one that can be taken.
func TestTempoOfWords(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]float64{
		"Allegretto": 112, "ALLEGRO": 132, "Un poco adagio": 66, "Sehr schnell": 168, "schnell": 144, "Très vif": 168, "Mäßig": 100, "dolce": 0, "": 0,
	} {
		got, ok := wordTempo(text)
		assert.InDelta(t, want, got, 0, text)
		assert.Equal(t, want > 0, ok, text)
	}
	require.NotEmpty(t, temposOfWords())
	for _, row := range temposOfWords() {
		got, ok := wordTempo(row[0])
		assert.True(t, ok && got > slowest && got < fastest, "%q", row)
	}
}
