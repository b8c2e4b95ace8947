package fit_test

import (
	"cmp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/fit"
	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
)

// castOf casts a score and returns "part: label" for each role in order, "+" before
// one that doubles, and the parts that nobody plays.
func castOf(t *testing.T, level instruments.Level, have string, all ...scoredPart) (roles, nobody []string, c *fit.Casting) {
	t.Helper()
	band, err := fit.ParseBand(instrumentstest.Load(t), have)
	require.NoError(t, err)
	c, err = fit.Cast(musicOf(t, level, all...), band, level, nil)
	require.NoError(t, err)
	for _, r := range c.Roles {
		text := r.PlanName + ": " + r.Label
		if r.Doubling {
			text = "+" + text
		}
		roles = append(roles, text)
	}
	for _, u := range c.Uncovered {
		nobody = append(nobody, u.PlanName)
	}
	return roles, nobody, c
}

// Each case can be worked out on paper: who can play what at all, and what is left.
func TestCast(t *testing.T) {
	t.Parallel()
	flute := scoredPart{"Flute", "", 0, "C6 B5 A5 G5 | F5 E5 D5 C5"}
	clarinet := scoredPart{"Clarinet in Bb", "-1 -2 0", 2, "F#4 F#4 E4 D4 | C#4 D4 E4 F#4"}
	bassoon := scoredPart{"Bassoon", "", 0, "C3 D3 E3 F3 | G3 F3 G3 C3"}
	for _, test := range []struct {
		name, why string
		have      string
		score     []scoredPart
		roles     []string
		nobody    []string
	}{
		{"everybody is there", "each has its own part", "bassoon, flute, clarinet", []scoredPart{flute, clarinet, bassoon},
			[]string{"Flute: Flute", "Clarinet in Bb: Clarinet in B♭", "Bassoon: Bassoon"}, nil},
		{"no bassoon", "the euphonium has every note of the bass at the same octave", "flute, clarinet, euphonium t.c.", []scoredPart{flute, clarinet, bassoon},
			[]string{"Flute: Flute", "Clarinet in Bb: Clarinet in B♭", "Bassoon: Euphonium in B♭"}, nil},
		{"two flutes too many", "the second doubles, the line that lies for it", "2 flute, clarinet, bassoon", []scoredPart{flute, clarinet, bassoon},
			[]string{"Flute: Flute 1", "+Flute: Flute 2", "Clarinet in Bb: Clarinet in B♭", "Bassoon: Bassoon"}, nil},
		{"two players for three parts", "tune and bass are played, the inner line is left", "violin, cello", []scoredPart{flute, clarinet, bassoon},
			[]string{"Flute: Violin", "Bassoon: Cello"}, []string{"Clarinet in Bb"}},
		{"nobody for the drum", "no melody instrument plays strokes, no drum a tune", "snare drum", []scoredPart{flute},
			nil, []string{"Flute"}},
		{"not the nearest first", "the viola alone has the bass without a leap of two octaves: the violin must take the tune, though the viola has it too",
			"viola, violin", []scoredPart{{"Oboe", "", 0, "C5 D5 E5 F5"}, {"Violoncello", "", 0, "C3 D3 E3 F3"}},
			[]string{"Oboe: Violin", "Violoncello: Viola"}, nil},
		{"two players on one staff", "each has a row of the plan", "flute, oboe", []scoredPart{{"Flutes 1 &amp; 2", "", 0, "C6+E5 B5+D5"}},
			[]string{"Flute 1: Flute", "Flute 2: Oboe"}, nil},
		{"parts of one name", "the plan names them by their ids", "2 flute", []scoredPart{{"Flute", "", 0, "C6"}, {"Flute", "", 0, "C5"}},
			[]string{"P1: Flute 1", "P2: Flute 2"}, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			roles, nobody, _ := castOf(t, instruments.Professional, test.have, test.score...)
			assert.Equal(t, test.roles, roles, test.why)
			assert.Equal(t, test.nobody, nobody, test.why)
		})
	}
}

func TestCastAsPlan(t *testing.T) {
	t.Parallel()
	_, _, c := castOf(t, instruments.Professional, "3 flute, tuba",
		scoredPart{"Flute", "", 0, "C6 B5 A5 G5"}, scoredPart{"Oboe", "", 0, "E5 D5 C5 B4"}, scoredPart{"Bassoon", "", 0, "C3 D3 E3 F3"}, scoredPart{"Timpani", "", 0, "C3 r G2 r"})
	var rows []string
	for _, r := range c.PlanRows() {
		rows = append(rows, strings.Join([]string{r.Part, r.Instrument, r.Octave, r.Clef, r.Label, r.Copies}, ","))
	}
	assert.Equal(t, []string{"Flute,flute,,,Flute 1,2", "Oboe,flute,0,,Flute 2,", "Bassoon,tuba,0,,Tuba,", "Timpani,none,,,,"}, rows,
		"a second copy of a sheet needs no row; what nobody plays is left out by name")
	assert.True(t, slices.ContainsFunc(c.Roles, func(r fit.Role) bool { return r.Copy && r.Label == "Flute 3" }), "and yet is said")
	assert.False(t, c.Shared)
}

// repeated writes a bar over and over.
func repeated(bar string, times int) string {
	return strings.TrimSuffix(strings.Repeat(bar+" | ", times), " | ")
}

// Each sentence of what an arranger does, on music that is small enough to decide by
// eye. Ranges from the rows of trade/ranges.csv.
func TestSeating(t *testing.T) {
	t.Parallel()
	melody := func(name string) scoredPart { return scoredPart{name, "", 0, repeated("G5 A5 B5 C6", 4)} }
	alto := func(name string) scoredPart { return scoredPart{name, "", 0, repeated("E4 F4 D4 E4", 4)} }
	tenor := func(name string) scoredPart { return scoredPart{name, "", 0, repeated("C4 C4 B3 C4", 4)} }
	bass := func(name string) scoredPart { return scoredPart{name, "", 0, repeated("C3 F2 G2 C3", 4)} }
	for _, test := range []struct {
		name, why string
		level     instruments.Level
		have      string
		score     []scoredPart
		roles     []string
		nobody    []string
	}{
		{name: "the first chair before the second", why: "the only oboe plays the first oboe's part, though the second has more to play and a flute could take either",
			have: "oboe, 2 flute", score: []scoredPart{{"Oboe 1", "", 0, "R | R | R | G5 A5 B5 C6"}, {"Oboe 2", "", 0, repeated("E5 F5 D5 E5", 4)}, melody("Flute")},
			roles: []string{"Oboe 1: Oboe", "Oboe 2: Flute 2", "Flute: Flute 1"}},
		{name: "chairs in their order", why: "whoever is listed first, trumpets play trumpets, horns play horns, in the order of the score",
			have: "2 trumpet, 2 horn", score: []scoredPart{{"Horn in F 1", "-4 -7 0", 0, repeated("C5 D5 E5 C5", 2)}, {"Horn in F 2", "-4 -7 0", 0, repeated("E4 G4 G4 E4", 2)},
				{"Trumpet in C 1", "", 0, "C5 R r r"}, {"Trumpet in C 2", "", 0, "E4 R r r"}},
			roles: []string{"Horn in F 1: Horn in F 1", "Horn in F 2: Horn in F 2", "Trumpet in C 1: Trumpet in B♭ 1", "Trumpet in C 2: Trumpet in B♭ 2"}},
		{name: "own chairs at the score's octave", why: "written C6 is past a young horn player's C5 (pearson-grades) and in the horn's range (rk-tables): a chair keeps the score's octave",
			level: instruments.School, have: "horn, tuba", score: []scoredPart{{"Horn in F", "-4 -7 0", 0, repeated("C6 B5 A5 B5", 4)}, bass("Tuba")},
			roles: []string{"Horn in F: Horn in F", "Tuba: Tuba"}},
		{name: "melody and bass before harmony", why: "of four voices two are left out: the inner ones",
			have: "clarinet, bassoon", score: []scoredPart{melody("Violin I"), alto("Violin II"), tenor("Viola"), bass("Violoncello")},
			roles: []string{"Violin I: Clarinet in B♭", "Violoncello: Bassoon"}, nobody: []string{"Violin II", "Viola"}},
		{name: "melody before a chair that the ear hardly misses", why: "the second flute has one note in four bars, the tune nobody else",
			have: "2 flute, tuba", score: []scoredPart{{"Flute 1", "", 0, repeated("E6 r E6 r", 4)}, {"Flute 2", "", 0, "R | R | R | C6 R r r"}, melody("Violin"), bass("Tuba")},
			roles: []string{"Flute 1: Flute 1", "Violin: Flute 2", "Tuba: Tuba"}, nobody: []string{"Flute 2"}},
		{name: "a chair before harmony that is nobody's", why: "the second horn keeps the horn's few notes rather than play the viola's many",
			have: "2 horn, tuba", score: []scoredPart{{"Horn 1", "-4 -7 0", 0, repeated("C5 D5 E5 C5", 4)}, {"Horn 2", "-4 -7 0", 0, repeated("C4 r r r", 4)}, alto("Viola"), bass("Tuba")},
			roles: []string{"Horn 1: Horn in F 1", "Horn 2: Horn in F 2", "Tuba: Tuba"}, nobody: []string{"Viola"}},
		{name: "melody before a chair that doubles", why: "the second flute plays all through, what the first plays; the violins' tune is under them and sounds alone in every other bar",
			have: "2 flute, tuba", score: []scoredPart{{"Flute 1", "", 0, repeated("E6 F6 D6 E6 | R", 2)}, {"Flute 2", "", 0, repeated("E6 F6 D6 E6 | R", 2)}, melody("Violin"), bass("Tuba")},
			roles: []string{"Flute 1: Flute 1", "Violin: Flute 2", "Tuba: Tuba"}, nobody: []string{"Flute 2"}},
		{name: "who plays alone before a chair that doubles", why: "for one bar of eight nobody but the violin sounds, low as it is, between a first flute and a bass that are played",
			have: "2 flute, tuba", score: []scoredPart{{"Flute 1", "", 0, repeated("E6 F6 D6 E6", 7) + " | R"}, {"Flute 2", "", 0, repeated("E6 F6 D6 E6", 7) + " | R"},
				{"Violin", "", 0, "R | R | R | R | R | R | R | E5 F5 D5 E5"}, {"Tuba", "", 0, repeated("C3 F2 G2 C3", 7) + " | R"}},
			roles: []string{"Flute 1: Flute 1", "Violin: Flute 2", "Tuba: Tuba"}, nobody: []string{"Flute 2"}},
		{name: "the nearest voice", why: "high to high, middle to middle, low to low, each at the score's octave",
			have: "tuba, horn, flute, clarinet", score: []scoredPart{melody("Violin I"), alto("Violin II"), tenor("Viola"), bass("Violoncello")},
			roles: []string{"Violin I: Flute", "Violin II: Clarinet in B♭", "Viola: Horn in F", "Violoncello: Tuba"}},
		{name: "the nearest octave", why: "the trumpet has the tune of the viola where it stands, the flute would play it an octave up",
			have: "flute, trumpet", score: []scoredPart{{"Oboe", "", 0, repeated("C6 D6 E6 C6", 4)}, {"Viola", "", 0, repeated("A3 B3 C4 A3", 4)}},
			roles: []string{"Oboe: Flute", "Viola: Trumpet in B♭"}},
		{name: "what the instrument has is law", why: "the horn ends at sounding F5 (rk-tables) and would have to leave the score's octave; the clarinet has the tune",
			have: "horn, clarinet", score: []scoredPart{melody("Violin"), tenor("Viola")},
			roles: []string{"Violin: Clarinet in B♭", "Viola: Horn in F"}},
		{name: "kettledrums and keyboards", why: "a trumpet plays neither the drums nor one line of a piano's chords, and so they are left out",
			have: "trumpet, tuba", score: []scoredPart{melody("Flute"), {"Timpani", "", 0, repeated("C3 r G2 r", 4)}, {"Piano", "", 0, repeated("C4+E4+G4 F4+A4+C5 G4+B4+D5 C4+E4+G4", 4)}, bass("Bassoon")},
			roles: []string{"Flute: Trumpet in B♭", "Bassoon: Tuba"}, nobody: []string{"Timpani", "Piano"}},
		{name: "the piano plays the piano's part", why: "chords go to one who can play chords",
			have: "piano, clarinet", score: []scoredPart{melody("Flute"), {"Piano", "", 0, repeated("C4+E4+G4 F4+A4+C5 G4+B4+D5 C4+E4+G4", 4)}},
			roles: []string{"Flute: Clarinet in B♭", "Piano: Piano"}},
		{name: "a spare player doubles what is thin", why: "bass and middle have two players, the tune one: the saxophone that is left takes the tune, in whatever octave",
			have: "flute, 2 trombone, 2 tuba, alto saxophone", score: []scoredPart{melody("Flute"), tenor("Trombone 1"), alto("Trombone 2"), bass("Tuba 1"), bass("Tuba 2")},
			roles: []string{"Flute: Flute", "+Flute: Alto Saxophone", "Trombone 1: Trombone 1", "Trombone 2: Trombone 2", "Tuba 1: Tuba 1", "Tuba 2: Tuba 2"}},
		{name: "spare players spread out", why: "three clarinets for two parts of one voice each and a bass: one doubles the tune, the tuba that is left the bass",
			have: "3 clarinet, 2 tuba", score: []scoredPart{melody("Clarinet 1"), alto("Clarinet 2"), bass("Tuba")},
			roles: []string{"Clarinet 1: Clarinet in B♭ 1", "+Clarinet 1: Clarinet in B♭ 3", "Clarinet 2: Clarinet in B♭ 2", "Tuba: Tuba 1", "+Tuba: Tuba 2"}},
		{name: "… not by who else could have it, but by how many play it", why: "five clarinets for tune and middle: three and two",
			have: "5 clarinet, tuba", score: []scoredPart{melody("Clarinet 1"), alto("Clarinet 2"), bass("Tuba")},
			roles: []string{"Clarinet 1: Clarinet in B♭ 1", "+Clarinet 1: Clarinet in B♭ 3", "+Clarinet 1: Clarinet in B♭ 4",
				"Clarinet 2: Clarinet in B♭ 2", "+Clarinet 2: Clarinet in B♭ 5", "Tuba: Tuba"}},
		{name: "the first chair, though the second has more to play", why: "one of two flutes is needed for the tune: the second, whatever the second plays",
			have: "2 flute, tuba", score: []scoredPart{{"Flute 1", "", 0, "R | R | R | E5 R r r"}, {"Flute 2", "", 0, repeated("C5 D5 C5 C5", 4)}, melody("Violin"), bass("Tuba")},
			roles: []string{"Flute 1: Flute 1", "Violin: Flute 2", "Tuba: Tuba"}, nobody: []string{"Flute 2"}},
		{name: "a line that no player has", why: "three octaves under one slur: no octave gives the trumpet both ends",
			have: "trumpet, flute", score: []scoredPart{melody("Flute"), {"Violoncello", "", 0, repeated("C2( G2 C5 G5)", 4)}},
			roles: []string{"Flute: Flute", "+Flute: Trumpet in B♭"}, nobody: []string{"Violoncello"}},
		{name: "a single note that a player does not have", why: "what an instrument has is law: from E2 to E6 under one slur is wider than the horn (from B1 to F5, rk-tables), though it has all the rest",
			have: "horn, tuba", score: []scoredPart{{"Viola", "", 0, repeated("F3 G3 A3 F3", 7) + " | E2( E6) r r"}, bass("Tuba")},
			roles: []string{"Tuba: Tuba", "+Tuba: Horn in F"}, nobody: []string{"Viola"}},
		{name: "but for one note in a hundred a tune is played", why: "the same two notes under one slur, and the tune of thirty bars is nobody else's: not left out for a note",
			have: "horn, tuba", score: []scoredPart{{"Viola", "", 0, repeated("F3 G3 A3 F3", 30) + " | R | E2( E6) r r"}, {"Tuba", "", 0, repeated("C3 F2 G2 C3", 32)}},
			roles: []string{"Viola: Horn in F", "Tuba: Tuba"}},
		{name: "a line that would be played octaves away", why: "the piccolo's notes three octaves lower are no piccolo's part",
			have: "tuba", score: []scoredPart{{"Piccolo", "0 0 1", 0, repeated("G5 A5 B5 C6", 4)}},
			nobody: []string{"Piccolo"}},
		{name: "percussion is not doubled", why: "there is one pair of drums",
			have: "flute, 2 timpani", score: []scoredPart{melody("Flute"), {"Timpani", "", 0, "C3 r G2 r"}},
			roles: []string{"Flute: Flute", "Timpani: Timpani 1"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			level := cmp.Or(test.level, instruments.Professional)
			roles, nobody, c := castOf(t, level, test.have, test.score...)
			assert.Equal(t, test.roles, roles, test.why)
			assert.Equal(t, test.nobody, nobody, test.why)
			for _, r := range c.Roles {
				if !r.Doubling {
					assert.Zero(t, r.Octave, "%s: %s", r.Label, test.why)
				}
			}
		})
	}
}

// What is left out is said, and why.
func TestSeatingSaysWhy(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		have, text string
		parts      []scoredPart
	}{
		{"trumpet", "left out: no player can take it sensibly; Trumpet in B♭ does not have 2 notes of it; nothing of it sounds elsewhere", []scoredPart{{"Violoncello", "", 0, "C2( G2 C5 G5)"}}},
		{"tuba", "left out: no player can take it sensibly; Tuba would play it 3 octaves lower; nothing of it sounds elsewhere", []scoredPart{{"Piccolo", "0 0 1", 0, "G5 A5 B5 C6"}}},
		{"trumpet", "left out: no player can take it sensibly; Trumpet in B♭ would leave out 67% of it, the lower notes of chords; nothing of it sounds elsewhere", []scoredPart{{"Piano", "", 0, "C4+E4+G4"}}},
		{"flute", "left out: none of the players plays such a part; nothing of it sounds elsewhere", []scoredPart{{"Timpani", "", 0, "C3 G2"}}},
		{"flute", "silent all through", []scoredPart{{"Flute 1", "", 0, "R"}}},
		{"oboe", "left out: Oboe could take it, but is needed elsewhere; nothing of it sounds elsewhere", []scoredPart{{"Oboe 1", "", 0, "C5"}, {"Oboe 2", "", 0, "A4"}}},
	} {
		_, _, c := castOf(t, instruments.Professional, test.have, test.parts...)
		require.Len(t, c.Uncovered, 1)
		assert.Equal(t, test.text, c.Uncovered[0].Text)
	}
}

// Where the notes of a line sound that is left out: of eight quarters of the viola the flute
// has two (C and, in the third bar, E), the tuba one (C, two octaves lower) at the same moment;
// the second bar and the fourth have none.
func TestSeatingSaysWhereElse(t *testing.T) {
	t.Parallel()
	_, nobody, c := castOf(t, instruments.Professional, "flute, tuba",
		scoredPart{"Flute", "", 0, "C6 D6 r r | A5 A5 A5 A5 | E6 r r G5 | A5 A5 A5 A5"},
		scoredPart{"Viola", "", 0, "C4 C4 r r | E4 E4 r r | E4 r r r | B3 C4 C4 r"},
		scoredPart{"Tuba", "", 0, "G2 C2 r r | D2 F2 D2 F2 | G2 r r G2 | F2 F2 D2 D2"})
	require.Equal(t, []string{"Viola"}, nobody)
	u := c.Uncovered[0]
	require.Len(t, u.Elsewhere, 2)
	assert.Equal(t, fit.Elsewhere{Part: "Flute", PartID: "P1", PlanName: "Flute", Share: 0.25}, u.Elsewhere[0])
	assert.Equal(t, fit.Elsewhere{Part: "Tuba", PartID: "P3", PlanName: "Tuba", Share: 0.125}, u.Elsewhere[1])
	assert.Equal(t, 0.625, u.Missing)
	assert.Equal(t, []string{"2", "4"}, u.MissingIn)
	assert.Equal(t, "left out: Tuba could take it, but is needed elsewhere; 38% of it sounds elsewhere: Flute (25%), Tuba (13%); the rest is missing, in bars 2, 4", u.Text)
}

// Two violins that lie one above the other are given to euphoniums, which have the
// second where it stands (up to D5, mem-adler) and the first an octave lower: alone,
// each at its best octave, they would cross. So both go down.
func TestNeighboursGoTogether(t *testing.T) {
	t.Parallel()
	first, second := scoredPart{"Violin I", "", 0, repeated("E5 F5 G5 E5", 4)}, scoredPart{"Violin II", "", 0, repeated("B4 C5 D5 B4", 4)}
	_, nobody, c := castOf(t, instruments.Professional, "2 euphonium", first, second)
	assert.Empty(t, nobody)
	for _, r := range c.Roles {
		assert.Equal(t, -1, r.Octave, r.PlanName)
	}
	for _, row := range c.PlanRows() {
		assert.Equal(t, "-1", row.Octave, row.Part)
	}
	_, _, alone := castOf(t, instruments.Professional, "euphonium", second)
	assert.Zero(t, alone.Roles[0].Octave, "the second alone stays where it is")
}

// TestCastOnWhatIsTakenUp: a line that the own instrument has only octaves away is taken
// on the one that is named beside it; the own chair stays, and so does what suits as well.
// The bassoon's E2 to A2 are in the range of the bass clarinet and below the clarinet's.
// What nobody has is taken in turn by who doubles the instrument, never where two would
// sound at once.
func TestCastOnWhatIsTakenUp(t *testing.T) {
	t.Parallel()
	bassoon := scoredPart{"Bassoon", "", 0, "E2 F2 G2 A2"}
	clarinet := scoredPart{"Clarinet in Bb", "-1 -2 0", 0, "C5 D5 E5 F5"}
	oboe := scoredPart{"Oboe", "", 0, "C5 D5 E5 F5"}
	flutes := []scoredPart{{"Flute 1", "", 0, "C6 B5 A5 G5 | F5 E5 F5 E5"}, {"Flute 2", "", 0, "A5 G5 F5 E5 | D5 C5 D5 C5"},
		{"Piccolo", "0 0 1", 0, "C5 B4 A4 G4 | F4 E4 F4 E4"}} // as the first flute sounds
	apart := func(lines ...int) bool { return !slices.Contains(lines, 0) }
	never := func(...int) bool { return false }
	for _, c := range []struct {
		why, have string
		parts     []scoredPart
		inTurn    func(lines ...int) bool
		want      []string
	}{
		{"nothing beside the clarinet: an octave up", "clarinet", []scoredPart{bassoon}, nil, []string{"Bassoon: clarinet-bflat Clarinet in B♭ 1"}},
		{"a bass clarinet beside it", "clarinet+bass clarinet", []scoredPart{bassoon}, nil, []string{"Bassoon: bass-clarinet-bflat Bass Clarinet in B♭ 0"}},
		{"the own chair", "clarinet+bass clarinet", []scoredPart{clarinet}, nil, []string{"Clarinet in Bb: clarinet-bflat Clarinet in B♭ "}},
		{"two, each where it suits", "2 clarinet+bass clarinet", []scoredPart{oboe, bassoon}, nil, []string{"Oboe: clarinet-bflat Clarinet in B♭ 1 0", "Bassoon: bass-clarinet-bflat Bass Clarinet in B♭ 0"}},
		{"two on the same", "2 clarinet+bass clarinet", []scoredPart{{"Bassoon 1", "", 0, "C3 D3 E3 F3"}, {"Bassoon 2", "", 0, bassoon.music}}, nil, []string{"Bassoon 1: bass-clarinet-bflat Bass Clarinet in B♭ 1 0", "Bassoon 2: bass-clarinet-bflat Bass Clarinet in B♭ 2 0"}},
		{"one of two: the lower, whoever has it", "clarinet+bass clarinet, clarinet", []scoredPart{{"Bassoon 1", "", 0, "C3 D3 E3 F3"}, {"Bassoon 2", "", 0, bassoon.music}}, nil, []string{"Bassoon 1: clarinet-bflat Clarinet in B♭ 1 1", "Bassoon 2: bass-clarinet-bflat Bass Clarinet in B♭ 0"}},
		{"who doubles it", "flute, flute+piccolo", flutes, apart, []string{"Flute 1: flute Flute 1 ", "Flute 2: flute Flute 2 (Piccolo) = Flute 2", "Piccolo: piccolo Piccolo = Flute 2"}},
		{"never at once", "flute, flute+piccolo", flutes, never, []string{"Flute 1: flute Flute 1 ", "Flute 2: flute Flute 2 ", "Piccolo: none  "}},
	} {
		band, err := fit.ParseBand(instrumentstest.Load(t), c.have)
		require.NoError(t, err)
		casting, err := fit.Cast(musicOf(t, instruments.Professional, c.parts...), band, instruments.Professional, c.inTurn)
		require.NoError(t, err)
		var rows []string
		for _, r := range casting.PlanRows() {
			row := r.Part + ": " + r.Instrument + " " + r.Label + " " + r.Octave
			if r.Player != "" {
				row += "= " + r.Player
			}
			rows = append(rows, row)
		}
		assert.Equal(t, c.want, rows, c.why)
	}
}
