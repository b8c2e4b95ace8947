package assign

import (
	"fmt"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts/internal/divisi"
	"deskpart/musicxml/parts/internal/survey"
	"deskpart/musicxml/parts/plan"
	"deskpart/transpose"
)

// company is a score of parts P1, P2 … as a first reading tells of them by their names.
func company(t *testing.T, o Options, names ...string) *Assigner {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	var entries []shorthand.Entry
	for _, name := range names {
		entries = append(entries, shorthand.Entry{Name: name, Music: "R"})
	}
	music, err := musicxml.Read(shorthand.Score(t, entries...), musicxml.ReadOptions{})
	require.NoError(t, err)
	score := survey.NewScore(music, catalogue, survey.Auto)
	for i, name := range names {
		score.Parts[i] = survey.Part{ID: fmt.Sprintf("P%d", i+1), Name: name, Staves: 1, Notes: 8, Match: catalogue.Match(instruments.Query{Name: name})}
	}
	if o.Language == "" {
		o.Language = "en"
	}
	return New(score, make([]Evidence, len(names)), o)
}

// toldOf writes a part file: label, instrument, what told it and if it is not sure, what a plan
// says, warnings, the player's further staves.
func toldOf(a *Assignment) string {
	said := []string{a.Label + ":", "nobody", a.RecognisedBy}
	if a.Instrument != nil {
		said[1] = a.Instrument.ID
	}
	if a.Assumed {
		said = append(said, "assumed")
	}
	for _, s := range []string{a.Octave, a.Clef} {
		if s != "" {
			said = append(said, s)
		}
	}
	if a.Copies > 0 {
		said = append(said, fmt.Sprintf("x%d", a.Copies))
	}
	if a.Edition != "" {
		said = append(said, "edition "+a.Edition)
	}
	if a.StandsFor != "" {
		said = append(said, "for "+a.StandsFor)
	}
	if a.Sings {
		said = append(said, "sings")
	}
	for _, w := range a.Warnings {
		said = append(said, "("+w.Text+")")
	}
	text := strings.Join(said, " ")
	for i := range a.With {
		text += " + " + a.With[i].StaffLabel
	}
	return text
}

func toldOfAll(all []Assignment) (told []string) {
	for i := range all {
		told = append(told, toldOf(&all[i]))
	}
	return told
}

func says(diatonic, chromatic int) transpose.Transposition {
	return transpose.Transposition{Diatonic: diatonic, Chromatic: chromatic}
}

// What a part is written for by what it says of itself: <for-part> before <transpose> before
// the name (MusicXML 4.0, for-part, transpose); intervals as in trade/transpositions.csv.
func TestUsual(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, display, question string
		source                  []transpose.Transposition
		forPart, want           string
	}{
		{name: "Clarinet in Bb", want: "Clarinet in B♭: clarinet-bflat name"},
		{name: "Clarinet", want: `Clarinet in B♭: clarinet-bflat family assumed ("Clarinet" does not say its key; taken for Clarinet in B♭, the usual one)`},
		{name: "Flute", want: "Flute: flute name"},
		{name: "Quayphone", want: `Quayphone: nobody none (no instrument is known by the name "Quayphone"; the part stays at sounding pitch)`},
		{name: "Quayphone", display: "Quay\n  phone", want: `Quay phone: nobody none (no instrument is known by the name "Quayphone"; the part stays at sounding pitch)`},
		{name: " ", want: "P1: nobody none (the part has no name that says its instrument; the part stays at sounding pitch)"},
		{name: "Clarinet", source: []transpose.Transposition{says(-2, -3)}, want: "Clarinet in A: clarinet-a transpose"},
		{name: "Clarinet in A", source: []transpose.Transposition{says(-1, -2)}, want: "Clarinet in B♭: clarinet-bflat transpose"},
		{name: "Oboe", source: []transpose.Transposition{says(-4, -7)}, want: "English Horn: english-horn transpose"},
		{name: "Flute", source: []transpose.Transposition{says(-1, -4)}, want: "Flute: nobody transpose"},
		{name: "Quayphone", source: []transpose.Transposition{says(-1, -2)}, want: "Quayphone: nobody transpose"},
		{name: "Clarinet in A", source: []transpose.Transposition{says(-1, -2)}, forPart: `<part-transpose><diatonic>-2</diatonic><chromatic>-3</chromatic></part-transpose>`, want: "Clarinet in A: clarinet-a for-part"},
		{name: "Clarinet in A", forPart: `<part-transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></part-transpose>`, want: "Clarinet in B♭: clarinet-bflat for-part"},
		{name: "Clarinet in A", question: "which one?", want: "Clarinet in A: clarinet-a name (which one?)"},
		{name: "Clarinet in A", question: "which one?", source: []transpose.Transposition{says(-2, -3)}, want: "Clarinet in A: clarinet-a transpose"},
	} {
		c := company(t, Options{}, row.name)
		p := &c.Parts[0]
		p.Match.Question = row.question
		c.ScoreParts[0].NameDisplay = row.display
		for _, to := range row.source {
			p.Source = append(p.Source, transpose.Stretch{To: to})
		}
		if row.forPart != "" {
			doc := etree.NewDocument()
			require.NoError(t, doc.ReadFromString("<for-part>"+row.forPart+"</for-part>"))
			p.ForPart = doc.Root()
		}
		a := c.Usual(0)
		assert.Equal(t, strings.Join(strings.Fields(row.want), " "), toldOf(&a))
		assert.Equal(t, a.Instrument, a.Written)
	}
}

// What rows of a plan make of the part files, and what is missing. Whole octaves are taken
// where the score has another kind of instrument; what was assumed is settled.
func TestRowsOfAPlan(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why, parts    string
		plan          []plan.Row
		options       Options
		want, missing string
	}{
		{"no plan", "Oboe, Clarinet in A", nil, Options{}, "Oboe: oboe name; Clarinet in A: clarinet-a name", ""},
		{"another kind", "Oboe", []plan.Row{{Part: "Oboe", Instrument: "flute", Copies: "3"}}, Options{}, "Flute: flute plan auto x3", ""},
		{"another kind, in an octave", "Oboe", []plan.Row{{Part: "P1", Instrument: "Flute", Octave: " -1 ", Clef: "bass; tenor"}}, Options{}, "Flute: flute plan -1 bass; tenor", ""},
		{"the same kind in another key", "Clarinet in A", []plan.Row{{Part: "clarinet", Instrument: "clarinet-bflat"}}, Options{}, "Clarinet in B♭: clarinet-bflat plan", ""},
		{"what it is for", "Oboe", []plan.Row{{Part: "Oboe", Instrument: "oboe"}}, Options{}, "Oboe: oboe name", ""},
		{"what it was taken for", "Clarinet", []plan.Row{{Part: "Clarinet", Instrument: "clarinet-bflat"}}, Options{}, "Clarinet in B♭: clarinet-bflat plan", ""},
		{"what nobody knows", "Quayphone", []plan.Row{{Part: "Quayphone", Instrument: "flute"}}, Options{}, "Flute: flute plan", ""},
		{"a label alone", "Clarinet", []plan.Row{{Part: "Clarinet", Label: "Solo"}}, Options{}, `Solo: clarinet-bflat family assumed ("Clarinet" does not say its key; taken for Clarinet in B♭, the usual one)`, ""},
		{"twice", "Oboe", []plan.Row{{Part: "Oboe"}, {Part: "Oboe", Instrument: "flute"}}, Options{}, "Oboe: oboe name; Flute: flute plan auto", ""},
		{"left out", "Oboe, Flute", []plan.Row{{Part: "Oboe", Instrument: " None "}}, Options{}, "Flute: flute name", ""},
		{"left out and given: left out", "Oboe", []plan.Row{{Part: "Oboe", Instrument: "none"}, {Part: "Oboe", Instrument: "flute"}}, Options{}, "", ""},
		{"nobody's", "Oboe", []plan.Row{{Part: "Tuba"}}, Options{}, "Oboe: oboe name", "Tuba"},
		{"players", "Flutes 1 & 2", []plan.Row{{Part: "Flute 2", Instrument: "oboe"}}, Options{Players: true}, "Flute 1: flute name; Oboe 2: oboe plan auto", ""},
		{"players who double, one of them with another instrument", "Flutes 1 & 2 / Piccolo", []plan.Row{{Part: "P1:2", Instrument: "oboe"}}, Options{Players: true}, "Flute 1 / Piccolo: flute name; Oboe 2: oboe plan auto", ""},
		{"players, by number in another language", "Flutes 1 & 2", []plan.Row{{Part: "Flauto 1", Instrument: "oboe"}}, Options{Players: true}, "Oboe 1: oboe plan auto; Flute 2: flute name", ""},
		{"players, by id", "Flutes 1 & 2", []plan.Row{{Part: "P1:1", Label: "Solo"}}, Options{Players: true}, "Solo: flute name; Flute 2: flute name", ""},
		{"a label for all players", "Flutes 1 & 2", []plan.Row{{Part: "P1", Label: "Solo"}}, Options{Players: true}, "Solo 1: flute name; Solo 2: flute name", ""},
		{"an instrument and a label for all players", "Flutes 1 & 2", []plan.Row{{Part: "P1", Label: "Solo", Instrument: "oboe"}}, Options{Players: true}, "Solo 1: oboe plan auto; Solo 2: oboe plan auto", ""},
		{"in German, called in English", "Flutes 1 & 2", []plan.Row{{Part: "Flute 1", Instrument: "oboe"}}, Options{Players: true, Language: "de"}, "Oboe 1: oboe plan auto; Flöte 2: flute name", ""},
		{"a pair of two instruments", "Cello & Double Bass", []plan.Row{{Part: "P1:2", Instrument: "tuba"}}, Options{Players: true}, "Cello: cello name; Tuba: tuba plan auto", ""},
		{"one label for two instruments", "Cello & Double Bass", []plan.Row{{Part: "P1", Label: "Low"}}, Options{Players: true}, "Low: cello name; Low: double-bass name", ""},
		{"divided, by id", "Flutes 1 & 2, Oboes 1 & 2", nil, Options{Divide: map[string]bool{"P2": true}}, "Flutes 1, 2: flute name; Oboe 1: oboe name; Oboe 2: oboe name", ""},
		{"only", "Flutes 1 & 2, Oboe", nil, Options{Players: true, Only: []string{"P1", "Tuba"}}, "Flute 1: flute name; Flute 2: flute name", "Tuba"},
		{"only, by the staff's name", "Flutes 1 & 2, Oboe", nil, Options{Players: true, Only: []string{"Flutes 1 & 2"}}, "Flute 1: flute name; Flute 2: flute name", ""},
		{"only what the plan makes", "Flute, Oboe", []plan.Row{{Part: "Oboe", Instrument: "tuba"}}, Options{Only: []string{"tuba"}}, "Tuba: tuba plan auto", ""},
		{"only what the score has it for", "Flute, Horn", []plan.Row{{Part: "Horn", Instrument: "tenor-horn-eflat"}}, Options{Only: []string{"french-horn"}}, "Tenor Horn in E♭: tenor-horn-eflat plan auto", ""},
		{"only, by the group in the score", "Flute, Horn in F", []plan.Row{{Part: "P2", Instrument: "clarinet-bflat"}}, Options{Only: []string{"brass"}}, "Clarinet in B♭: clarinet-bflat plan auto", ""},
		{"only, by a further staff", "Oboe, English Horn", []plan.Row{{Part: "P2", Player: "Oboe"}}, Options{Only: []string{"English Horn"}}, "Oboe (English Horn): oboe name + English Horn", ""},
		{"only, by a further staff's id", "Oboe, English Horn, Flute", []plan.Row{{Part: "P2", Player: "Oboe"}}, Options{Only: []string{"P2"}}, "Oboe (English Horn): oboe name + English Horn", ""},
		{"of a work: the flute is no piccolo where that has a row", "Piccolo", []plan.Row{{Part: "Flute", Instrument: "oboe"}, {Part: "Piccolo", Copies: "2"}}, Options{Work: true}, "Piccolo: piccolo name x2", ""},
		{"nor the other way about", "Piccolo", []plan.Row{{Part: "piccolo ", Copies: "2"}, {Part: "woodwind", Copies: "3"}}, Options{Work: true}, "Piccolo: piccolo name x2", ""},
		{"of a work: meant where nothing names it", "Oboe 1", []plan.Row{{Part: "woodwind", Copies: "2"}}, Options{Work: true}, "Oboe 1: oboe name x2", ""},
		{"of a score: every row that means it", "Oboe 1", []plan.Row{{Part: "woodwind", Copies: "2"}, {Part: "Oboe 1", Copies: "3"}}, Options{}, "Oboe 1: oboe name x2; Oboe 1: oboe name x3", ""},
		{"of a work: players", "Flutes 1 & 2", []plan.Row{{Part: "woodwind", Copies: "2"}, {Part: "Flute 2", Copies: "3"}}, Options{Work: true, Players: true}, "Flute 1: flute name x2; Flute 2: flute name x3", ""},
		{"a vocal score", "Flute, Soprano, Alto, Bass", nil, Options{Choir: ChoirScore}, "Flute: flute name; Choir: soprano-voice name sings + Alto + Bass", ""},
		{"singers' parts", "Soprano, Alto", nil, Options{Choir: ChoirParts}, "Soprano: soprano-voice name sings; Alto: alto-voice name assumed sings (taken for Alto; it may be Viola)", ""},
		{"a singer who has a player", "Soprano, Alto, Bass", []plan.Row{{Part: "Soprano", Player: "Anna"}}, Options{Choir: ChoirScore}, "Soprano: soprano-voice name sings; Choir: alto-voice name assumed sings (taken for Alto; it may be Viola) + Bass", ""},
		{"a singer with two staves", "Soprano, Alto", []plan.Row{{Part: "*", Player: "Anna"}}, Options{Choir: ChoirParts}, "Soprano (Alto): soprano-voice name sings + Alto", ""},
		{"who is called like a part", "Oboe, English Horn", []plan.Row{{Part: "English Horn", Player: "oboe", Copies: "2"}}, Options{}, "Oboe (English Horn): oboe name x2 + English Horn", ""},
		{"who is called like the part below", "English Horn, Oboe", []plan.Row{{Part: "English Horn", Player: "oboe"}}, Options{}, "Oboe (English Horn): oboe name + English Horn", ""},
		{"a person", "Oboe, English Horn, Oboe", []plan.Row{{Part: "P2", Player: "Anna"}, {Part: "P1", Player: " ANNA", Copies: "1"}, {Part: "P3", Player: "anna "}}, Options{}, "English Horn (Oboe): english-horn name x1 + Oboe + Oboe", ""},
		{"two of the same", "Oboe, Oboe", []plan.Row{{Part: "*", Player: "Anna"}}, Options{}, "Oboe: oboe name + Oboe", ""},
		{"a percussionist", "Triangle, Cymbals", []plan.Row{{Part: "*", Player: "Ben  B."}}, Options{}, "Ben B.: triangle name + Cymbals", ""},
		{"a percussionist without a name", "Triangle, Cymbals", []plan.Row{{Part: "*", Player: "1"}}, Options{}, "Triangle (Cymbals): triangle name + Cymbals", ""},
		{"one with a number of two digits", "Triangle, Cymbals", []plan.Row{{Part: "*", Player: "90"}}, Options{}, "Triangle (Cymbals): triangle name + Cymbals", ""},
		{"a label for the staff and its players at once", "Flutes 1 & 2", []plan.Row{{Part: "flute*", Label: "Solo"}}, Options{Players: true}, "Solo 1: flute name; Solo 2: flute name", ""},
		{"copies of one of a pair", "Cello & Double Bass", []plan.Row{{Part: "P1:2", Copies: "2"}}, Options{Players: true}, "Cello: cello name; Double Bass: double-bass name x2", ""},
		{"a percussionist with one instrument", "Triangle, Flute", []plan.Row{{Part: "Triangle", Player: "Ben"}}, Options{}, "Triangle: triangle name; Flute: flute name", ""},
		{"a vocal score of one voice", "Flute, Soprano", nil, Options{Choir: ChoirScore}, "Flute: flute name; Soprano: soprano-voice name sings", ""},
		{"with other instruments", "Flute, Cymbals", []plan.Row{{Part: "*", Player: "Ben"}}, Options{}, "Flute (Cymbals): flute name + Cymbals", ""},
		{"the plan's label", "Oboe, Flute", []plan.Row{{Part: "Oboe", Player: "Ben"}, {Part: "Flute", Player: "Ben", Label: "Winds"}}, Options{}, "Winds: oboe name + Winds", ""},
		{"the plan's label of the first", "Oboe, Flute", []plan.Row{{Part: "Oboe", Player: "Ben", Label: "Winds"}, {Part: "Flute", Player: "Ben", Label: "Others"}}, Options{}, "Winds: oboe name + Others", ""},
	} {
		o := row.options
		o.Plan = row.plan
		all, missing, wrong := company(t, o, strings.Split(row.parts, ", ")...).All()
		assert.Equal(t, row.want, strings.Join(toldOfAll(all), "; "), row.why)
		var words []string
		for _, m := range missing {
			words = append(words, m.Words)
			assert.Equal(t, len(o.Only) == 0, m.Row != nil, row.why)
		}
		assert.Equal(t, row.missing, strings.Join(words, ", "), row.why)
		assert.Empty(t, wrong.Rows, row.why)
		for i := range all {
			assert.True(t, all[i].Number == i+1 || len(o.Only) > 0, "%s: file %d", row.why, all[i].Number)
		}
	}
}

// All that a row of a plan cannot say, with its limits.
func TestWrongRows(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	const clefs = "the clefs are treble, treble-8vb, treble-8va, bass, bass-8vb, bass-8va, alto, tenor, soprano, mezzo, baritone and percussion"
	for _, row := range []struct {
		rows []plan.Row
		want string
	}{
		{[]plan.Row{{Part: "Oboe", Octave: "5", Copies: "999", Clef: " "}, {Part: "Oboe", Octave: "-5", Copies: "1", Clef: "Bass , tenor;"}, {Part: "Oboe", Octave: "auto"}}, ""},
		{[]plan.Row{{Part: "Oboe", Octave: "6", Copies: "1000", Line: 4}}, `line 4, part "Oboe": octave "6" is not a whole number from -5 to 5 or auto; line 4, part "Oboe": copies "1000" is not a whole number from 1 to 999`},
		{[]plan.Row{{Part: "Oboe", Octave: "-6", Copies: "0"}}, `part "Oboe": octave "-6" is not a whole number from -5 to 5 or auto; part "Oboe": copies "0" is not a whole number from 1 to 999`},
		{[]plan.Row{{Part: "Oboe", Octave: "up", Copies: "two", Line: 1}}, `line 1, part "Oboe": octave "up" is not a whole number from -5 to 5 or auto; line 1, part "Oboe": copies "two" is not a whole number from 1 to 999`},
		{[]plan.Row{{Part: "Oboe", Clef: "bass; tener"}}, `part "Oboe": "bass; tener" is no clef; ` + clefs},
		{[]plan.Row{{Part: "Oboe", Clef: ";"}}, `part "Oboe": ";" is no clef; ` + clefs},
		{[]plan.Row{{Part: "Oboe", Instrument: "fluwt"}}, `part "Oboe": ` + catalogue.NotFound("fluwt").Error()},
		{[]plan.Row{{Part: "Oboe", Instrument: "Flute of Quay"}}, `part "Oboe": ` + catalogue.NotFound("Flute of Quay").Error()},
		{[]plan.Row{{Part: "A", Player: "B"}, {Part: "B", Player: "C"}, {Part: "C", Player: "b", Line: 3}}, `part "B": the players go in a circle: B is played by C is played by B; line 3, part "C": the players go in a circle: C is played by B is played by C`},
		{[]plan.Row{{Part: "A", Player: "a"}, {Part: "B", Player: "A"}}, ""},
	} {
		err := CheckPlan(row.rows, catalogue)
		if row.want == "" {
			assert.NoError(t, err)
			continue
		}
		assert.EqualError(t, err, row.want)
	}
	c := company(t, Options{}, "Oboe")
	given, err := c.Give(c.Usual(0), plan.Row{Instrument: "flute", Label: "Solo"})
	require.NoError(t, err)
	assert.Equal(t, "Solo: flute plan auto", toldOf(&given))
	both := company(t, Options{Players: true}, "Flutes 1 & 2")
	players, _, _ := both.All()
	given, err = both.Give(players[1], plan.Row{Label: "Solo"})
	require.NoError(t, err)
	assert.Equal(t, "Solo: flute name", toldOf(&given), "the label is the player's own")
	_, err = c.Give(c.Usual(0), plan.Row{Octave: "9", Copies: "0"})
	assert.EqualError(t, err, `octave "9" is not a whole number from -5 to 5 or auto`)
}

// Where a row names another row's part as its player, the player is whoever plays that.
func TestFollowPlayers(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ rows, want string }{
		{"A=B B", "A=B B=B"}, {"A=B B=Anna", "A=Anna B=Anna"}, {"A=B B=C C", "A=C B=C C=C"}, {"A=Anna B", "A=Anna B="}, {"A=a", "A=a"}, {"A B=A C=B", "A=A B=A C=A"},
		{"A=A A=Anna B=A", "A=A A=Anna B=A"},
	} {
		var rows []plannedRow
		for _, word := range strings.Fields(row.rows) {
			part, player, _ := strings.Cut(word, "=")
			rows = append(rows, plannedRow{Row: plan.Row{Part: part, Player: player}})
		}
		wrong := &plan.Error{}
		followPlayers(rows, wrong)
		var got []string
		for _, r := range rows {
			got = append(got, r.Part+"="+r.Player)
		}
		assert.Equal(t, row.want, strings.Join(got, " "), row.rows)
		assert.Empty(t, wrong.Rows, row.rows)
	}
}

// An edition for every reader is headed as such sets are; what has no readers is written as
// usual, and that is said.
func TestEditionsAndStandIns(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	reader := func(words string) *instruments.Reader {
		r, err := catalogue.FindReader(words)
		require.NoError(t, err)
		return r
	}
	substitutes, err := catalogue.ReadSubstitutes(strings.NewReader("instrument,substitute\nhorn-f,horn-eflat\ntrombone,trombone-bflat-treble\n"))
	require.NoError(t, err)
	bflat, bass := []*instruments.Reader{reader("Bb treble")}, []*instruments.Reader{reader("C bass"), reader("C alto")}
	for _, row := range []struct {
		name    string
		options Options
		plan    plan.Row
		change  func(p *survey.Part)
		want    string
	}{
		{"Part 3", Options{Editions: bflat}, plan.Row{}, nil, "Part 3 in B♭: reader-bb-treble plan auto edition Bb treble"},
		{"12", Options{Editions: bflat}, plan.Row{}, nil, "Part 12 in B♭: reader-bb-treble plan auto edition Bb treble"},
		{"Stimme 2", Options{Editions: bflat, Language: "de"}, plan.Row{}, nil, "Stimme 2 in B: reader-bb-treble plan auto edition Bb treble"},
		{"Part 100", Options{Editions: bflat}, plan.Row{}, nil, "Part 100 in B♭: reader-bb-treble plan auto edition Bb treble"},
		{"Quayphone", Options{Editions: bflat}, plan.Row{Octave: "1", Clef: "alto"}, nil, "Quayphone in B♭: reader-bb-treble plan 1 edition Bb treble"},
		{"Viola", Options{Editions: bass}, plan.Row{}, nil, "Part 1 in C, bass clef (Viola): reader-c-bass plan auto edition C bass; Part 1 in C, alto clef (Viola): reader-c-alto plan auto edition C alto"},
		{"Viola", Options{Editions: bflat}, plan.Row{Label: "Tune"}, nil, "Tune in B♭: reader-bb-treble plan auto edition Bb treble"},
		{"Voice", Options{Editions: bflat}, plan.Row{}, nil, "Voice in B♭: reader-bb-treble plan auto edition Bb treble"},
		{"Viola", Options{Editions: bflat}, plan.Row{Instrument: "oboe"}, nil, "Oboe: oboe plan auto"},
		{"Viola", Options{Editions: bflat}, plan.Row{Instrument: "viola"}, nil, "Part 1 in B♭ (Viola): reader-bb-treble plan auto edition Bb treble"},
		{"Timpani", Options{Editions: bflat}, plan.Row{}, nil, `Timpani: timpani name ("Timpani" is written as usual and in no other edition: it is for percussion)`},
		{"Quayphone", Options{Editions: bflat}, plan.Row{}, func(p *survey.Part) { p.Notes, p.Unpitched = 0, 1 }, `Quayphone: nobody none (no instrument is known by the name "Quayphone"; the part stays at sounding pitch) ("Quayphone" is written as usual and in no other edition: it is for percussion)`},
		{"Viola", Options{Editions: bflat}, plan.Row{}, func(p *survey.Part) { p.Notes = 0 }, "Part 1 in B♭ (Viola): reader-bb-treble plan auto edition Bb treble"},
		{"Piano", Options{Editions: bflat}, plan.Row{}, func(p *survey.Part) { p.Staves = 2 }, `Piano: piano name ("Piano" is written as usual and in no other edition: it stands on several staves)`},
		{"Timpani", Options{Editions: bflat}, plan.Row{Instrument: "tuba"}, nil, "Tuba: tuba plan auto"},
		{"Piano", Options{Editions: bflat}, plan.Row{Instrument: "celesta"}, func(p *survey.Part) { p.Staves = 2 }, "Celesta: celesta plan auto"},
		{"Horn in F 1", Options{Substitutes: substitutes}, plan.Row{}, nil, "Horn in F 1: horn-f name; Horn in E♭ 1 (for Horn in F 1): horn-eflat plan for Horn in F 1"},
		{"Trombone", Options{Substitutes: substitutes}, plan.Row{Octave: "-1", Copies: "2"}, nil, "Trombone: trombone name -1 x2; Trombone in B♭, treble clef (for Trombone): trombone-bflat-treble plan -1 x2 for Trombone"},
		{"Quayphone", Options{Substitutes: substitutes}, plan.Row{Octave: "1"}, nil, `Quayphone: nobody none 1 (no instrument is known by the name "Quayphone"; the part stays at sounding pitch)`},
		{"Flute", Options{Substitutes: substitutes}, plan.Row{}, nil, "Flute: flute name"},
	} {
		if row.plan != (plan.Row{}) {
			row.plan.Part = "P1"
			row.options.Plan = []plan.Row{row.plan}
		}
		c := company(t, row.options, row.name)
		if row.change != nil {
			row.change(&c.Parts[0])
		}
		all, _, _ := c.All()
		assert.Equal(t, row.want, strings.Join(toldOfAll(all), "; "))
	}
	c := company(t, Options{Editions: bflat}, "")
	c.Parts[0].Match = catalogue.Match(instruments.Query{Sound: "strings.violin"})
	all, _, _ := c.All()
	assert.Equal(t, []string{"Part 1 in B♭: reader-bb-treble plan auto edition Bb treble"}, toldOfAll(all), "a sound told it")
	all, _, _ = company(t, Options{Editions: bflat, Plan: []plan.Row{{Part: "*", Player: "Anna"}}}, "Viola", "Viola").All()
	assert.Len(t, all, 2, "what is for any of several readers is nobody's second staff")
}

// What is told of a part file: numbers of its players, whether it has the whole staff.
func TestTold(t *testing.T) {
	t.Parallel()
	c := company(t, Options{Players: true}, "Horns in F 3 & 4", "Cello & Double Bass", "Horn in F 2")
	all, _, _ := c.All()
	require.Len(t, all, 5)
	for i, want := range [][]int{{3}, {4}, nil, nil, {2}} {
		told := c.Told(&all[i])
		assert.Equal(t, want, told.Numbers, told.Label)
		assert.False(t, told.Some, told.Label)
		assert.Equal(t, i < 4, all[i].Shared, told.Label)
		assert.Equal(t, []int{2, 2, 2, 2, 0}[i], told.PlayerCount)
	}
	others := company(t, Options{Players: true}, "Clarinets in A 1 & 2")
	others.Parts[0].Source = []transpose.Stretch{{To: says(-1, -2)}}
	both, _, _ := others.All()
	assert.Equal(t, []string{"Clarinet in B♭ 1", "Clarinet in B♭ 2"}, []string{both[0].Label, both[1].Label}, "as it transposes")
	shared := all[4]
	shared.OneStaff, shared.With = "1,2", all[:1]
	assert.True(t, c.Told(&shared).Some)
	assert.Equal(t, []int{3}, c.Told(&shared).With[0].Numbers)
	told := c.Told(&shared)
	assert.Equal(t, []string{"P3", "P1"}, told.PartIDs())
	assert.Equal(t, "P1:1", all[0].PlayerID())
	assert.Nil(t, (&plan.Assignment{}).PartIDs(), "a tacet sheet's")
	taken := all[4]
	taken.Takes = []Take{{}}
	assert.True(t, c.Told(&taken).Some)
}

// Who is heard in a part's cues: as the score has it, else the first to whom it is given.
func TestHeard(t *testing.T) {
	t.Parallel()
	c := company(t, Options{Players: true, Plan: []plan.Row{{Part: "Oboe", Instrument: "flute"}, {Part: "Oboe", Instrument: "tuba"}, {Part: "Horn in F", Instrument: "none"}, {Part: "P4", Label: "Solo"}, {Part: "P5:2", Instrument: "oboe"}}},
		"Oboe", "Horn in F", "Bassoon", "Viola", "Flutes 1 & 2")
	assert.Equal(t, []string{"Flute", "", "Bassoon", "Viola", "Flutes 1, 2"}, c.Heard())
}

// Parts and players by what they are called: a part by its name, where that means no other, a
// player by the label; the players of a staff where some are named.
func TestCalled(t *testing.T) {
	t.Parallel()
	c := company(t, Options{Players: true}, "Flutes 1 & 2", "Horn in F", "Horn in F", "Viola")
	c.ScoreParts[3].NameDisplay = "Quayphone solo"
	files, _, _ := c.All()
	assert.Equal(t, []string{"Flute 1", "Flute 2", "P2", "P3", "Viola"}, c.Names(files))
	for words, want := range map[string]int{"P1": 0, "P1:2": 1, "Flute 2": 1, "2. Flöte": 1, "flute": 0, "P3": 3, "Viola": 4, "quayphone SOLO": 4} {
		got, err := c.Choose(files, words, 0)
		require.NoError(t, err, words)
		assert.Equal(t, want, got, words)
		assert.True(t, c.Means(words) || strings.Contains(words, ":") || strings.Contains(words, "2"), words)
	}
	for _, row := range []struct {
		words  string
		player int
		want   int
		wrong  string
	}{
		{"P1", 1, 0, ""}, {"P1", 2, 1, ""}, {"P1:2", 2, 1, ""}, {"P1:1", 2, 1, ""}, {"P1", 3, 0, `part "Flutes 1 & 2" (P1) has no player 3`}, {"P4", 1, 0, `part "Viola" (P4) has no player 1`},
		{"horn", 0, 0, `"horn" means several parts: Horn in F (P2), Horn in F (P3); name one of them or its id`}, {"woodwind", 0, 0, ""}, {"Flute ?", 0, 0, `"Flute ?" means several parts: Flute 1 (P1:1), Flute 2 (P1:2); name one of them or its id`},
	} {
		got, err := c.Choose(files, row.words, row.player)
		if row.wrong != "" {
			assert.EqualError(t, err, row.wrong, row.words)
			continue
		}
		require.NoError(t, err, row.words)
		assert.Equal(t, row.want, got, row.words)
	}
	for i, want := range map[int][]int{0: {1}, 1: {2}, 4: nil} {
		assert.Equal(t, want, c.Numbers(&files[i]), files[i].Label)
	}
	found, err := c.Find("viola")
	require.NoError(t, err)
	assert.Equal(t, 3, found)
	assert.False(t, c.Means("Tuba"))
	horns := company(t, Options{}, "Horn in F", "Horn in F") // numbered by what stands beside the name, such as their group
	horns.Parts[0].Match.Players, horns.Parts[1].Match.Players = []int{1}, []int{2}
	files, _, _ = horns.All()
	for words, want := range map[string]int{"Corno 1": 0, "2. Horn": 1, "Cor II": 1} {
		got, err := horns.Choose(files, words, 0)
		require.NoError(t, err, words)
		assert.Equal(t, want, got, words)
	}
}

// The passages that a percussionist takes, from their beginning to before their end; what is said
// is said to whoever plays, or plays next, and behind the last passage to whoever had that.
func TestTakes(t *testing.T) {
	t.Parallel()
	at := func(measure int, quarters int64) musicxml.Position {
		return musicxml.Position{Measure: measure, Onset: musicxml.NewFraction(quarters, 1)}
	}
	some := Assignment{Takes: []Take{{Instrument: "I1", From: at(1, 0), To: at(2, 2), Since: at(0, 2)}, {Instrument: "I2", From: at(4, 0), To: at(5, 0), Since: at(3, 0), Last: true}}}
	for _, row := range []struct {
		instrument string
		at         musicxml.Position
		want       bool
	}{{"I1", at(1, 0), true}, {"I1", at(2, 1), true}, {"I1", at(2, 2), false}, {"I1", at(0, 3), false}, {"I2", at(1, 0), false}, {"I2", at(4, 3), true}, {"I3", at(1, 0), false}} {
		assert.Equal(t, row.want, some.TakesNote(row.instrument, row.at), "%v", row)
	}
	any := Assignment{Takes: []Take{{From: at(1, 0), To: at(2, 0), Since: at(-1, 0)}}}
	for _, row := range []struct {
		of   *Assignment
		at   musicxml.Position
		want bool
	}{
		{&some, at(0, 2), false}, {&some, at(0, 3), true}, {&some, at(1, 0), true}, {&some, at(2, 2), true}, {&some, at(2, 3), false}, {&some, at(3, 0), false}, {&some, at(3, 1), true},
		{&some, at(5, 1), true}, {&any, at(0, 0), true}, {&any, at(2, 0), true}, {&any, at(2, 1), false}, {&Assignment{}, at(1, 0), false},
	} {
		assert.Equal(t, row.want, row.of.TakesMark(row.at), "%v", row.at)
	}
	assert.True(t, any.TakesNote("I9", at(1, 3)))
	assert.True(t, any.TakesInstrument("I9"))
	assert.True(t, some.TakesInstrument("I2"))
	assert.False(t, some.TakesInstrument("I3"))
	assert.True(t, (&Assignment{}).TakesInstrument("I3"), "all of the staff")
}

// Which score-instruments are whose: by their number, else by their order where there are as
// many as players.
func TestInstrumentsOfSharers(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		part, instruments string
		want              []string
	}{
		{"Flutes 1 & 2", "Flute 2, Flute 1", []string{"I2", "I1"}}, {"Flutes 1 & 2", "Flute, Piccolo", []string{"I1", "I2"}}, {"Flutes 1 & 2", "Flute", []string{"", ""}},
		{"Flutes 1 & 2", "Flute 1, Piccolo", []string{"", ""}}, {"Flutes 1 & 2", "Flute 3, Flute 4", []string{"", ""}}, {"Flutes 1 & 2", "Flute 1, Flute 2, Piccolo", []string{"I1", "I2"}}, {"Flutes 1 & 2", "", []string{"", ""}},
		{"Flute", "Flute 2, Flute 1", []string{"I2", "I1"}}, {"Flute", "Flute 1, Piccolo", nil},
	} {
		c := company(t, Options{}, row.part)
		for i, name := range strings.Split(row.instruments, ", ") {
			if name != "" {
				c.ScoreParts[0].Instruments = append(c.ScoreParts[0].Instruments, musicxml.ScoreInstrument{ID: fmt.Sprintf("I%d", i+1), Name: name})
			}
		}
		var got []string
		for _, s := range c.sharersOf(0) {
			got = append(got, strings.Join(s.Instruments, " "))
		}
		assert.Equal(t, row.want, got, row.instruments)
	}
}

// How many share a staff whose name numbers nobody: as many as the score says; else two or more
// where a name in the plural stands over music for several. A section of strings is not divided,
// nor a keyboard (common practice, no source).
func TestUnnumberedSharers(t *testing.T) {
	t.Parallel()
	for part, wants := range map[string]map[Evidence]int{
		"Flutes": {{layers: 1}: 0, {layers: 2}: 2, {layers: 3}: 3, {layers: 6}: 4, {layers: 1, number: 3}: 3, {layers: 1, number: 9}: 4}, "Flute": {{layers: 2}: 0, {layers: 1, said: 2}: 2},
		"Flöten": {{layers: 2}: 2}, "Quayphones": {{layers: 2}: 0, {layers: 2, said: 2}: 2}, "Violins": {{layers: 2}: 0}, "Violin 1": {{layers: 2, said: 2}: 0}, "Violins 1 & 2": {{layers: 1}: 2},
		"Pianos": {{layers: 2}: 0}, "Horns 1-16": {{layers: 1}: 16}, "Horns 1-17": {{layers: 1}: 0},
	} {
		c := company(t, Options{}, part)
		for evidence, want := range wants {
			c.evidence[0] = evidence
			assert.Len(t, c.sharersOf(0), want, "%s %+v", part, evidence)
		}
	}
	c := company(t, Options{}, "Flutes") // of whom one has a sound of her own
	c.ScoreParts[0].Instruments, c.evidence[0] = []musicxml.ScoreInstrument{{ID: "I1", Name: "Flute 1"}}, Evidence{layers: 2}
	assert.Len(t, c.sharersOf(0), 2)
}

// What the music tells of how many share it: chords and voices on one staff, words with
// numbers, what the score says (MusicXML 4.0, instruments, double).
func TestEvidence(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	attributes := func(inner string) string { return "<attributes>" + inner + "</attributes> " }
	for _, row := range []struct {
		music string
		want  Evidence
	}{
		{"C5:w", Evidence{layers: 1}}, {"C5+E5+G5:h C5:h", Evidence{layers: 3}}, {"C5+E5:h D5+F5+A5:h | C5:w", Evidence{layers: 3}}, {"C5:w / E5:w", Evidence{layers: 2}}, {"C5:w | r:w / E5:w", Evidence{layers: 1}},
		{"C5:w | E5:w / r:w", Evidence{layers: 1}}, {"C5:w // E4:w", Evidence{layers: 1}}, {"C5:w / E5:w // C4:w / D4:w / E4:w", Evidence{layers: 3}}, {"R", Evidence{layers: 1}},
		{`"a 2" C5:w | "3." C5:w`, Evidence{layers: 1, number: 3}}, {`"1." C5:w | "dolce" C5:w`, Evidence{layers: 1, number: 1}}, {`"a 4" C5:w`, Evidence{layers: 1, number: 4}}, {`"3" C5:w`, Evidence{layers: 1}}, // a digit alone may count bars
		{"[instruments 2] C5:w | [instruments 3] C5:w | [instruments 2] C5:w", Evidence{layers: 1, said: 3}}, {"[instruments 99] C5:w", Evidence{layers: 1, said: divisi.MaxPlayers}}, {"[instruments x] C5:w", Evidence{layers: 1}},
		{attributes("<transpose><chromatic>0</chromatic><double/></transpose>") + "C5:w", Evidence{layers: 1, double: true}}, {attributes(`<transpose><chromatic>0</chromatic><double above="yes"/></transpose>`) + "C5:w", Evidence{layers: 1, double: true, above: true}},
		{"[transpose 0 0 -1] C5:w", Evidence{layers: 1}},
	} {
		timeline, err := musicxml.NewTimeline(shorthand.Part(t, row.music))
		require.NoError(t, err)
		assert.Equal(t, row.want, Gather(timeline, lexicon), row.music)
	}
}

// Two instruments an octave apart on one staff: who of them sounds elsewhere than the other
// reads (MusicXML 4.0, double).
func TestPairs(t *testing.T) {
	t.Parallel()
	for part, wants := range map[string]map[Evidence]string{
		"Cello & Double Bass": {{}: "cello 0, double-bass -12"}, "Flute & Piccolo": {{}: "", {double: true, above: true}: "flute 0, piccolo 12", {double: true}: "flute -12, piccolo 0"},
		"Piccolo & Flute": {{double: true}: "piccolo 0, flute -12", {double: true, above: true}: "piccolo 12, flute 0"}, "Oboe & Clarinet in C": {{double: true}: "oboe 0, clarinet-c -12"},
		"Oboe": {{double: true}: ""}, "Double Bass & Cello": {{}: ""}, "Cello & Viola": {{}: ""}, "Viola & Double Bass": {{}: ""}, "Flute 2 / Piccolo": {{double: true}: ""},
		"Flute & Piccolo & Oboe": {{double: true}: ""},
	} {
		c := company(t, Options{}, part)
		for evidence, want := range wants {
			c.evidence[0] = evidence
			var got []string
			for _, s := range c.cellosAndBasses(0) {
				got = append(got, fmt.Sprintf("%s %d", s.Instrument.ID, s.Shift.Chromatic))
			}
			assert.Equal(t, want, strings.Join(got, ", "), part)
		}
	}
}

// Two of percussion, or two keyboards, can be played at once (common practice, no source).
func TestAtOnce(t *testing.T) {
	t.Parallel()
	catalogue := instrumentstest.Load(t)
	for pair, want := range map[string]bool{"triangle snare-drum": true, "piano celesta": true, "piano triangle": false, "flute piccolo": false, "flute triangle": false, "flute none": false, "none piano": false} {
		a, b, _ := strings.Cut(pair, " ")
		assert.Equal(t, want, AtOnce(catalogue.ByID(a), catalogue.ByID(b)), pair)
	}
}
