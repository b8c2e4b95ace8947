package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
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

// Which parts can be put on one staff, and what is said of those that cannot: two or three of
// one instrument, with numbers in their names, each one player's whole part in one line
// (part-preparation, 7).
func TestWhoCanShare(t *testing.T) {
	t.Parallel()
	entries := []shorthand.Entry{
		{Name: "Flute 1", Music: "C5:w | C5:w | C5:w"}, {Name: "Flute 2", Music: "C5:w | r:h E5:h | C5:w"}, {Name: "Flute 3", Music: "C5:w | C5:w | C5:w"}, {Name: "Flute 4", Music: "C5:w | C5:w | C5:w"},
		{Name: "Oboe", Music: "C5:w | C5:w | C5:w"}, {Name: "Oboe 2", Music: "C5:w | C5:w | C5:w"}, {Name: "Horn in F 1", Music: "C4:w | C4+E4:w | C4:w"}, {Name: "Horn in F 2", Music: "C4:w | E4:w / C4:w | E4:w / r:w"},
		{Name: "Clarinet in B♭ 1", Music: "C5:w | C5:w | C5:w"}, {Name: "Clarinet in B♭ 2", Music: `C5:w | "muta in A" R | C5:w`}, {Name: "Horns in F 3 & 4", Music: "C4:w | C4:w | C4:w"},
		{Name: "Cello & Bass 1 + 2", Music: "C4:w | C4:w | C4:w"}, {Name: "Harp 1", Music: "C5:w // C3:w | C5:w // R | R // C3:w"}, {Name: "Harp 2", Music: "C5:w | C5:w | C5:w"}, {Name: "Oboe 3", Music: "C5:w | C5:w"}, {Name: "Marsh Pipe 1", Music: "C5:w | C5:w | C5:w"}, {Name: "Marsh Pipe 2", Music: "C5:w | C5:w | C5:w"},
	}
	data := shorthand.Score(t, entries...)
	row := func(part string, change func(*parts.PlanRow)) []parts.PlanRow {
		r := parts.PlanRow{Part: part, Line: 2}
		if change != nil {
			change(&r)
		}
		return []parts.PlanRow{r}
	}
	const usual = "Flute 1; Flute 2; Flute 3; Flute 4"
	for _, c := range []struct {
		why, share string
		plan       []parts.PlanRow
		change     func(*parts.Options)
		want       string // of the flutes, or the error
	}{
		{"two", "Flute 1, Flute 2", nil, nil, "Flutes 1, 2 (some: 1 flute 2); Flute 3; Flute 4"},
		{"three, in the order of the words", "P3, P1, flute 2", nil, nil, "Flutes 3, 1, 2 (some: 3 flute 1 2); Flute 4"},
		{"by a row", "", row("Flute 1 +Flute 2", nil), nil, "Flutes 1, 2 (some: 1 flute 2); Flute 3; Flute 4"},
		{"a row's label and copies", "", row("Flute 1 + Flute 2", func(r *parts.PlanRow) { r.Label, r.Copies = "Flutes", "3" }), nil, "Flutes x3 (some: 1 flute 2); Flute 3; Flute 4"},
		{"a row's instrument is each one's", "", row("Flute 1 + Flute 2", func(r *parts.PlanRow) { r.Instrument, r.Octave = "oboe", "1" }), nil, "Oboes 1, 2 1 (some: 1 oboe 2); Flute 3; Flute 4"},
		{"a clef alone", "", row("Flute 1 + Flute 2", func(r *parts.PlanRow) { r.Clef = "alto" }), nil, "Flutes 1, 2 alto (some: 1 flute 2); Flute 3; Flute 4"},
		{"left out", "", row("Flute 1 + Flute 2", func(r *parts.PlanRow) { r.Instrument = " None" }), nil, "Flute 3; Flute 4"},
		{"a part with a plus in its name", "", row("Cello & Bass 1 + 2", nil), nil, usual},
		{"four by a row: no part is called so", "", row("Flute 1 + Flute 2 + Flute 3 + Flute 4", nil), func(o *parts.Options) { o.WholePlan = true }, `line 2, part "Flute 1 + Flute 2 + Flute 3 + Flute 4": no part of the score is called so; the parts are`},
		{"one player for a staff of two", "", row("Flute 1 + Flute 2", func(r *parts.PlanRow) { r.Player = "Anna" }), nil, `line 2, part "Flute 1 + Flute 2": a staff that several share has no one player; leave the column player empty`},
		{"nobody", "", row("Flute 1 + Tuba", func(r *parts.PlanRow) { r.Octave = "1" }), nil, `line 2, part "Flute 1 + Tuba": no part is called "Tuba"; the parts are`},
		{"one", "Flute 1", nil, nil, `--share "Flute 1": 1 part is named; two or three share a staff`},
		{"four", "Flute 1, Flute 2, Flute 3, Flute 4", nil, nil, `--share "Flute 1, Flute 2, Flute 3, Flute 4": 4 parts are named; two or three share a staff`},
		{"twice", "Flute 1, flute 1", nil, nil, `--share "Flute 1, flute 1": "flute 1" is named twice`},
		{"twice, last", "Flute 2, Flute 1, Flute 1", nil, nil, `--share "Flute 2, Flute 1, Flute 1": "Flute 1" is named twice`},
		{"twice in other words", "Flute 1, P1", nil, nil, `--share "Flute 1, P1": "Flute 1" and "P1" are on one staff already, that of Flute 1`},
		{"two instruments", "Flute 1, Oboe 2", nil, nil, `--share "Flute 1, Oboe 2": Flute 1 and Oboe 2 are not for the same instrument; leave Oboe 2 a part of its own`},
		{"unknown", "Marsh Pipe 1, Marsh Pipe 2", nil, nil, `--share "Marsh Pipe 1, Marsh Pipe 2": no instrument is known by the name "Marsh Pipe 1"; give it its instrument in a plan`},
		{"bars that one has not", "Oboe 3, Oboe 2", nil, nil, `--share "Oboe 3, Oboe 2": Oboe 3 and Oboe 2 have not the same number of bars; leave Oboe 2 a part of its own`},
		{"without numbers", "Oboe, Oboe 2", nil, nil, `--share "Oboe, Oboe 2": the names of the parts do not number their players, as in "Flute 1"; number them in the score`},
		{"two numbers in one name", "Horns in F 3 & 4, Horns in F 3 & 4", nil, nil, `is named twice`},
		{"a chord", "Horn in F 1, Horn in F 2", nil, nil, `--share "Horn in F 1, Horn in F 2": Horn in F 1 has several notes at once in bar 2; leave Horn in F 1 a part of its own`},
		{"two voices", "Horn in F 2, Horn in F 1", nil, nil, `--share "Horn in F 2, Horn in F 1": Horn in F 2 has several notes at once in bar 2`},
		{"two staves", "Harp 1, Harp 2", nil, nil, `--share "Harp 1, Harp 2": Harp 1 has several notes at once in bars 1, 3`},
		{"a change of instrument", "Clarinet in B♭ 1, Clarinet in B♭ 2", nil, nil, `--share "Clarinet in B♭ 1, Clarinet in B♭ 2": the player of Clarinet in B♭ 2 changes instrument; leave Clarinet in B♭ 2 a part of its own`},
		{"one player of a staff", "Horn in F 1, P11:1", nil, func(o *parts.Options) { o.Players = true }, `has several notes at once in bar 2`},
		{"a player of a shared staff", "P11:1, Horn in F 1", nil, func(o *parts.Options) { o.Players = true }, `--share "P11:1, Horn in F 1": Horn in F 3 is not one player's whole part`},
		{"who has more staves", "Flute 1, Flute 2", row("Oboe", func(r *parts.PlanRow) { r.Player = "Flute 1" }), nil, `--share "Flute 1, Flute 2": Flute 1 (Oboe) is not one player's whole part`},
		{"an edition", "Flute 1, Flute 2", nil, func(o *parts.Options) { o.Editions = readersOf(t, "Bb treble") }, `--share "Flute 1, Flute 2": Part 1 in B♭ (Flute 1) is not one player's whole part`},
		{"both wrong", "Flute 1, Tuba", row("Flute 2 + Oboe", nil), nil, `line 2, part "Flute 2 + Oboe": Flute 2 and Oboe are not for the same instrument; leave Oboe a part of its own; --share "Flute 1, Tuba": no part is called "Tuba"; the parts are`},
	} {
		o := plain(parts.Written)
		o.Plan = c.plan
		if c.share != "" {
			o.Share = [][]string{strings.Split(c.share, ", ")}
		}
		if c.change != nil {
			c.change(&o)
		}
		surveyed := partstest.Survey(t, scoreIn(t, data), o)
		job, err := surveyed.Assign()
		if err != nil {
			var wrong *parts.PlanError
			require.ErrorAs(t, err, &wrong)
			assert.Contains(t, err.Error(), c.want, c.why)
			continue
		}
		var got []string
		for i, a := range job.Assignments() {
			assert.Equal(t, i+1, a.Number, c.why)
			if a.Part > 3 {
				continue
			}
			text := strings.Join(strings.Fields(fmt.Sprintf("%s %s %s", a.Label, a.Octave, a.Clef)), " ")
			if a.Copies > 0 {
				text += fmt.Sprintf(" x%d", a.Copies)
			}
			if a.Some {
				text += fmt.Sprintf(" (some: %d %s", a.Part+1, a.Instrument.ID)
				for _, w := range a.With {
					text += fmt.Sprint(" ", w.Part+1)
				}
				text += ")"
			}
			got = append(got, text)
		}
		assert.Equal(t, c.want, strings.Join(got, "; "), c.why)
	}
}
