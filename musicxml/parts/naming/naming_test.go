package naming_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml/parts/naming"
)

// band is a small wind band as its score names it.
func band(t testing.TB) (*naming.Resolver, *instruments.Catalogue) {
	t.Helper()
	c := instrumentstest.Load(t)
	var list []naming.Part
	for i, name := range []string{"Flute", "Flute 2", "Clarinet in B♭ 1", "Clarinet in B♭ 2", "Clarinet in A", "Horns in F 1.2", "Horn in E♭ 3", "Trompete in B", "Violin I", "***", "Clarinet in B♭ 1 / Bass Clarinet", "Alto Saxophone", "Tenor Saxophone"} {
		m := c.Match(instruments.Query{Name: name})
		list = append(list, naming.Part{IDs: []string{"P" + string(rune('a'+i))}, Names: []string{name, m.Label("en")}, Instrument: m.Instrument, Players: m.Players})
	}
	return naming.New(c, list), c
}

// TestFind: a part is found by its name in any spelling of its signs, its id, its
// instrument, a pattern, in five languages; the first that finds anything decides.
func TestFind(t *testing.T) {
	t.Parallel()
	r, _ := band(t)
	for _, test := range []struct {
		words, want, why string
	}{
		{"Clarinet in B♭ 1", "c", "the name itself"},
		{"Clarinet in Bb 1", "c", "no keyboard has the sign"},
		{"clarinet in bb 1", "c", "case"},
		{"Clarinet in B-flat 1", "c", "in words, with a hyphen"},
		{"Clarinet in B flat 1", "c", "in words"},
		{"Clarinet in Bflat, 1", "c", "in one word, a comma"},
		{"CLARINET IN B♭ I", "c", "a Roman number"},
		{"Clarinet in Sib 1", "c", "a key in another language"},
		{"1st Clarinet in B flat", "c k", "another order, by meaning"},
		{"Bb Clarinet 1", "c k", "another order"},
		{"1. Klarinette in B", "c k", "German"},
		{"Clarinette en si♭ 2", "d", "French"},
		{"Clarinetto in La", "e", "Italian"},
		{"Trompa en Mi bemol", "g", "Spanish"},
		{"Horn 2", "f", "one of the players of a part"},
		{"Horn in F", "f", "the key alone"},
		{"Horn 1, 2 in F", "f", "both players"},
		{"Trumpet in B flat", "h", "an English name for a German one"},
		{"Pd", "d", "an id"},
		{"pd", "d", "an id in small letters"},
		{"Flute", "a", "the part of just that name, though there are more flutes"},
		{"flute", "a", "the same: names go before instruments"},
		{"Flauta", "a b", "by meaning, all flutes"},
		{"clarinet", "c d e k", "the instrument"},
		{"flutes", "a b", "by meaning: no piccolo where there are flutes"},
		{"saxophone", "l m", "the family"},
		{"clarinet-a", "e", "the instrument's id"},
		{"horn", "f g", "the instrument"},
		{"woodwind", "a b c d e k l m", "the group"},
		{"brass", "f g h", "the group"},
		{"Clarinet*", "c d e k", "a pattern"},
		{"*Bb*", "c d h k", "a pattern with a sign, also of the label"},
		{"*b-flat ?", "c d", "a pattern with a sign in words"},
		{"horn-*", "f g", "a pattern for instruments"},
		{"P[ab]", "a b", "a pattern for ids"},
		{"Violin 1", "i", "a Roman number in the score"},
		{"1. Violine", "i", "German"},
		{"***", "j", "a name without letters"},
		{"Clarinet in B♭ 1 / Bass Clarinet", "k", "a doubling"},
		{"Bassoon or Flute", "a b", "the first that the score has of those that are meant"},
		{" Flute ", "a", "blanks round the name"},
		{" pd", "d", "and round an id"},
		{"*♯*", "", "a pattern with a sign that no name has"},
		{"*b-flat/?", "", "a stroke is no end of a name"},
		{"*1 / Bass*", "k", "a stroke in a pattern"},
		{"*s in f *", "f", "a pattern of the name, in small letters"},
		{"flut?", "a b", "a pattern of the id of an instrument"},
		{"alto-sax*", "l", "a pattern of an instrument"},
		{"clarinet-bflat*", "c d k", "a pattern of an instrument's id"},
		{"alto saxophone", "l", "an instrument's kind in words"},
		{"Flute or Piccolo and Oboe", "", "two instruments of one player"},
		{"Flute of Quay", "", "with a word that nobody knows"},
		{"Horn in F 3", "", "not that player"},
		{"Horn 1, 3", "", "not both on one staff"},
		{"Clarinet in Bb 3", "", "no such player"},
		{"Clarinet in C", "", "no such key"},
		{"Bassoon", "", "no such instrument"},
		{"Clarionett in Bb", "", "a slip"},
		{"", "", "nothing"},
		{"  ", "", "nothing"},
		{"[", "", "no pattern"},
	} {
		var found []string
		for _, i := range r.Find(test.words) {
			found = append(found, string(rune('a'+i)))
		}
		assert.Equal(t, test.want, strings.Join(found, " "), "%q: %s", test.words, test.why)
	}
}

// TestListed: several parts may stand in one list, but not every comma makes one.
func TestListed(t *testing.T) {
	t.Parallel()
	r, _ := band(t)
	for words, want := range map[string]string{
		"flute, horn":           "flute|horn",
		"flute,kazoo":           "flute|kazoo",
		"flute, horn, ":         "flute|horn|",
		"kazoo, ocarina":        "kazoo, ocarina",
		"Pd,*Bb*":               "Pd|*Bb*",
		"Clarinet in A, Violin": "Clarinet in A|Violin",
		"Clarinet in Bflat, 1":  "Clarinet in Bflat, 1",
		"Horn 1, 2 in F":        "Horn 1, 2 in F",
		"Saxophone, alto":       "Saxophone, alto",
		"":                      "",
	} {
		assert.Equal(t, want, strings.Join(r.Listed([]string{words}), "|"), words)
	}
}

// TestOne: words that name nothing are answered with the nearest names, words that name
// several with all of them.
func TestOne(t *testing.T) {
	t.Parallel()
	r, c := band(t)
	i, err := r.One("clarinet in Bb 2")
	require.NoError(t, err)
	assert.Equal(t, 3, i)
	_, err = r.One("Clarionett in Bb 1")
	var missing *naming.NotFound
	require.ErrorAs(t, err, &missing)
	assert.Equal(t, "Clarinet in B♭ 1", missing.Nearest[0])
	assert.ErrorContains(t, err, `no part is called "Clarionett in Bb 1"; did you mean Clarinet in B♭ 1, `)
	_, err = r.One("Bassoon")
	assert.EqualError(t, r.Missing("trmpet"), `no part is called "trmpet"; did you mean trumpet?`)
	assert.ErrorContains(t, err, `no part is called "Bassoon"; the parts are Flute (Pa), Flute 2 (Pb), `)
	_, err = r.One("horn")
	var several *naming.Ambiguous
	require.ErrorAs(t, err, &several)
	assert.EqualError(t, err, `"horn" means several parts: Horns in F 1.2 (Pf), Horn in E♭ 3 (Pg); name one of them or its id`)
	assert.Nil(t, r.Missing("horn"))
	assert.NotNil(t, r.Missing("tuba"))
	_, err = r.One("")
	assert.Regexp(t, `^no part is named; the parts are Flute \(Pa\), Flute 2 \(Pb\), `, err.Error())
	assert.Nil(t, r.Missing("Flute"))
	_, err = naming.New(c, nil).One("horn")
	assert.EqualError(t, err, `no part is called "horn"; the score has no parts`)
}

// A part with its players is one; several parts are not, whatever else they have.
func TestWholeAndPlayers(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	horn, basso, alto := c.ByID("horn-f"), c.Match(instruments.Query{Name: "Horn in B♭ basso"}), c.Match(instruments.Query{Name: "Horn in B♭ alto"})
	list := []naming.Part{{IDs: []string{"P1"}, Names: []string{"Horns"}, Instrument: horn, Players: []int{1, 2}}, {IDs: []string{"P1:1"}, Names: []string{"Horn 1"}, Instrument: horn},
		{IDs: []string{"P1:2"}, Names: []string{"Horn 2"}, Instrument: horn}, {IDs: []string{"P2"}, Names: []string{"Low horn"}, Instrument: basso.Instrument}, {IDs: []string{"P3"}, Names: []string{" "}, Instrument: alto.Instrument},
		{Names: []string{"Horns"}, Instrument: c.ByID("tuba")}, {IDs: []string{"P5", "P6"}}, {IDs: []string{"P10:1"}, Names: []string{"Tuba"}, Instrument: c.ByID("tuba")}}
	r := naming.New(c, list)
	for words, want := range map[string]string{
		"horn-f": "P1", "P1": "P1", "Horn in F 2": "P1", "P6": "P5", "Horn in B flat basso": "P2", "Horn in B flat alto": "P3", "Corno 1": "P1",
		"horn": `"horn" means several parts: Horns (P1), Horn 1 (P1:1), Horn 2 (P1:2), Low horn (P2),   (P3); name one of them or its id`,
		"P1*":  `"P1*" means several parts: Horns (P1), Horn 1 (P1:1), Horn 2 (P1:2), Tuba (P10:1); name one of them or its id`, "tuba": "P10:1",
		"*r*s*": `"*r*s*" means several parts: Horns (P1), Low horn (P2), Horns; name one of them or its id`, "P5*": "P5", "Horn in B flat": "P2",
	} {
		i, err := r.One(words)
		if err != nil {
			assert.EqualError(t, err, want, words)
			continue
		}
		assert.Equal(t, want, append(list[i].IDs, "")[0], words)
	}
	assert.Equal(t, []string{"P1", "Horn 1", "Horn 2", "Low horn", "P3", "", "P6", "Tuba"}, r.Names())
	assert.Equal(t, []string{"Horns (P1)", "Horn 1 (P1:1)", "Horn 2 (P1:2)", "Low horn (P2)", "  (P3)", "Horns", "P6", "Tuba (P10:1)"}, r.Missing("Quayphone").Parts)
	for words, want := range map[string]bool{" horn 1 ": true, " p1:2": true, "Horn*": false, "horn-f": false, "Corno 1": false} {
		assert.Equal(t, want, r.CalledSo(words), words)
	}
	assert.Equal(t, []string{"Solo-7"}, naming.New(c, []naming.Part{{IDs: []string{"Solo-7"}, Names: []string{"Quayphone"}}}).Missing("solo-8").Nearest, "an id")
	told := naming.New(c, []naming.Part{{Names: []string{"Oboes 1 & 2"}, Instrument: c.ByID("oboe")}, {Names: []string{"Oboe 3"}, Instrument: c.ByID("oboe")}})
	assert.Equal(t, []int{0}, told.Find("2. Oboe"), "the first name says the players")
	assert.Empty(t, told.Find("Oboe 4"))
	var many []naming.Part
	for i := range 42 {
		many = append(many, naming.Part{IDs: []string{fmt.Sprintf("P%d", i+1)}, Names: []string{fmt.Sprintf("Part %d", i+1)}})
	}
	missing := naming.New(c, many).Missing("Oboe d'amore")
	assert.Len(t, missing.Parts, 41)
	assert.Equal(t, []string{"Part 40 (P40)", "…"}, missing.Parts[39:])
	assert.Len(t, naming.New(c, many[:40]).Missing("Oboe d'amore").Parts, 40)
	assert.Equal(t, []string{"Part 4", "Part 40", "Part 41"}, naming.New(c, many).Missing("Part 4x").Nearest, "three at most")
}

// A pattern's signs in any spelling meet a name's in any other.
func TestSignsInPatterns(t *testing.T) {
	t.Parallel()
	c := instrumentstest.Load(t)
	spellings := map[string][]string{"b": {"♭", "b", "-flat", " flat", "B", "-FLAT"}, "#": {"♯", "#", "-sharp", " sharp", " Sharp"}}
	for sign, all := range spellings {
		for _, name := range all {
			for _, word := range all {
				r := naming.New(c, []naming.Part{{Names: []string{"Quayphone in F/C natural"}}, {Names: []string{"Quayphone in F" + name + " 1/2"}}})
				assert.Equal(t, []int{1}, r.Find("quay*f"+word+" 1/?"), "%s: %q for %q", sign, word, name)
			}
		}
	}
}

// TestNames: what a plan or a completion calls a part means no other.
func TestNames(t *testing.T) {
	t.Parallel()
	r, c := band(t)
	for i, name := range r.Names() {
		assert.Equal(t, []int{i}, r.Find(name), name)
	}
	twice := naming.New(c, []naming.Part{{IDs: []string{"P1"}, Names: []string{"Violin"}}, {IDs: []string{"P2"}, Names: []string{"violin"}}, {IDs: []string{"P3"}}})
	assert.Equal(t, []string{"P1", "P2", "P3"}, twice.Names(), "names that mean two parts, and none")
}

// FuzzFind: no words break the resolver, and what it finds is a part of the score.
func FuzzFind(f *testing.F) {
	for _, words := range []string{"Clarinet in B♭ 1", "*", "[", "1. Klarinette in B", "\\", "P[a", "♭♭♭", strings.Repeat("Horn ", 200)} {
		f.Add(words)
	}
	r, _ := band(f)
	f.Fuzz(func(t *testing.T, words string) {
		for _, i := range r.Find(words) {
			assert.True(t, i >= 0 && i <= 12)
		}
		_, _ = r.One(words)
	})
}
