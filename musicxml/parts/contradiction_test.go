package parts_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// assign surveys a score and returns its assignments.
func assign(t *testing.T, data []byte, o parts.Options) []parts.Assignment {
	t.Helper()
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	return assignScore(t, score, o)
}

func assignScore(t *testing.T, score *musicxml.Score, o parts.Options) []parts.Assignment {
	t.Helper()
	job := partstest.Job(t, score, o)
	assignments := job.Assignments()
	return assignments
}

// quartetOf writes a flute and a cello in E flat major of two bars, and between
// them a part as given: its entry of the part-list and its music.
func quartetOf(name, attributes, bars string) []byte {
	plain := func(id, key string) string {
		return fmt.Sprintf(`<part id="%s"><measure number="1"><attributes><divisions>1</divisions>%s</attributes>%s</measure><measure number="2">%s</measure></part>`,
			id, key, wholeNote, wholeNote)
	}
	flats := `<key><fifths>-3</fifths></key>`
	return []byte(`<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Flute</part-name></score-part>` +
		`<score-part id="P2"><part-name>` + name + `</part-name></score-part><score-part id="P3"><part-name>Cello</part-name></score-part></part-list>` +
		plain("P1", flats) + `<part id="P2"><measure number="1"><attributes><divisions>1</divisions>` + attributes + `</attributes>` + bars +
		`</measure></part>` + plain("P3", flats) + `</score-partwise>`)
}

const wholeNote = `<note><pitch><step>E</step><alter>-1</alter><octave>4</octave></pitch><duration>4</duration></note>`
const twoBars = wholeNote + `</measure><measure number="2">` + wholeNote
const bFlat = `<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>`

func key(fifths int) string { return fmt.Sprintf("<key><fifths>%d</fifths></key>", fifths) }

// Hand-worked: E flat major has three flats; a B flat instrument reads it a major
// second higher, in F major, one flat (trade/transpositions.csv, clarinet).
func TestContradictions(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name, why              string
		part, attributes, bars string
		codes                  []string
		measure, text          string
	}{
		{"as it should be", "one flat is F major", "Clarinet in Bb", key(-1) + bFlat, twoBars, nil, "", ""},
		{"sounding signature", "the edition forgot to transpose it", "Clarinet in Bb", key(-3) + bFlat, twoBars,
			[]string{"key-at-odds"}, "1", "the signature is that of the sounding key, 3 flats; the part's transposition gives 1 flat"},
		{"another signature", "neither one nor the other", "Clarinet in Bb", key(2) + bFlat, twoBars, []string{"key-at-odds"}, "1",
			"the signature is 2 sharps where the key of the other parts and the transposition give 1 flat"},
		{"enharmonic twin", "eleven sharps sound as one flat", "Clarinet in Bb", key(11) + bFlat, twoBars, nil, "", ""},
		{"horn without signature", "horns are often written so (part-preparation, 4)", "Horn in F", key(0) +
			`<transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose>`, twoBars, nil, "", ""},
		{"silent part", "a signature over rests misleads nobody", "Clarinet in Bb", key(-3) + bFlat,
			`<note><rest/><duration>4</duration></note></measure><measure number="2"><note><rest/><duration>4</duration></note>`, nil, "", ""},
		{"name at odds", "the name says A, the transposition B flat", "Clarinet in A", key(-1) + bFlat, twoBars,
			[]string{"name-at-odds"}, "", "the name says Clarinet in A, but the part's transposition is a major second down; the transposition is followed"},
		{"a bar missing", "one bar where the others have two", "Clarinet in Bb", key(-1) + bFlat, wholeNote, []string{"missing-bars"}, "",
			"the part has 1 bar, the score 2"},
		{"a bar too many", "three bars where the others have two", "Clarinet in Bb", key(-1) + bFlat, twoBars + `</measure><measure number="3">` + wholeNote,
			[]string{"surplus-bars"}, "", "the part has 3 bars, the other parts 2"},
		{"a short bar", "two quarters in a bar of four", "Clarinet in Bb", key(-1) + bFlat,
			wholeNote + `</measure><measure number="2"><note><rest/><duration>2</duration></note>`, []string{"unequal-bars"}, "2",
			"the bar lasts 2 quarter notes, in most parts 4"},
		{"written but unsaid", "F major where the others have E flat, and no transpose", "Clarinet in Bb", key(-1), twoBars, []string{"pitch-unsaid"}, "",
			"the part says nothing of its pitch and is taken as its player reads it: 1 transposing part has a signature that differs from the others' by the interval; read as it sounds, it would sound a major second higher"},
		{"concert, as the signatures tell", "the same signature everywhere", "Clarinet in Bb", key(-3), twoBars, nil, "", ""},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			warnings := assign(t, quartetOf(test.part, test.attributes, test.bars), parts.DefaultOptions())[1].Warnings
			var codes []string
			for _, w := range warnings {
				codes = append(codes, string(w.Code))
			}
			require.Equal(t, test.codes, codes, test.why)
			if len(codes) > 0 {
				assert.Equal(t, test.measure, warnings[0].Measure, test.why)
				assert.Equal(t, test.text, warnings[0].Text, test.why)
			}
		})
	}
}

// The editions in ../shared/scores/written whose signatures contradict their own
// transposition, found by reading their pages: in the symphony in C minor the
// clarinets in B flat have three flats for one, the horns in E flat one for none.
func TestContradictionsOfEditions(t *testing.T) {
	t.Parallel()
	shared := musicxmltest.SharedDir(t)
	want := map[string][]string{
		"Bach_BWV.232_01": nil, "Brahms_Op.45_1": nil, "Haydn_104_1": nil, "Schubert_D.485_1": nil,
		"Brahms_Op.68_1": {"Bb Clarinet 1, 1", "Bb Clarinet 2, 1", "Eb Horn 3, 1", "Eb Horn 4, 1"},
		"Brahms_Op.90_3": {"Bb Clarinet 1, 101", "Bb Clarinet 2, 101", "C Horn 1, 101", "C Horn 2, 101"},
		"Brahms_Op.98_4": {"E Horn 1, 1", "E Horn 2, 1", "E Trumpet 1, 1", "E Trumpet 2, 1"},
	}
	for name, expected := range want {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.ReadFile(filepath.Join(shared, "scores", "written", name+".mxl"), musicxml.ReadOptions{})
			require.NoError(t, err)
			var named []string
			for _, a := range assignScore(t, score, parts.DefaultOptions()) {
				for _, w := range a.Warnings {
					if w.Code == "key-at-odds" {
						named = append(named, a.Name+", "+w.Measure)
					}
				}
			}
			assert.Equal(t, expected, named)
		})
	}
}
