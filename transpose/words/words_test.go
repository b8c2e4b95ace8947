package words_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
	"deskpart/transpose/words"
)

func in(t *testing.T, l pitch.Language) *words.Names {
	t.Helper()
	n, err := words.In(l)
	require.NoError(t, err)
	return n
}

// TestPublishedNoteNames holds the names of notes against the rows of
// trade/instrument-names.csv, which name their sources.
func TestPublishedNoteNames(t *testing.T) {
	t.Parallel()
	file, err := os.Open(filepath.Join(musicxmltest.SharedDir(t), "trade", "instrument-names.csv"))
	require.NoError(t, err)
	defer file.Close()
	records, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	count := 0
	for _, row := range records {
		name, isNote := strings.CutPrefix(row[0], "note ")
		if !isNote {
			continue
		}
		name = strings.NewReplacer(" (natural)", "", " flat", "b", " sharp", "#").Replace(name)
		p := shorthand.Pitch(t, name+"4")
		for i, l := range []pitch.Language{pitch.German, pitch.French, pitch.Italian, pitch.Spanish} {
			forms := strings.Split(row[2+i], "; ")
			spoken := in(t, l).Spoken(p)
			found := false
			for _, form := range forms {
				found = found || strings.EqualFold(form, spoken)
				back, err := in(t, l).ParseNote(form)
				require.NoError(t, err, form)
				assert.Equal(t, p, back, "%s in %s", form, l)
			}
			assert.True(t, found, "%s: %q is none of %v", name, spoken, forms)
			count++
		}
	}
	assert.GreaterOrEqual(t, count, 4*18)
}

// TestPublishedTerms: sharp, flat and natural, major and minor, against the same
// table.
func TestPublishedTerms(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		language                   pitch.Language
		sharp, flat, natural       string
		major, minor, interval     string
		majorKey, minorKey, double string
	}{
		{pitch.German, "Kreuz", "Be", "Auflösungszeichen", "Dur", "Moll", "eine kleine Terz", "Es-Dur", "fis-Moll", "ein Doppelkreuz"},
		{pitch.French, "dièse", "bémol", "bécarre", "majeur", "mineur", "une tierce mineure", "mi bémol majeur", "fa dièse mineur", "un double dièse"},
		{pitch.Italian, "diesis", "bemolle", "bequadro", "maggiore", "minore", "una terza minore", "mi bemolle maggiore", "fa diesis minore", "un doppio diesis"},
		{pitch.Spanish, "sostenido", "bemol", "becuadro", "mayor", "menor", "una tercera menor", "mi bemol mayor", "fa sostenido menor", "un doble sostenido"},
		{pitch.English, "sharp", "flat", "natural", "major", "minor", "a minor third", "E♭ major", "F♯ minor", "a double sharp"},
	} {
		n := in(t, row.language)
		assert.Contains(t, n.Sign("sharp"), row.sharp)
		assert.Contains(t, n.Sign("flat"), row.flat)
		assert.Contains(t, n.Sign("natural"), row.natural)
		assert.Equal(t, row.double, n.Sign("double-sharp"))
		assert.Equal(t, row.interval, n.Interval(pitch.Interval{Diatonic: -2, Chromatic: -3}))
		assert.Equal(t, row.majorKey, n.Major(-3))
		assert.Equal(t, row.minorKey, n.Minor(3))
		assert.Contains(t, n.Major(0), row.major)
		assert.Contains(t, n.Minor(0), row.minor)
	}
}

// TestGermanNotes: expected values by the rule of the language (Gehrkens 1914; the
// contractions Es, As, and B for H flat).
func TestGermanNotes(t *testing.T) {
	t.Parallel()
	n := in(t, pitch.German)
	for ascii, german := range map[string]string{"B4": "H4", "Bb4": "B4", "Bbb4": "Heses4", "B#3": "His3", "Eb4": "Es4", "Ebb4": "Eses4",
		"Ab4": "As4", "F#4": "Fis4", "C##5": "Cisis5", "Db2": "Des2", "A#4": "Ais4"} {
		assert.Equal(t, german, n.Pitch(shorthand.Pitch(t, ascii)))
		back, err := n.ParsePitch(german)
		require.NoError(t, err)
		assert.Equal(t, shorthand.Pitch(t, ascii), back, german)
	}
}

// TestParsePitch reads what people write in each language.
func TestParsePitch(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		language   pitch.Language
		text, want string
	}{
		{pitch.English, "Ais4", "A#4"}, {pitch.English, "si♭3", "Bb3"}, {pitch.English, "fa#4", "F#4"}, {pitch.English, "Bb4", "Bb4"},
		{pitch.English, "b4", "B4"}, {pitch.English, "B♭4", "Bb4"}, {pitch.English, "Cx5", "C##5"}, {pitch.English, "ebb2", "Ebb2"},
		{pitch.German, "B4", "Bb4"}, {pitch.German, "H4", "B4"}, {pitch.German, "Bb4", "Bb4"}, {pitch.German, "b-1", "Bb-1"},
		{pitch.German, "h#4", "B#4"}, {pitch.German, "es4", "Eb4"}, {pitch.German, "As3", "Ab3"}, {pitch.German, "Ases3", "Abb3"},
		{pitch.German, "Heses3", "Bbb3"}, {pitch.German, "Bes3", "Bbb3"}, {pitch.German, "Hes3", "Bb3"}, {pitch.German, "F♯4", "F#4"},
		{pitch.French, "si♭3", "Bb3"}, {pitch.French, "Ré4", "D4"}, {pitch.French, "ut4", "C4"}, {pitch.French, "Ut♯4", "C#4"}, {pitch.English, "utb4", "Cb4"}, {pitch.French, "sol#5", "G#5"},
		{pitch.French, "sibémol3", "Bb3"}, {pitch.French, "fa-dièse4", "F#4"}, {pitch.French, "B3", "B3"},
		{pitch.Italian, "sib4", "Bb4"}, {pitch.Italian, "sibemolle4", "Bb4"}, {pitch.Italian, "fadiesis4", "F#4"}, {pitch.Italian, "reb4", "Db4"},
		{pitch.Spanish, "sib4", "Bb4"}, {pitch.Spanish, "dosostenido4", "C#4"}, {pitch.Spanish, "Mi♭4", "Eb4"}, {pitch.Spanish, "mib4", "Eb4"},
		{pitch.German, "B♭3", "Bb3"}, {pitch.German, "B♮3", "B3"}, {pitch.German, "h♮3", "B3"}, {pitch.German, "F♮3", "F3"}, {pitch.English, "B♮3", "B3"}, // a natural can mean B natural alone
		{pitch.German, "h♭3", "Bb3"}, {pitch.German, "h♯3", "B#3"}, {pitch.German, "hx3", "B##3"}, {pitch.German, "h𝄪3", "B##3"}, {pitch.German, "h𝄫3", "Bbb3"}, {pitch.German, "aes3", "Ab3"}, {pitch.German, "Ees3", "Eb3"},
		{pitch.French, "re\u0301 be\u0301mol4", "Db4"}, {pitch.French, "fa\u00a0die\u0300se4", "F#4"}, {pitch.French, "ut_dièse4", "C#4"}, {pitch.Spanish, "Sí4", "B4"}, {pitch.English, " c♯-1", "C#-1"},
		{pitch.English, "C-9", "C-9"}, {pitch.English, "C99", "C99"}, {pitch.French, "la𝄫4", "Abb4"}, {pitch.Italian, "sol𝄪4", "G##4"},
	} {
		p, err := in(t, row.language).ParsePitch(row.text)
		require.NoError(t, err, row.text)
		assert.Equal(t, row.want, p.String(), "%s in %s", row.text, row.language)
	}
	for _, row := range []struct {
		language   pitch.Language
		text, says string
	}{
		{pitch.English, "H4", `"H4": H is the German name of B natural; give --language de, where B is B flat, or write B`}, {pitch.German, "B#4", "write His"}, {pitch.German, "Bis4", "not a note"},
		{pitch.French, "xyz4", "not a note"}, {pitch.English, "C", "not a note"}, {pitch.English, "", "not a note"}, {pitch.English, "C4.5", "not a note"},
		{pitch.English, "4", "not a note"}, {pitch.Spanish, "♭4", "not a note"},
		{pitch.French, "H♯4", "German name"}, {pitch.Italian, "h♭4", "German name"}, {pitch.German, "B♯4", "write His"}, {pitch.German, "B𝄪4", "write His"}, {pitch.German, "B##4", "write His"},
		{pitch.English, "C-10", "not a note"}, {pitch.English, "C100", "not a note"}, {pitch.English, "♯4", "not a note"}, {pitch.English, "𝄪4", "not a note"}, {pitch.English, "𝄫4", "not a note"}, {pitch.English, "♮4", "not a note"}, {pitch.English, "#4", "not a note"},
		{pitch.English, "C♯♮4", "not a note"}, {pitch.German, "Es♮4", "not a note"}, {pitch.German, "Hes♮4", "not a note"}, {pitch.English, "C♮♯4", "not a note"},
	} {
		_, err := in(t, row.language).ParsePitch(row.text)
		require.Error(t, err, row.text)
		assert.Contains(t, err.Error(), row.says)
	}
}

// TestEveryNoteBothWays: every note of the table, said and read again in its
// language, is itself.
func TestEveryNoteBothWays(t *testing.T) {
	t.Parallel()
	for _, l := range pitch.Languages() {
		n := in(t, l)
		for fifths := -15; fifths <= 19; fifths++ {
			p := words.OnLineOfFifths(fifths)
			for _, text := range []string{n.Note(p), n.Spoken(p)} {
				back, err := n.ParseNote(text)
				require.NoError(t, err, "%s in %s", text, l)
				assert.Equal(t, p, back, "%s in %s", text, l)
			}
		}
	}
}

// TestParseKey reads the names of keys.
func TestParseKey(t *testing.T) {
	t.Parallel()
	for l, keys := range map[pitch.Language]map[string]string{
		pitch.German:  {"Es-Dur": "-3 major", "h-Moll": "2 minor", "B-Dur": "-2 major", "H-Dur": "5 major", "B": "-2", "cis-moll": "4 minor"},
		pitch.French:  {"mi bémol majeur": "-3 major", "fa# mineur": "3 minor", "si♭": "-2"},
		pitch.Italian: {"si bemolle minore": "-5 minor", "sol maggiore": "1 major"},
		pitch.Spanish: {"re mayor": "2 major", "do sostenido menor": "4 minor"},
		pitch.English: {"F# minor": "3 minor", "Eb": "-3", "B major": "5 major"},
	} {
		for text, want := range keys {
			fifths, minor, said, err := in(t, l).ParseKey(text)
			require.NoError(t, err, text)
			mode := map[[2]bool]string{{false, true}: " major", {true, true}: " minor", {true, false}: " minor unsaid"}[[2]bool{minor, said}]
			assert.Equal(t, want, fmt.Sprint(fifths)+mode, text)
		}
	}
	for _, l := range pitch.Languages() {
		for _, text := range []string{"C5", "C4 minor", "do5", "Es5-Dur", "sol3 maggiore", "C(0.5)", "C(1) major", "C-1", "5", "", "minor", "C#♭"} {
			fifths, minor, said, err := in(t, l).ParseKey(text)
			assert.Error(t, err, "%s: %q is no key", l, text)
			assert.Zero(t, fifths)
			assert.False(t, minor || said, text)
			_, err = in(t, l).ParseNote("C5")
			assert.Error(t, err, "nor is a pitch a note's name")
		}
	}
}

// TestEveryKeyBothWays: every key, said and read again in its language.
func TestEveryKeyBothWays(t *testing.T) {
	t.Parallel()
	for _, l := range pitch.Languages() {
		n := in(t, l)
		for fifths := -7; fifths <= 7; fifths++ {
			for _, name := range []string{n.Major(fifths), n.Minor(fifths)} {
				back, minor, said, err := n.ParseKey(name)
				require.NoError(t, err, name)
				assert.True(t, said, name)
				assert.Equal(t, fifths, back, name)
				assert.Equal(t, name == n.Minor(fifths), minor, name)
			}
		}
	}
}

// TestIntervals: every interval up to two octaves has a name in every language,
// and no two of a language are called alike.
func TestIntervals(t *testing.T) {
	t.Parallel()
	natural := [7]int{0, 2, 4, 5, 7, 9, 11}
	for _, l := range pitch.Languages() {
		n := in(t, l)
		seen := map[string]pitch.Interval{}
		for steps := 0; steps <= 14; steps++ {
			for off := -2; off <= 1; off++ {
				i := pitch.Interval{Diatonic: steps, Chromatic: natural[steps%7] + 12*(steps/7) + off}
				if steps == 0 && off < 0 || steps == 14 && off != 0 {
					continue
				}
				name := n.Interval(i)
				assert.NotContains(t, name, "[", l)
				assert.NotContains(t, seen, name, l)
				seen[name] = i
				assert.NotEmpty(t, n.Size(i))
				assert.Equal(t, name, n.Interval(i.Negate()), "the size has no direction")
			}
		}
	}
	de := in(t, pitch.German)
	fourth := pitch.Interval{Diatonic: -3, Chromatic: -5}
	assert.Equal(t, "eine reine Quarte nach unten", de.Moved(fourth))
	assert.Equal(t, "eine reine Quarte zu tief", de.Astray(fourth))
	assert.Equal(t, "reine Quarte", de.Size(fourth))
	assert.Equal(t, "ottava", in(t, pitch.Italian).Size(pitch.Octaves(1)))
	assert.Equal(t, "deux octaves et une seconde majeure", in(t, pitch.French).Interval(pitch.Interval{Diatonic: 15, Chromatic: 26}))
	assert.Equal(t, "two octaves", in(t, pitch.English).Interval(pitch.Octaves(-2)))
}

// TestSignatures counts sharps and flats and lists their notes.
func TestSignatures(t *testing.T) {
	t.Parallel()
	for l, signatures := range map[pitch.Language]map[int]string{
		pitch.English: {-1: "1 flat: B♭", 3: "3 sharps: F♯ C♯ G♯", 0: "no sharps or flats: "},
		pitch.German:  {-2: "2 Be: B Es", 1: "1 Kreuz: Fis", 2: "2 Kreuze: Fis Cis"},
		pitch.French:  {-2: "2 bémols: si♭ mi♭"},
		pitch.Italian: {-1: "1 bemolle: si♭", 4: "4 diesis: fa♯ do♯ sol♯ re♯"},
		pitch.Spanish: {1: "1 sostenido: fa♯", -7: "7 bemoles: si♭ mi♭ la♭ re♭ sol♭ do♭ fa♭"},
	} {
		for fifths, want := range signatures {
			assert.Equal(t, want, in(t, l).Signature(fifths)+": "+in(t, l).SignatureNotes(fifths))
		}
	}
}

// TestBeats says places in a bar as people do.
func TestBeats(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		language pitch.Language
		num, den int64
		metre    words.Metre
		says     string
	}{
		{pitch.English, 0, 1, words.Metre{}, "beat 1"},
		{pitch.English, 3, 2, words.Metre{}, "beat 2 and a half"}, // in quarter notes
		{pitch.English, 5, 4, words.Metre{Beats: 3, Unit: 4}, "beat 2 and a quarter"},
		{pitch.English, 7, 2, words.Metre{Beats: 9, Unit: 8}, "beat 3, second eighth note"},
		{pitch.English, 3, 4, words.Metre{Beats: 6, Unit: 8}, "beat 1 and a half"},   // a duplet
		{pitch.English, 1, 8, words.Metre{Beats: 6, Unit: 32}, "beat 1 and a third"}, // a unit that has no name here
		{pitch.English, 3, 4, words.Metre{Beats: 12, Unit: 16}, "beat 2"},
		{pitch.Spanish, 1, 4, words.Metre{Beats: 6, Unit: 16}, "tiempo 1, segunda semicorchea"},
		{pitch.English, 5, 1, words.Metre{Beats: 3, Unit: 2}, "beat 3 and a half"},
		{pitch.English, 1, 1, words.Metre{Beats: 3, Unit: 4}, "beat 2"},
		{pitch.English, 3, 2, words.Metre{Beats: 4, Unit: 4}, "beat 2 and a half"},
		{pitch.English, 2, 3, words.Metre{Beats: 4, Unit: 4}, "beat 1 and two thirds"},
		{pitch.English, 7, 4, words.Metre{Beats: 4, Unit: 4}, "beat 2 and three quarters"},
		{pitch.English, 5, 2, words.Metre{Beats: 6, Unit: 8}, "beat 2, third eighth note"},
		{pitch.English, 3, 2, words.Metre{Beats: 6, Unit: 8}, "beat 2"},
		{pitch.English, 1, 2, words.Metre{Beats: 3, Unit: 8}, "beat 2"},
		{pitch.English, 1, 4, words.Metre{Beats: 6, Unit: 8}, "shortly after beat 1"},
		{pitch.English, 3, 1, words.Metre{Beats: 2, Unit: 2}, "beat 2 and a half"},
		{pitch.English, 1, 5, words.Metre{Beats: 2, Unit: 4}, "shortly after beat 1"},
		{pitch.German, 3, 2, words.Metre{Beats: 4, Unit: 4}, "Zählzeit „2 und“"},
		{pitch.German, 5, 2, words.Metre{Beats: 6, Unit: 8}, "Zählzeit 2, 3. Achtel"},
		{pitch.French, 3, 2, words.Metre{Beats: 4, Unit: 4}, "temps 2 et demi"},
		{pitch.Italian, 1, 2, words.Metre{Beats: 12, Unit: 8}, "movimento 1, seconda croma"},
		{pitch.Spanish, 1, 3, words.Metre{Beats: 2, Unit: 4}, "tiempo 1 y un tercio"},
		{pitch.English, 5, 1, words.Metre{Beats: 6, Unit: 4}, "beat 2, third quarter note"},
	} {
		assert.Equal(t, row.says, in(t, row.language).Beat(row.num, row.den, row.metre))
	}
}

// TestBars says bars by their numbers.
func TestBars(t *testing.T) {
	t.Parallel()
	n := in(t, pitch.English)
	assert.Equal(t, "bar 3", n.Bars([]string{"3"}))
	assert.Equal(t, "bars 1–4", n.Bars([]string{"1", "2", "3", "4"}))
	assert.Equal(t, "bars 1 and 2", n.Bars([]string{"1", "2"}))
	assert.Equal(t, "bars 1, 3 and 5–7", n.Bars([]string{"1", "3", "5", "6", "7"}))
	assert.Equal(t, "bars 1–3, 5, 6 and X1", n.Bars([]string{"1", "2", "3", "5", "6", "X1"}))
	assert.Equal(t, "bars X1 and 1", n.Bars([]string{"X1", "1"}))
	assert.Equal(t, "Takte 1 und X2", in(t, pitch.German).Bars([]string{"1", "X2"}))
}

// What is told to a learner of signs, clefs, values and keys: the words of the trade
// (instrument-names.csv; note values and clefs from memory of the handbooks).
func TestWhatThingsAreCalled(t *testing.T) {
	t.Parallel()
	en, de, fr, es := in(t, pitch.English), in(t, pitch.German), in(t, pitch.French), in(t, pitch.Spanish)
	for sign, want := range map[string]string{"sharp-sharp": "a double sharp", "double-sharp": "a double sharp", "flat-flat": "a double flat",
		"natural-sharp": "a sharp", "natural-flat": "a flat", "flat": "a flat", "natural": "a natural", "slash-flat": "another sign", "": "another sign"} {
		assert.Equal(t, want, en.Sign(sign), sign)
	}
	for name, want := range map[string]string{"treble": "clé de sol", "alto": "clé d'ut troisième ligne", "tenor": "clé d'ut quatrième ligne", "bass": "clé de fa"} {
		got, known := fr.Clef(name)
		assert.True(t, known)
		assert.Equal(t, want, got)
	}
	got, known := en.Clef("sub-bass")
	assert.False(t, known)
	assert.Equal(t, "sub-bass", got)
	for _, row := range []struct {
		n       *words.Names
		value   string
		dots    int
		triplet bool
		want    string
	}{
		{en, "quarter", 0, false, "a quarter note"}, {en, "quarter", 1, false, "a dotted quarter note"}, {en, "half", 2, false, "a double dotted half note"}, {en, "eighth", 0, true, "an eighth note of a triplet"},
		{de, "eighth", 0, true, "eine Achtelnote einer Triole"}, {fr, "16th", 1, false, "une double croche pointée"}, {es, "half", 0, false, "una blanca"},
		{en, "half", 3, false, ""}, {en, "256th", 0, false, ""}, {en, "quarter", 1, true, ""}, // no single word
	} {
		got, known := row.n.Value(row.value, row.dots, row.triplet)
		assert.Equal(t, row.want != "", known)
		assert.Equal(t, row.want, got)
	}
	assert.Equal(t, "a length of 5/2 quarter notes", en.OtherValue("5/2"))
	for text, n := range map[string]*words.Names{"F natural": en, "F": de, "fa bécarre": fr, "fa natural": es} {
		assert.Equal(t, text, n.Plainly(shorthand.Pitch(t, "F4")))
	}
	for _, row := range []struct {
		n            *words.Names
		pitch        string
		spoken, note string
	}{{en, "Eb4", "E flat", "E♭"}, {en, "C##4", "C double sharp", "C𝄪"}, {fr, "Ebb4", "mi double bémol", "mi𝄫"}, {de, "Bb4", "B", "B"}, {en, "F###4", "F𝄪♯", "F𝄪♯"}, {es, "G#4", "sol sostenido", "sol♯"}} {
		assert.Equal(t, row.spoken, row.n.Spoken(shorthand.Pitch(t, row.pitch)))
		assert.Equal(t, row.note, row.n.Note(shorthand.Pitch(t, row.pitch)))
	}
	assert.Equal(t, "E flat", en.Plainly(shorthand.Pitch(t, "Eb4")))
	low := pitch.Pitch{Step: pitch.B, Octave: 4, Alter: -3 * pitch.Semitone / 2}
	for text, n := range map[string]*words.Names{"B4 three-quarters flat": en, "H4 Dreiviertelton tiefer": de, "si4 bémol et demi": fr, "si4 bemol y medio": es} {
		assert.Equal(t, text, n.Pitch(low))
	}
	assert.Equal(t, []string{"C quarter sharp", "C5 33 cents lower", "a quarter sharp"}, []string{
		en.Spoken(pitch.Pitch{Alter: pitch.Semitone / 2}), en.Pitch(pitch.Pitch{Octave: 5, Alter: -pitch.Semitone / 3}), en.Sign("quarter-sharp")})
	for name, want := range map[string]string{"alto": "alto clef", "mezzo-8va": "mezzo-soprano clef with an 8 above", "tenor-8vb": "tenor clef with an 8 below"} {
		clef, known := en.Clef(name)
		assert.True(t, known)
		assert.Equal(t, want, clef)
	}
	assert.Equal(t, "C major or A minor", en.Key(pitch.Key{}))
	assert.Equal(t, "F-Dur", de.Key(pitch.Key{Fifths: -1, Mode: pitch.Major}))
	assert.Equal(t, "d-Moll", de.Key(pitch.Key{Fifths: -1, Mode: pitch.Minor}))
	third, unison := pitch.Interval{Diatonic: 2, Chromatic: 3}, pitch.Interval{}
	assert.Equal(t, []string{"a minor third up", "a minor third higher", "a minor third too high"}, []string{en.Moved(third), en.Off(third), en.Astray(third)})
	assert.Equal(t, []string{"a minor third down", "a minor third lower", "a minor third too low"}, []string{en.Moved(third.Negate()), en.Off(third.Negate()), en.Astray(third.Negate())})
	assert.Equal(t, "a perfect unison", en.Moved(unison), "without direction")
	assert.Equal(t, pitch.Pitch{Step: pitch.F, Alter: pitch.Semitones(3), Octave: 4}, words.OnLineOfFifths(20), "after B double sharp")
	assert.Equal(t, pitch.Pitch{Step: pitch.B, Alter: pitch.Semitones(-3), Octave: 4}, words.OnLineOfFifths(-16), "before F double flat")
	_, err := words.In("xx")
	assert.ErrorContains(t, err, `"xx" is none of the languages`)
}

// A table of a teacher's: what is filled, what depends on a number, what is not there.
func TestTable(t *testing.T) {
	t.Parallel()
	file := fstest.MapFS{"t.csv": {Data: []byte("\ufeffkey,en,de,fr,it,es,source\nb,{who} plays {n} {n|bar|bars},{n} {n|Takt|Takte} spielt {who},{who} {n},{who} {n},{who} {n},\na,x,y,« x » : y ; z ! ?,x,x,\n")}}
	table, err := words.ReadTable(file, "t.csv")
	require.NoError(t, err)
	assert.Equal(t, []string{"b", "a"}, table.Keys())
	assert.Equal(t, []string{"n", "who"}, table.Placeholders("b"))
	assert.Nil(t, table.Placeholders("c"))
	assert.True(t, table.Has("a"))
	assert.False(t, table.Has("c"))
	assert.Equal(t, "{n} {n|Takt|Takte} spielt {who}", table.Raw(pitch.German, "b"))
	assert.Empty(t, table.Raw(pitch.German, "c"))
	assert.Equal(t, "[c]", table.In(pitch.German, "c", nil))
	assert.Equal(t, "«\u00a0x\u00a0»\u00a0: y\u00a0; z\u00a0!\u00a0?", table.In(pitch.French, "a", nil), "French marks stay on the line of their words")
	for n, want := range map[int]string{1: "1 Takt spielt Anna", 2: "2 Takte spielt Anna", 0: "0 Takte spielt Anna", -1: "-1 Takt spielt Anna"} {
		assert.Equal(t, want, table.In(pitch.German, "b", words.Fill{"n": n, "who": "Anna"}))
	}
	_, err = words.ReadTable(file, "t.csv", "u.csv")
	assert.ErrorContains(t, err, "u.csv")
	_, err = words.ReadTable(file, "t.csv", "t.csv")
	assert.ErrorContains(t, err, "the key stands in the tables twice")
}

// TestTableErrors: a slip of whoever corrects a table is said with its place.
func TestTableErrors(t *testing.T) {
	t.Parallel()
	const head = "key,en,de,fr,it,es,source\n"
	for _, row := range []struct{ name, content, says string }{
		{"columns", "key,en\n", "the columns must be key,en,de,fr,it,es,source"},
		{"missing", head + "a,x,,x,x,x,\n", `"a", column de: the text is missing`},
		{"brace", head + "a,x,x,x {n,x,x,\n", `"a", column fr: a brace has no partner`},
		{"stray brace", head + "a,x,x,x,n} x {n,x,\n", `"a", column it: a brace has no partner`},
		{"other placeholder", head + "a,{n} x,{n} x,{m} x,{n},{n},\n", `row 2: "a", column fr: the placeholders are {m}; in English they are {n}`},
		{"missing placeholder", head + "a,{n} x,x,{n},{n},{n},\n", "the placeholders are {}; in English they are {n}"},
		{"half a choice", head + "a,{n|x},x,x,x,x,\n", "{n|x} is no placeholder"},
		{"twice", head + "a,x,x,x,x,x,\na,x,x,x,x,x,\n", "row 3: \"a\": the key stands in the tables twice"},
		{"cells", head + "a,x\n", "wrong number of fields"},
		{"empty", "", "the columns must be"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := words.ReadTable(fstest.MapFS{"t.csv": {Data: []byte(row.content)}}, "t.csv")
			require.Error(t, err)
			assert.Contains(t, err.Error(), row.says)
		})
	}
}

// FuzzParsePitch: whatever is read is a note that has a name, and reads back.
func FuzzParsePitch(f *testing.F) {
	for _, seed := range []string{"Ais4", "si♭3", "fa#4", "H4", "B4", "Bb-1", "do", "eses2", "𝄫4", "sol♯♯5"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, l := range pitch.Languages() {
			n := in(t, l)
			p, err := n.ParsePitch(text)
			if err != nil {
				continue
			}
			if alter, whole := p.Alter.Whole(); !whole || max(alter, -alter) > 2 {
				continue
			}
			back, err := n.ParsePitch(n.Pitch(p))
			if err != nil || back != p {
				t.Fatalf("%q in %s is %s, said %q, read %s (%v)", text, l, p, n.Pitch(p), back, err)
			}
		}
	})
}
