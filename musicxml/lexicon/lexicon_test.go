package lexicon

import (
	"encoding/csv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The texts are those of the shared scores, judged by hand as a copyist would, and
// common ones of each language; there is no outside source for a whole list.
func TestWordsAreTakenForWhomTheyConcern(t *testing.T) {
	t.Parallel()
	tests := []struct {
		why   string
		class WordClass
		texts []string
	}{
		{"a tempo in words holds for everybody", TempoWords, []string{
			"Allegro", "Adagio", "Adagio [|]", "Allegro commodo", "Allegro energico e passionato", "Andante con espressione",
			"Largo ed uno poco piano.  [|]", "Meno Allegro", "Meno mosso", "Molto meno mosso", "Più mosso", "Un poco più mosso",
			"Più Allegro", "Poco Allegretto", "Presto", "Vivo", "lento", "Langsam und getragen", "Ziemlich langsam und mit Ausdruck",
			"Fröhlich doch nicht geschwind.", "Sanft bewegt", "a tempo", "a Tempo", "Tempo I", "Tempo I.", "Stesso Tempo",
			"L’istesso tempo", "Sehr lebhaft", "Mäßig schnell", "Très vif", "Modéré", "Tempo di Valse", "Più lento", "Andante cantabile"}},
		{"a gradual change of tempo holds for everybody", GradualWords, []string{
			"rit.", "poco rit.", "molto rit.", "ritard.", "poco ritard.", "rit. e dim.", "dim.   e   rit.", "molto cresc.e rit. ",
			"rit. poco a poco", "accel.", "accel.  e  cresc.", "Allegro ,  accel. al 144", "allargando", "stretto", "nachgebend",
			"rall.", "ral - len - tan - do", "rallen....tando", "string.", "stringendo", "etwas zurückhaltend", "Cédez", "en pressant",
			"slowing down", "poco a poco più mosso"}},
		{"the way through the piece is everybody's", NavigationWords, []string{"D.S.", "D.C. al Fine", "Fine", "To Coda", "Schluss", "Schluss.", "Da Capo"}},
		{"a general pause concerns every part (gehrkens-mnt s.43)", PauseWords, []string{"G.P.", "G. P.", "Generalpause", "lunga"}},
		{"an expression of one player, a tempo only at the head of a system", HeadingWords, []string{
			"Grave", "Largamente", "Maestoso", "Maestoso in espressione", "Un poco sostenuto", "Con moto", "pesante", "rubato", "grandioso", "Lieblich"}},
		{"sections are named at the head of a system", SectionWords, []string{"theme", "variation 1", "variation 35", "Trio", "Var. II"}},
		{"what one player does, or how", PlayerWords, []string{
			"arco", "pizz.", "[pizz.]", "2 pizz", "a 2", "a  2", "1.", "2", "div.", "dolce", "espr. e legato", "espressivo", "cresc. molto",
			"cresc.........en .........do", "poco a poco cresc.", "dim.", "decresc", "marc.", "ma marc.", "ben marc. e largemente",
			"piu forte", "più forte", "p cresc.", "sul G", "sul ponticello", "flautato", "loco", "m. g.", "colla voce", "Cadenza ad libitum",
			"simile", "trem.", "con sordino", "mit Dämpfer", "sourdine", "mezza voce", "leggiero", "N.C.", "I.", "weich", "wie oben",
			"vzdušně u špičky (lightly,  at the tip )"}},
		{"not a word that music knows", "", []string{"Gm", "x", "♭", "\ue264", ""}},
	}
	l, err := Load()
	require.NoError(t, err)
	for _, tt := range tests {
		for _, text := range tt.texts {
			assert.Equal(t, tt.class, l.Read(text).Class, "%q: %s", text, tt.why)
		}
	}
}

func TestTextsThatMeanTheSameHaveOneKey(t *testing.T) {
	t.Parallel()
	l, err := Load()
	require.NoError(t, err)
	for _, same := range [][]string{
		{"rit.", "poco rit.", "ritard.", "rit. e dim.", "rall.", "ral - len - tan - do"},
		{"a tempo", "a Tempo", "(a tempo)", "in tempo", "im Tempo"},
		{"Tempo I", "Tempo I.", "Tempo primo", "Tempo 1°"},
		{"Allegro", "ALLEGRO", "Allegro."},
		{"G.P.", "G. P.", "Generalpause"},
	} {
		for _, text := range same[1:] {
			assert.Equal(t, l.Read(same[0]).Key, l.Read(text).Key, "%q and %q", same[0], text)
		}
	}
	assert.NotEqual(t, l.Read("rit.").Key, l.Read("accel.").Key)
	assert.NotEqual(t, l.Read("Allegro").Key, l.Read("Allegro vivace").Key)
	assert.NotEqual(t, l.Read("a 2").Key, l.Read("tutti").Key, "what players are told stands as it is")
}

// TestSays: the meanings of the table's phrases, wherever in a text they stand.
func TestSays(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, says string }{
		{"D.C. al Fine", "da capo al fine"}, {"D. S. al Coda", "dal segno al coda"}, {"vom Anfang", "da capo"}, {"Menuet D.C.", "da capo"},
		{"zur Coda", "to coda"}, {"To Coda", "to coda"}, {"Fin", "fine"}, {"Schluß", "fine"}, {"sempre p al fine", "al fine"},
		{"div.", "divided"}, {"variation 2 div.", "player, divided"}, {"div. a 2", "divided"}, {"a 2", "several players"}, {"zu 2", "several players"}, {"con sord.", "muting"}, {"Dämpfer weg", "muting"}, {"sul pont.", "place on the string"}, {"pizz. con sord.", "plucking, muting"}, {"geteilt", "divided"}, {"get.", "divided"},
		{"getheilt", "divided"}, {"non div.", "unison"}, {"nicht geteilt", "unison"}, {"unis.", "unison"}, {"unisoni", "unison"}, {"zus.", "together"},
		{"Tranquillo", ""}, {"divertimento", ""}, {"", ""},
	} {
		assert.Equal(t, c.says, strings.Join(Of(c.text).Says, ", "), c.text)
	}
}

// TestOnlySays: a text that says more besides, or what the table does not know, is no
// mere word of divisi.
func TestOnlySays(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"div.": true, "(div. a 3)": true, "sempre div. e": true, "geteilt": true, "div. - unis.": true, "non div.": true, "getheilt": true,
		"div. e molto espr.": false, "tutti": false, "a 2": false, "2": false, "": false, "divertissement": false, "Var. 2 div.": false,
	} {
		assert.Equal(t, want, OnlySays(text, "divided", "unison"), text)
	}
}

// Every cell of the table is one that the code knows, and no phrase stands twice.
func TestTableOfWordsIsSound(t *testing.T) {
	t.Parallel()
	rows, err := csv.NewReader(strings.NewReader(wordsCSV)).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"words", "class", "means", "whole", "language", "source"}, rows[0])
	classes := []string{"tempo", "gradual", "navigation", "pause", "heading", "section", "player", "shade", "syllable"}
	seen := map[string]string{}
	for _, row := range rows[1:] {
		assert.Contains(t, classes, row[1], "%q", row)
		assert.Contains(t, []string{"", "yes"}, row[3], "%q", row)
		assert.Contains(t, []string{"it", "de", "fr", "en", "es"}, row[4], "%q", row)
		assert.NotEmpty(t, row[5], "%q names no source", row)
		if row[1] == "gradual" {
			assert.Contains(t, []string{"slower", "faster"}, row[2], "%q", row)
		}
		key := strings.Join(Tokens(row[0]), " ")
		assert.Empty(t, seen[key], "%q stands twice", row[0])
		seen[key] = row[0]
	}
	for i, row := range rows[2:] {
		before := rows[i+1]
		assert.LessOrEqual(t, before[1]+" "+before[4], row[1]+" "+row[4], "%q stands behind %q: rows are sorted by class, then language", row, before)
	}
}
