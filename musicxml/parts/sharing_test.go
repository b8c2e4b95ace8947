package parts_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/transpose/pitch"
)

// TestPlayersOfAPart: who shares a staff is read from the part's name, else from
// what the standard says of it; a section that plays as one stays one
// (part-preparation, 2).
func TestPlayersOfAPart(t *testing.T) {
	t.Parallel()
	const oneLine, chords = `C5:w | D5:w`, `C5+E5:w | D5:w`
	for _, c := range []struct {
		name, why   string
		part        string
		instruments []string
		music       string
		language    string
		plan        []parts.PlanRow
		want        []string
	}{
		{name: "two flutes", why: "the name numbers them", part: "Flutes 1 & 2", music: oneLine, want: []string{"Flute 1", "Flute 2"}},
		{name: "German labels", why: "in the label's language", part: "Klarinetten 1.2 in B", music: oneLine, language: "de", want: []string{"Klarinette in B 1", "Klarinette in B 2"}},
		{name: "horns three and four", why: "their own numbers", part: "Horns in F 3 & 4", music: oneLine, want: []string{"Horn in F 3", "Horn in F 4"}},
		{name: "three trombones", why: "a number before the name", part: "3 Trombones", music: oneLine, want: []string{"Trombone 1", "Trombone 2", "Trombone 3"}},
		{name: "first and second violins on one staff", why: "two sections that the name numbers", part: "Violins I & II", music: oneLine, want: []string{"Violin 1", "Violin 2"}},
		{name: "a section", why: "strings divide on one part (bostoncons)", part: "Violins", music: chords, want: []string{"Violin"}},
		{name: "one violin with double stops", why: "no staff of several players", part: "Violin", music: chords, want: []string{"Violin"}},
		{name: "percussion", why: "as the score has it", part: "Percussion 1 & 2", music: `C5:w | C5:w`, want: []string{"Percussion 1, 2"}},
		{name: "a plural in two parts", why: "two by custom", part: "Oboes", music: chords, want: []string{"Oboe 1", "Oboe 2"}},
		{name: "a plural with words", why: `"a 2" tells of two`, part: "Oboes", music: `"a 2" C5:w | D5:w`, want: []string{"Oboe 1", "Oboe 2"}},
		{name: "a plural in one line", why: "a section of a band that plays as one", part: "Oboes", music: oneLine, want: []string{"Oboe"}},
		{name: "instruments", why: "<instruments> says it (MusicXML 4.0)", part: "Bassoon", music: `[instruments 2] C3:w | D3:w`, want: []string{"Bassoon 1", "Bassoon 2"}},
		{name: "score-instruments", why: "their names number the players", part: "Bassoon", instruments: []string{"Bassoon 1", "Bassoon 2"}, music: oneLine, want: []string{"Bassoon 1", "Bassoon 2"}},
		{name: "one player with two instruments", why: "a doubling is no second player", part: "Flute & Piccolo", instruments: []string{"Flute", "Piccolo"}, music: oneLine, want: []string{"Flute / Piccolo"}},
		{name: "cello and bass", why: "two instruments on one staff", part: "Cello & Double Bass", music: oneLine, want: []string{"Cello", "Double Bass"}},
		{name: "a plan for both", why: "each player gets the instrument of the plan", part: "Clarinets in Bb 1 & 2", music: oneLine,
			plan: []parts.PlanRow{{Part: "P1", Instrument: "clarinet-a"}}, want: []string{"Clarinet in A 1", "Clarinet in A 2"}},
		{name: "a plan's label", why: "numbered behind", part: "Clarinets in Bb 1 & 2", music: oneLine,
			plan: []parts.PlanRow{{Part: "P1", Label: "Solo"}}, want: []string{"Solo 1", "Solo 2"}},
		{name: "an instrument nobody knows", why: "numbered behind the score's name", part: "Zugfidel", music: `[instruments 2] C5:w | D5:w`, want: []string{"Zugfidel 1", "Zugfidel 2"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := plain(parts.Concert)
			o.Players, o.Plan = true, c.plan
			if c.language != "" {
				o.Language = pitch.Language(c.language)
			}
			var labels []string
			for _, a := range assign(t, shorthand.Score(t, shorthand.Entry{Name: c.part, Instruments: c.instruments, Music: c.music}), o) {
				labels = append(labels, a.Label)
			}
			assert.Equal(t, c.want, labels, c.why)
		})
	}
}

// TestPlayersAreAskedFor: without the option a shared staff is one part.
func TestPlayersAreAskedFor(t *testing.T) {
	t.Parallel()
	all := assign(t, shorthand.Score(t, shorthand.Entry{Name: "Flutes 1 & 2", Music: `C5:w`}), parts.DefaultOptions())
	assert.Len(t, all, 1)
}
