package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/transpose/pitch"
)

// TestCompany: words with two meanings are settled by the score's other parts.
func TestCompany(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct {
		name   string
		others []string
		want   string
		why    string
	}{
		{"Bass", []string{"Soprano", "Tenor", "Piano"}, "bass-voice", "a choir"},
		{"Bass", []string{"Violin I", "Violin II", "Cello"}, "double-bass", "strings"},
		{"Alto", []string{"Violon I", "Violon II", "Violoncelle"}, "viola", "French strings"},
		{"Alto", []string{"Soprano", "Tenor"}, "alto-voice", "a choir"},
		{"Baritone", []string{"Solo Cornet", "Euphonium"}, "baritone-horn-bflat-treble", "a brass band: treble clef (jayess)"},
		{"Baritone", []string{"Soprano", "Tenor", "Horn in F"}, "baritone-voice", "voices"},
		{"Alto 1", []string{"Alto 2", "Tenor 1", "Bari Sax", "Trumpet 1"}, "alto-saxophone-eflat", "a big band"},
		{"Tenor", []string{"Alto Recorder", "Soprano Recorder"}, "tenor-recorder", "a consort of recorders"},
		{"Horn in B", []string{"Flöte", "Klarinette in A", "Bratsche"}, "horn-bflat-basso", "a German score"},
		{"Trumpet in B", []string{"Flute", "Clarinet in A", "Bassoon"}, "trumpet-b", "an English score"},
		{"1st Baritone", []string{"Solo Cornet", "Euphonium"}, "baritone-horn-bflat-treble", "brass band: treble clef (jayess)"},
		{"Alt", []string{"Sopran", "Tenor"}, "alto-voice", "a choir"},
		{"Basses", []string{"Violins", "Cellos"}, "double-bass", "strings"},
	} {
		t.Run(test.name+" "+test.others[0], func(t *testing.T) {
			score := []instruments.Query{{Name: test.name}}
			for _, other := range test.others {
				score = append(score, instruments.Query{Name: other})
			}
			m := c.MatchScore(score)[0]
			assert.Equal(t, test.want, idOf(m.Instrument), test.why)
		})
	}
}

// TestLanguageOfScore: the score's language decides what a word or a plain B means.
func TestLanguageOfScore(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ name, language, want, why string }{
		{"Horn in B", "de", "horn-bflat-basso", "German B"},
		{"Horn in B", "en", "horn-b-basso", "English B"},
		{"Flügel", "de", "piano", "the German grand piano"},
		{"Flügel", "en", "flugelhorn-bflat", "short for the flugelhorn"},
		{"Bugle", "fr", "flugelhorn-bflat", "the French flugelhorn"},
		{"Bugle", "en", "bugle-g", "the signal bugle"},
	} {
		m := c.Match(instruments.Query{Name: test.name, Language: pitch.Language(test.language)})
		assert.Equal(t, test.want, idOf(m.Instrument), test.why)
	}
}
