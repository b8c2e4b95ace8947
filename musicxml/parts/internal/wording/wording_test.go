package wording

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// The words as the table has them, in English where the language is none of the five.
func TestWords(t *testing.T) {
	t.Parallel()
	assert.Equal(t, []string{"To Piccolo", "nimmt Piccolo", "To Piccolo"}, []string{Take("en", "Piccolo"), Take("de", "Piccolo"), Take("xx", "Piccolo")})
	assert.Equal(t, []string{"Part 2", "Partie 2", "Part 2"}, []string{Part("en", "2"), Part("fr", "2"), Part("", "2")})
	assert.Equal(t, []string{"Horn (for Tuba)", "Corno (per Tuba)"}, []string{For("en", "Horn", "Tuba"), For("it", "Corno", "Tuba")})
}
