package parts_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/instruments"
	"deskpart/instruments/instrumentstest"
	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/reading"
	"deskpart/transpose/pitch"
)

func readersOf(t testing.TB, words string) []*instruments.Reader {
	t.Helper()
	catalogue := instrumentstest.Load(t)
	var readers []*instruments.Reader
	for _, w := range strings.Split(words, ",") {
		reader, err := catalogue.FindReader(w)
		require.NoError(t, err)
		readers = append(readers, reader)
	}
	return readers
}

// sixEditions with what each adds to written pitch, in semitones, the sign and line of
// its clef, and what its signature has more in sharps than the concert key: by hand.
var sixEditions = []struct {
	reader string
	adds   int
	clef   string
	fifths int
}{
	{"C treble", 0, "G2", 0}, {"C bass", 0, "F4", 0}, {"Bb treble", -2, "G2", 2}, {"Eb treble", -9, "G2", 3}, {"F treble", -7, "G2", 1}, {"C alto", 0, "C3", 0},
}

// TestLeadSheetInSixEditions: each is read off the page by separate code to the same
// sound, by octave, and its chord symbols are equal in sound, read by the code of this
// file.
func TestLeadSheetInSixEditions(t *testing.T) {
	t.Parallel()
	sheets := musicxmltest.SharedFiles(t, "scores/leadsheets/*.mxl")
	if os.Getenv("DESKPART_EVERY_SCORE") == "" {
		sheets = sheets[:2]
	}
	chords := 0
	for _, sheet := range sheets {
		o := parts.DefaultOptions()
		o.MaxSignature = 7
		o.Editions = readersOf(t, "C treble, C bass, Bb treble, Eb treble, F treble, C alto")
		score := readScore(t, sheet)
		source, err := score.ReadPart(0, nil)
		require.NoError(t, err)
		want := soundsByOctave(t, source)
		made := makePartsOf(t, score, o)
		require.Len(t, made, len(sixEditions), sheet)
		for i, e := range sixEditions {
			what := sheet + ", " + made[i].name
			part := made[i].part
			assert.Equal(t, want, soundsByOctave(t, part), what)
			assert.Equal(t, chordsInSound(t, source, 0), chordsInSound(t, part, e.adds), what)
			assert.Equal(t, [][]string{{e.clef}}, [][]string{clefsOf(part)}, what)
			assert.Equal(t, signaturesOf(t, source, e.fifths), signaturesOf(t, part, 0), what)
			chords += len(chordsInSound(t, part, e.adds))
		}
	}
	assert.Greater(t, chords, 300)
}

// soundsByOctave lists what a player hears who reads the page, octaves aside.
func soundsByOctave(t *testing.T, part *etree.Element) []string {
	t.Helper()
	page, err := reading.Read(part)
	require.NoError(t, err)
	var sounds []string
	for _, s := range page.SoundingAsRead() {
		midi, err := strconv.Atoi(s.MIDI.String())
		require.NoError(t, err)
		sounds = append(sounds, fmt.Sprint(s.Measure, " ", s.Beat, " ", midi%12, " ", s.Duration, " ", s.Grace))
	}
	return sounds
}

var semitones = map[string]int{"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}

// chordsInSound lists the chord symbols as they sound where so many semitones are added.
func chordsInSound(t *testing.T, part *etree.Element, adds int) []string {
	t.Helper()
	var chords []string
	for _, harmony := range part.FindElements("measure/harmony") {
		sounds := func(what string) string {
			e := harmony.FindElement(what + "/" + what + "-step")
			if e == nil {
				return ""
			}
			alter := 0
			if a := harmony.FindElement(what + "/" + what + "-alter"); a != nil {
				var err error
				alter, err = strconv.Atoi(a.Text())
				require.NoError(t, err)
			}
			return strconv.Itoa((semitones[e.Text()] + alter + adds + 48) % 12)
		}
		kind := ""
		if k := harmony.SelectElement("kind"); k != nil {
			kind = k.Text()
		}
		chords = append(chords, strings.Join([]string{harmony.Parent().SelectAttrValue("number", ""), sounds("root"), kind, sounds("bass")}, " "))
	}
	return chords
}

func clefsOf(part *etree.Element) []string {
	var clefs []string
	for _, clef := range part.FindElements("measure/attributes/clef") {
		if name := musicxml.ChildText(clef, "sign") + musicxml.ChildText(clef, "line"); len(clefs) == 0 || clefs[len(clefs)-1] != name {
			clefs = append(clefs, name)
		}
	}
	return clefs
}

// signaturesOf lists the signatures with so many sharps more, past seven sharps their
// enharmonic twins.
func signaturesOf(t *testing.T, part *etree.Element, more int) []int {
	t.Helper()
	var all []int
	for _, fifths := range part.FindElements("measure/attributes/key/fifths") {
		n, err := strconv.Atoi(fifths.Text())
		require.NoError(t, err)
		if n += more; n > 7 {
			n -= 12
		}
		if len(all) == 0 || all[len(all)-1] != n {
			all = append(all, n)
		}
	}
	return all
}

func scoreIn(t testing.TB, data []byte) *musicxml.Score {
	t.Helper()
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	return score
}

// TestNamesOfEditions: as such sets are named, in five languages; what has no readers is
// written once, as usual.
func TestNamesOfEditions(t *testing.T) {
	t.Parallel()
	score := shorthand.Score(t,
		shorthand.Entry{Name: "Melody", Music: `C5:w`}, shorthand.Entry{Name: "Part 2", Music: `G4:w`},
		shorthand.Entry{Name: "Viola", Music: `alto C4:w`}, shorthand.Entry{Name: "Drum Set", Music: `percussion u!F4:w`},
		shorthand.Entry{Name: "Piano", Music: `C5:w // 2bass C3:w`})
	for language, want := range map[string][]string{
		"en": {"Melody in E♭", "Melody in C, bass clef", "Part 2 in E♭", "Part 2 in C, bass clef", "Part 3 in E♭ (Viola)", "Part 3 in C, bass clef (Viola)", "Drum Set", "Piano"},
		"de": {"Melody in Es", "Melody in C, Bassschlüssel", "Stimme 2 in Es", "Stimme 2 in C, Bassschlüssel", "Stimme 3 in Es (Bratsche)", "Stimme 3 in C, Bassschlüssel (Bratsche)", "Schlagzeug", "Klavier"},
		"fr": {"Melody en mi♭", "Melody en ut, clé de fa", "Partie 2 en mi♭", "Partie 2 en ut, clé de fa", "Partie 3 en mi♭ (Alto)", "Partie 3 en ut, clé de fa (Alto)", "Batterie", "Piano"},
		"it": {"Melody in Mi♭", "Melody in Do, chiave di basso", "Parte 2 in Mi♭", "Parte 2 in Do, chiave di basso", "Parte 3 in Mi♭ (Viola)", "Parte 3 in Do, chiave di basso (Viola)", "Batteria", "Pianoforte"},
		"es": {"Melody en Mi♭", "Melody en Do, clave de fa", "Parte 2 en Mi♭", "Parte 2 en Do, clave de fa", "Parte 3 en Mi♭ (Viola)", "Parte 3 en Do, clave de fa (Viola)", "Batería", "Piano"},
	} {
		o := parts.DefaultOptions()
		o.Language, o.Editions = pitch.Language(language), readersOf(t, "Eb,C bass")
		var labels []string
		for _, a := range assign(t, score, o) {
			labels = append(labels, a.Label)
			assert.Equal(t, len(a.Warnings) == 1, a.Edition == "", "%s: said of what has no edition", a.Label)
		}
		assert.Equal(t, want, labels)
	}
}

// TestOctaveOfAnEdition: one octave for the whole part, where the reader is at home; by
// hand from the readers' ranges.
func TestOctaveOfAnEdition(t *testing.T) {
	t.Parallel()
	score := shorthand.Score(t, shorthand.Entry{Name: "Melody", Music: `C5 D5 E5 G5 | r:w | r:w | C4 D4 E4 G4`})
	o := parts.DefaultOptions()
	o.Editions = readersOf(t, "C treble, Bb treble, C bass, F treble")
	o.RestBars = 0
	want := map[string]string{
		"Melody in C":            "C5:q D5:q E5:q G5:q",
		"Melody in B♭":           "D5:q E5:q F#5:q A5:q",
		"Melody in C, bass clef": "C4:q D4:q E4:q G4:q", // an octave lower
		"Melody in F":            "G4:q A4:q B4:q D5:q", // so as not to go to D6
	}
	for _, m := range makePartsOf(t, scoreIn(t, score), o) {
		bars := strings.Split(shorthand.Read(m.part), " | ")
		assert.Equal(t, want[m.name], bars[0], m.name)
	}
}

// TestSubstitutes: who stands in, in which notation, and for whom; what a substitute
// plays does not make good what the part itself has lost.
func TestSubstitutes(t *testing.T) {
	t.Parallel()
	substitutes, err := instrumentstest.Load(t).Substitutes()
	require.NoError(t, err)
	o := parts.DefaultOptions()
	o.Substitutes = substitutes
	score := shorthand.Score(t, shorthand.Entry{Name: "Horn in F 1", Music: `[transpose -4 -7] G4:w`},
		shorthand.Entry{Name: "Trombone", Music: `bass Bb2:w`}, shorthand.Entry{Name: "Tuba", Music: `bass Bb1:w`}, shorthand.Entry{Name: "Snare Drum", Music: `percussion u!F4:w`})
	var rows []string
	for i, m := range makePartsOf(t, scoreIn(t, score), o) {
		music := ""
		if a := assign(t, score, o)[i]; a.StandsFor != "" {
			music = " = " + shorthand.Read(m.part)
		}
		rows = append(rows, m.name+music)
	}
	// C4 sounds; in E flat it is written a major sixth up. B flat 2 is C4 for a trombone
	// in treble clef (jayess); B flat 1 is G3 for a bass in E flat and C4 for one in B
	// flat (cnx-ti).
	assert.Equal(t, []string{
		"Horn in F 1", "Horn in E♭ 1 (for Horn in F 1) = A4:w", "Alto Saxophone 1 (for Horn in F 1) = A4:w",
		"Trombone", "Trombone in B♭, treble clef (for Trombone) = C4:w", "Trombone in B♭, bass clef (for Trombone) = C3:w",
		"Tuba", "Bass in E♭, treble clef (for Tuba) = G3:w", "Bass in B♭, treble clef (for Tuba) = C4:w",
		"Snare Drum",
	}, rows)
}

// TestOnlySomeEditions: a part's name keeps all of its editions, an edition's name that
// one.
func TestOnlySomeEditions(t *testing.T) {
	t.Parallel()
	score := shorthand.Score(t, shorthand.Entry{Name: "Part 1", Music: `C5:w`}, shorthand.Entry{Name: "Part 2", Music: `G4:w`})
	for only, want := range map[string]int{"Part 2": 2, "P1": 2, "Part 1 in Eb": 1, "*in E♭": 2} {
		o := parts.DefaultOptions()
		o.Editions, o.Only = readersOf(t, "Bb,Eb"), []string{only}
		assert.Len(t, assign(t, score, o), want, only)
	}
}
