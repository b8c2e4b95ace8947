package instruments_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

// TestMatchChange: words of change are those of instrument-names.csv ("change to")
// and common practice.
func TestMatchChange(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ current, words, want, why string }{
		{"alto-saxophone-eflat", "to Tenor Sax", "tenor-saxophone-bflat", "English, weak word and an instrument"},
		{"alto-saxophone-eflat", "To Tenor", "tenor-saxophone-bflat", "for a saxophone player the tenor is a saxophone"},
		{"flute", "to Alto Sax.", "alto-saxophone-eflat", "another family"},
		{"flute", "take Piccolo", "piccolo", "English"},
		{"flute", "Change to Piccolo", "piccolo", "English"},
		{"flute", "switch to alto flute", "alto-flute-g", "English"},
		{"alto-saxophone-eflat", "change to Bb Clarinet", "clarinet-bflat", "English with key"},
		{"alto-saxophone-eflat", "(to B♭ Clarinet)", "clarinet-bflat", "brackets"},
		{"clarinet-bflat", "Cl. 2 to Bass Cl.", "bass-clarinet-bflat", "says who"},
		{"percussion", "to Triangle", "triangle", "unpitched"},
		{"drum-set", "to Vibes", "vibraphone", "short name"},
		{"piano", "to Celesta", "celesta", "keyboard"},
		{"violin", "to Viola", "viola", "strings"},
		{"clarinet-bflat", "muta in A", "clarinet-a", "instrument-names.csv; a key alone keeps the kind"},
		{"horn-f", "muta in A", "horn-a", "the same words for a horn"},
		{"horn-f", "Muta in Sib basso", "horn-bflat-basso", "register"},
		{"horn-f", "muta F in E", "horn-e", "from and to"},
		{"horn-f", "1. 2. muta in Es", "horn-eflat", "players"},
		{"clarinet-a", "muta in B", "clarinet-bflat", "plain B"},
		{"oboe", "muta in Corno inglese", "english-horn", "Italian instrument"},
		{"flute", "muta in Ottavino", "piccolo", "Italian instrument"},
		{"flute", "muta in Fl. picc.", "piccolo", "abbreviation"},
		{"piccolo", "muta in Fl. gr.", "flute", "back"},
		{"clarinet-bflat", "Clar. 2 muta in Clarone", "bass-clarinet-bflat", "who and what"},
		{"flute", "prende il flauto piccolo", "piccolo", "instrument-names.csv, article"},
		{"flute", "nimmt Piccolo", "piccolo", "instrument-names.csv"},
		{"flute", "2. nimmt Piccolo", "piccolo", "player"},
		{"clarinet-bflat", "nimmt A-Klarinette", "clarinet-a", "hyphen"},
		{"clarinet-a", "wechselt zu B-Klarinette", "clarinet-bflat", "German B"},
		{"flute", "zur Altflöte", "alto-flute-g", "German, weak"},
		{"oboe", "Engl. Horn nehmen", "english-horn", "verb last"},
		{"clarinet-bflat", "nimmt die Bassklarinette", "bass-clarinet-bflat", "article"},
		{"piccolo", "prend la flûte", "flute", "instrument-names.csv; la is no key"},
		{"piccolo", "prend la 2e flûte", "flute", "article and number"},
		{"flute", "prenez le piccolo", "piccolo", "French"},
		{"flute", "prend la petite flûte", "piccolo", "French"},
		{"clarinet-bflat", "changez en La", "clarinet-a", "instrument-names.csv"},
		{"flute", "changez en Sol", "alto-flute-g", "the flute in G is the alto flute"},
		{"clarinet-bflat", "cambia a clarinete bajo", "bass-clarinet-bflat", "instrument-names.csv"},
		{"clarinet-bflat", "toma requinto", "clarinet-eflat", "a name for one key"},
		{"clarinet-bflat", "in A", "clarinet-a", "a key alone"},
		{"clarinet-bflat", "(in La)", "clarinet-a", "brackets"},
		{"clarinet-a", "in Si♭", "clarinet-bflat", "sign"},
		{"horn-f", "in Es", "horn-eflat", "German key"},
		{"trumpet-bflat", "in C", "trumpet-c", "a key alone"},
		{"bass-clarinet-bflat-bass-clef", "muta in A", "bass-clarinet-a-bass-clef", "the notation stays"},
		{"horn-f-old-bass", "in E", "horn-e-old-bass", "the notation stays"},
		{"clarinet-bflat", "Clarinet in A", "clarinet-a", "a name with another key"},
		{"horn-f", "Horn in D", "horn-d", "a name with another key"},
		{"clarinet-bflat", "change to A", "clarinet-a", "a key alone after English words"},
		{"clarinet-bflat", "Change to A Clarinet", "clarinet-a", "the same with the instrument"},
		{"clarinet-a", "wechselt zu B", "clarinet-bflat", "a key alone after German words"},
		{"clarinet-bflat", "nimmt A", "clarinet-a", "a key alone after a verb"},
		{"trumpet-bflat", "cambia a Do", "trumpet-c", "a key alone after Spanish words"},
		{"horn-f", "passez à mi bémol", "horn-eflat", "a key alone after French words"},
		{"english-horn", "wieder Oboe", "oboe", "going back, common practice, no source"},
		{"english-horn", "Oboe wieder", "oboe", "the word last"},
		{"english-horn", "zurück zur Oboe", "oboe", "German"},
		{"english-horn", "back to Oboe", "oboe", "English"},
		{"english-horn", "Ob. again", "oboe", "English, the word last"},
		{"piccolo", "reprend la grande flûte", "flute", "French"},
		{"english-horn", "de nouveau hautbois", "oboe", "French"},
		{"english-horn", "torna all'oboe", "oboe", "Italian, elided"},
		{"english-horn", "riprende l'oboe", "oboe", "Italian"},
		{"english-horn", "di nuovo oboe", "oboe", "Italian"},
		{"english-horn", "vuelve al oboe", "oboe", "Spanish"},
		{"english-horn", "otra vez oboe", "oboe", "Spanish"},
		{"clarinet-a", "wieder in B", "clarinet-bflat", "a key alone"},
		{"flute", "Piccolo", "piccolo", "a name alone, within the family"},
		{"piccolo", "Flute", "flute", "a name alone, within the family"},
	} {
		t.Run(test.current+" "+test.words, func(t *testing.T) {
			m, ok := c.MatchChange(test.words, c.ByID(test.current))
			assert.True(t, ok, test.why)
			assert.Equal(t, test.want, idOf(m.Instrument), test.why)
		})
	}
}

func TestMatchChangeNot(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct{ current, words, why string }{
		{"flute", "", "nothing"},
		{"flute", "to Coda", "a road sign"},
		{"flute", "To Fine", "a road sign"},
		{"flute", "D.S. al Coda", "a road sign"},
		{"trumpet-bflat", "in tempo", "no key"},
		{"trumpet-bflat", "In 2", "beats"},
		{"trumpet-bflat", "in modo di marcia", "character"},
		{"flute", "Andante in A minor", "more than a key"},
		{"flute", "in A", "no flute in A"},
		{"cello", "in F", "a cello has no key"},
		{"timpani", "muta in D, G", "a new tuning"},
		{"timpani", "muta C in D", "a new tuning"},
		{"trumpet-bflat", "take mute", "no instrument"},
		{"violin", "take A", "a violin has no key"},
		{"trumpet-bflat", "change to straight mute", "no key"},
		{"trumpet-bflat", "con sordino", "no instrument"},
		{"horn-f", "mit Dämpfer", "no instrument"},
		{"oboe", "a 2", "both players"},
		{"flute", "solo", "no instrument"},
		{"violin", "pizz.", "no instrument"},
		{"violin", "wieder arco", "no instrument"},
		{"horn-f", "again in tempo", "no key"},
		{"flute", "di nuovo a tempo", "no instrument"},
		{"flute", "wieder mit Oboe", "with another"},
		{"flute", "again with the oboe", "with another"},
		{"oboe", "Oboe again", "the instrument it is"},
		{"oboe", "retour au début", "the beginning"},
		{"flute", "Fl. 1", "a cue"},
		{"flute", "Horn", "a cue: another family"},
		{"flute", "Clarinet in A", "a cue: another family"},
		{"flute", "Flute", "the instrument it is"},
		{"clarinet-bflat", "B-Klarinette", "the instrument it is"},
		{"clarinet-bflat", "Clarinet", "the instrument it is"},
		{"piano", "with the voice", "no change"},
		{"flute", "to be played as soft as the strings of the violins could ever be played by anyone", "too long for a direction"},
	} {
		t.Run(test.current+" "+test.words, func(t *testing.T) {
			m, ok := c.MatchChange(test.words, c.ByID(test.current))
			assert.False(t, ok, "%s, but taken for %s", test.why, idOf(m.Instrument))
		})
	}
}

func TestMatchChangePlayers(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	m, ok := c.MatchChange("2. nimmt Piccolo", c.ByID("flute"))
	assert.True(t, ok)
	assert.Equal(t, []int{2}, m.Players)
	m, ok = c.MatchChange("1. 2. muta in Es", c.ByID("horn-f"))
	assert.True(t, ok)
	assert.Equal(t, "1,2", m.Number)
	m, ok = c.MatchChange("Piccolo", c.ByID("flute"))
	assert.True(t, ok)
	assert.True(t, m.Assumed, "a name alone may be a cue")
	_, ok = c.MatchChange("take Piccolo", nil)
	assert.True(t, ok, "without a current instrument")
	_, ok = c.MatchChange("in A", nil)
	assert.False(t, ok, "a key alone needs a current instrument")
}

// TestMatchChangeOf: a name alone is a change for a player who has the instrument, may
// be one where it is another wind instrument's, written out, and is none else.
func TestMatchChangeOf(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	for _, test := range []struct {
		current, has, words, want string
		told                      instruments.Told
	}{
		{"alto-saxophone-eflat", "clarinet-bflat", "Clarinet", "clarinet-bflat", instruments.Changes},
		{"alto-saxophone-eflat", "clarinet-a", "Clarinet", "clarinet-a", instruments.Changes},
		{"alto-saxophone-eflat", "clarinet-bflat", "Clarinet in Bb", "clarinet-bflat", instruments.Changes},
		{"alto-saxophone-eflat", "flute", "Fl.", "flute", instruments.Changes},
		{"alto-saxophone-eflat", "", "Clarinet", "clarinet-bflat", instruments.MayChange},
		{"alto-saxophone-eflat", "", "Clarinet in Bb", "clarinet-bflat", instruments.MayChange},
		{"alto-saxophone-eflat", "clarinet-bflat", "Flute", "flute", instruments.MayChange},
		{"alto-saxophone-eflat", "", "to Clarinet", "clarinet-bflat", instruments.Changes},
		{"alto-saxophone-eflat", "", "Cl.", "none", instruments.NoChange},
		{"alto-saxophone-eflat", "", "Clarinet 1", "none", instruments.NoChange},
		{"alto-saxophone-eflat", "", "Violin", "none", instruments.NoChange},
		{"violin", "", "Flute", "none", instruments.NoChange},
		{"flute", "", "Soprano", "none", instruments.NoChange},
	} {
		var has []*instruments.Instrument
		if test.has != "" {
			has = append(has, c.ByID(test.has))
		}
		m, told := c.MatchChangeOf(test.words, c.ByID(test.current), has)
		assert.Equal(t, test.told, told, "%s, with %s: %s", test.current, test.has, test.words)
		assert.Equal(t, test.want, idOf(m.Instrument), "%s, with %s: %s", test.current, test.has, test.words)
	}
}
