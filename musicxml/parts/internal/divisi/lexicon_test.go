package divisi_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/parts/internal/divisi"
)

func TestMarkers(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	one, two, both := []int{1}, []int{2}, []int{1, 2}
	for _, c := range []struct {
		text, why string
		want      divisi.Marker
		none      bool
	}{
		{text: "1.", why: "the first alone", want: divisi.Marker{Numbers: one}},
		{text: "2", why: "a bare digit may count something else", want: divisi.Marker{Numbers: two, Bare: true}},
		{text: "II.", why: "Roman", want: divisi.Marker{Numbers: two}},
		{text: "2º", why: "Italian", want: divisi.Marker{Numbers: two}},
		{text: "1st", why: "English", want: divisi.Marker{Numbers: one}},
		{text: "primo", why: "in words", want: divisi.Marker{Numbers: one}},
		{text: "1. & 2.", why: "joined", want: divisi.Marker{Numbers: both}},
		{text: "1. e 2.", why: "joined in Italian", want: divisi.Marker{Numbers: both}},
		{text: "1.2.", why: "joined by nothing", want: divisi.Marker{Numbers: both}},
		{text: "a 2", why: "in unison", want: divisi.Marker{All: true, Count: 2}},
		{text: "(a2)", why: "in brackets, without a space", want: divisi.Marker{All: true, Count: 2}},
		{text: "À 2.", why: "French, with a full stop", want: divisi.Marker{All: true, Count: 2}},
		{text: "zu 2 marcato", why: "what follows stays on the part", want: divisi.Marker{All: true, Count: 2, Text: "marcato"}},
		{text: "1. Solo, espress.", why: "Solo stays on the part", want: divisi.Marker{Numbers: one, Text: "Solo espress."}},
		{text: "div. a 2", why: "divided, not in unison", want: divisi.Marker{Divided: true}},
		{text: "unis.", why: "together again", want: divisi.Marker{All: true}},
		{text: "tutti", why: "stays on the part", want: divisi.Marker{All: true, Text: "tutti"}},
		{text: "Fl. 1", why: "the name of the instrument stands before", want: divisi.Marker{Numbers: one}},
		{text: "2. Fl. dolce", why: "or behind", want: divisi.Marker{Numbers: two, Text: "dolce"}},
		{text: "2. nimmt Piccolo", why: "words for the second", want: divisi.Marker{Numbers: two, Text: "nimmt Piccolo"}},
		{text: "1.,", why: "what parts sentences ends it", want: divisi.Marker{Numbers: one}},
		{text: "a2:", why: "the same", want: divisi.Marker{All: true, Count: 2}},
		{text: "1.espr.", why: "a full stop parts it from what follows", want: divisi.Marker{Numbers: one, Text: "espr."}},
		{text: "1. – dolce", why: "a dash parts it", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1. - dolce", why: "a hyphen too", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1. (dolce)", why: "a bracket that was opened is closed with it", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1. [dolce]", why: "the same", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1.; dolce", why: "a semicolon", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1.: dolce,", why: "a colon, and a comma at the end", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "1.\tdolce\n", why: "white space", want: divisi.Marker{Numbers: one, Text: "dolce"}},
		{text: "a 3", why: "three", want: divisi.Marker{All: true, Count: 3}},
		{text: "a due", why: "in words: nothing counts them", want: divisi.Marker{All: true}},
		{text: "IV", why: "Roman, higher", want: divisi.Marker{Numbers: []int{4}}},
		{text: "No. 2", why: "number two", want: divisi.Marker{Numbers: two}},
		{text: "1.2.3.", why: "three of them", want: divisi.Marker{Numbers: []int{1, 2, 3}}},
		{text: "1. &", why: "a word that joins nothing ends it", want: divisi.Marker{Numbers: one}},
		{text: "1. e dolce", why: "a word that joins other words", want: divisi.Marker{Numbers: one, Text: "e dolce"}},
		{text: "Fl. 1 Solo", why: "a name, a number, a word that stays", want: divisi.Marker{Numbers: one, Text: "Solo"}},
		{text: "1 st", why: "apart it is no ending of the number", want: divisi.Marker{Numbers: one, Text: "st"}},
		{text: "9.", why: "the last digit", want: divisi.Marker{Numbers: []int{9}}},
		{text: "10.", why: "a number of two digits", want: divisi.Marker{Numbers: []int{10}}},
		{text: "Flute 2", why: "the name may be the second that there is", want: divisi.Marker{Numbers: two}},
		{text: "Flute. 2", why: "a full stop behind it", want: divisi.Marker{Numbers: two}},
		{text: "2x", why: "times, grown together", none: true},
		{text: "2 x", why: "times", none: true},
		{text: "a2pizz", why: "grown together it is another word", none: true},
		{text: "a tempo", why: "no number", none: true},
		{text: "Tempo I", why: "does not begin with a marker", none: true},
		{text: "1. volta", why: "a repeat", none: true},
		{text: "2nd time only", why: "a repeat", none: true},
		{text: "Primo tempo", why: "a tempo", none: true},
		{text: "In tempo", why: "not the numeral I", none: true},
		{text: "i", why: "numerals are capitals", none: true},
		{text: "alla marcia", why: "not all", none: true},
		{text: "Solomon", why: "not solo", none: true},
		{text: "Fl.", why: "a name alone", none: true},
		{text: "dolce", why: "nothing of it", none: true},
		{text: "", why: "no text", none: true},
	} {
		t.Run(c.text, func(t *testing.T) {
			t.Parallel()
			got, ok := lexicon.Read(c.text, []string{"Fl.", "Flute"})
			assert.Equal(t, !c.none, ok, c.why)
			if !c.none {
				assert.Equal(t, c.want, got, c.why)
			}
		})
	}
}

// Roman numerals name the players I to VIII.
func TestRomanNumerals(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	for i, numeral := range []string{"I", "II", "III", "IV", "V", "VI", "VII", "VIII"} {
		for _, text := range []string{numeral, numeral + ".", numeral + "º", "(" + numeral + ")"} {
			m, ok := lexicon.Read(text, nil)
			assert.True(t, ok, text)
			assert.Equal(t, []int{i + 1}, m.Numbers, text)
		}
	}
	_, ok := lexicon.Read("IX", nil)
	assert.False(t, ok)
}

// TestEveryMarkerIsRead: every row of the table says what it says, in capitals and
// with a full stop too.
func TestEveryMarkerIsRead(t *testing.T) {
	t.Parallel()
	lexicon, err := divisi.LoadLexicon()
	require.NoError(t, err)
	file, err := os.Open("data/markers.csv")
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, []string{"says", "words", "language", "note", "source"}, rows[0])
	for _, row := range rows[1:] {
		require.NotEmpty(t, row[4], "%v has no source", row)
		kind, _, _ := strings.Cut(row[0], " ")
		if kind == "join" || kind == "not" {
			continue
		}
		words := strings.NewReplacer("#", "2", "@", "II").Replace(row[1])
		for _, text := range []string{words, words + ".", strings.ToUpper(string([]rune(words)[0])) + string([]rune(words)[1:])} {
			m, ok := lexicon.Read(text, nil)
			require.True(t, ok, "%q", text)
			says := map[string]bool{"all": m.All, "tutti": m.All && m.Text != "", "divided": m.Divided, "number": len(m.Numbers) == 1, "solo": !m.All && m.Text != ""}
			assert.True(t, says[kind], "%q: %+v", text, m)
		}
	}
}
