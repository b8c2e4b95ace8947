package proof_test

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/pages/proof"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/transpose/verify"
)

// proofOf makes the proof of a score of some parts in concert pitch, each a name
// and its measures.
func proofOf(t *testing.T, o parts.Options, named ...[2]string) *proof.Proof {
	t.Helper()
	var list, music strings.Builder
	for i, p := range named {
		fmt.Fprintf(&list, `<score-part id="P%d"><part-name>%s</part-name></score-part>`, i+1, p[0])
		fmt.Fprintf(&music, `<part id="P%d">%s</part>`, i+1, p[1])
	}
	score, err := musicxml.Read([]byte(`<score-partwise version="4.0"><part-list>`+list.String()+`</part-list>`+music.String()+`</score-partwise>`),
		musicxml.ReadOptions{Name: "trial.musicxml"})
	require.NoError(t, err)
	job := partstest.Job(t, score, o)
	made := &proof.Proof{Score: "trial.musicxml", Title: job.Surveyed().Title()}
	made.Pitch, made.Reason = job.Surveyed().Pitch()
	x := proof.Examiner{Job: job, Verification: verify.Options{MaxSignature: o.MaxSignature}}
	for i := range job.Assignments() {
		part, err := x.Examine(i, new(proof.Memory))
		require.NoError(t, err)
		made.Parts = append(made.Parts, part)
	}
	return made
}

func concert() parts.Options {
	o := parts.DefaultOptions()
	o.Input = parts.Concert
	return o
}

// attributes begin a part, or change its key.
func attributes(fifths int) string {
	return fmt.Sprintf(`<attributes><divisions>1</divisions><key><fifths>%d</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>`, fifths)
}

// whole is a whole note.
func whole(step string, octave int) string {
	return fmt.Sprintf(`<note><pitch><step>%s</step><octave>%d</octave></pitch><duration>4</duration><type>whole</type></note>`, step, octave)
}

const rest = `<note><rest measure="yes"/><duration>4</duration></note>`

func measures(contents ...string) string {
	var b strings.Builder
	for i, c := range contents {
		fmt.Fprintf(&b, `<measure number="%d">%s</measure>`, i+1, c)
	}
	return b.String()
}

// A clarinet in B flat reads a major second higher than it sounds: two sharps more
// (trade/teaching.md, section 5).
func TestKeysBarByBar(t *testing.T) {
	t.Parallel()
	tune := measures(attributes(-1)+whole("F", 4), whole("C", 5), attributes(5)+whole("B", 4))
	for _, row := range []struct {
		name, why string
		options   func(*parts.Options)
		written   []string
	}{
		{"within the limit", "two sharps more", func(o *parts.Options) { o.MaxSignature = 7 }, []string{"1: 1", "3: 7"}},
		{"past the limit", "5 flats in place of 7 sharps (common practice)", func(*parts.Options) {}, []string{"1: 1", "3: -5"}},
		{"without signature", "accidentals stand at the notes", func(o *parts.Options) { o.WithoutSignature = []string{"clarinet"} }, []string{"1: 0", "3: 0"}},
	} {
		o := concert()
		row.options(&o)
		part := proofOf(t, o, [2]string{"Clarinet in Bb", tune}).Parts[0]
		var sounding, written []string
		for _, k := range part.Keys {
			sounding = append(sounding, keyText(k.Measure, k.Sounding))
			written = append(written, keyText(k.Measure, k.Written))
		}
		assert.Equal(t, []string{"1: -1", "3: 5"}, sounding, "%s: %s", row.name, row.why)
		assert.Equal(t, row.written, written, "%s: %s", row.name, row.why)
		assert.Equal(t, "sounds a major second lower than written", part.Sounds)
		assert.True(t, part.Check.Passed(), row.name)
	}
}

func keyText(measure string, s *proof.Signature) string {
	if s == nil {
		return measure + ": none"
	}
	return fmt.Sprintf("%s: %d", measure, s.Fifths)
}

// The catalogue has a flute from B3 to D7, comfortably from D4 to A6.
func TestNotesAgainstTheRange(t *testing.T) {
	t.Parallel()
	tune := measures(attributes(0)+whole("A", 3), whole("C", 4), whole("C", 5), whole("C", 7))
	made := proofOf(t, concert(), [2]string{"Flute", tune}, [2]string{"Triangle", measures(attributes(0) +
		`<note><unpitched><display-step>E</display-step><display-octave>4</display-octave></unpitched><duration>4</duration></note>`)})
	r := made.Parts[0].Range
	require.NotNil(t, r)
	assert.Equal(t, "B3 D4 A6 D7", strings.Join([]string{r.Low, r.ComfortableLow, r.ComfortableHigh, r.High}, " "))
	assert.Equal(t, 4, r.Notes)
	assert.Equal(t, 2, r.Uncomfortable, "C4 and C7")
	assert.Equal(t, 1, r.Beyond, "A3")
	assert.Equal(t, "A3 in 1", r.Lowest.Pitch+" in "+r.Lowest.Measure)
	assert.Equal(t, "C7 in 4", r.Highest.Pitch+" in "+r.Highest.Measure)
	assert.Nil(t, made.Parts[1].Range, "a triangle has no range")
	page := text(t, made)
	assert.Contains(t, page, `<strong class="bad">1 note lies outside the range</strong>`)
	assert.Contains(t, page, `<a href="#p1-b4">bar 4, beat 1</a>`)
}

// A part is shown where it first plays.
func TestOpening(t *testing.T) {
	t.Parallel()
	// Rehearsal marks divide the rest, so that it fills lines.
	late := []string{attributes(0) + rest}
	for i := range 60 {
		late = append(late, fmt.Sprintf(`<direction><direction-type><rehearsal>%d</rehearsal></direction-type></direction>`, i)+rest)
	}
	late = append(late, whole("C", 5))
	for _, row := range []struct {
		name, why, music   string
		first, last, words string
		entry              bool
	}{
		{"at once", "the first line", measures(attributes(0)+whole("C", 5), whole("D", 5)), "1", "2", "Opening, bars 1 to 2", false},
		{"after a rest in the same line", "a multi-bar rest is short", measures(attributes(0)+rest, rest, rest, rest, whole("C", 5)), "1", "5", "Opening, bars 1 to 5", false},
		{"after lines of rest", "the line of the entry", measures(late...), "62", "62", "First entry, bar 62", true},
		{"never", "a silent part has no opening", measures(attributes(0)+rest, rest), "1", "2", "Tacet: the part is silent", false},
		{"no bars", "nothing to show", "", "", "", "", false},
	} {
		made := proofOf(t, concert(), [2]string{"Horn in F", row.music}, [2]string{"Flute", measures(attributes(0) + whole("C", 5))})
		o := made.Parts[0].Opening
		assert.Equal(t, []any{row.first, row.last, row.entry}, []any{o.First, o.Last, o.Entry}, "%s: %s", row.name, row.why)
		assert.Contains(t, text(t, made), row.words, "%s: %s", row.name, row.why)
	}
}

// Two staves stand one above the other where sounding and written pitch differ.
func TestSoundingOverWritten(t *testing.T) {
	t.Parallel()
	tune := measures(attributes(0) + whole("C", 3))
	made := proofOf(t, concert(), [2]string{"Flute", tune}, [2]string{"Baritone Saxophone", tune})
	assert.False(t, made.Parts[0].Opening.Both)
	assert.True(t, made.Parts[1].Opening.Both)
	page := text(t, made)
	assert.Contains(t, page, "sounding and written pitch are the same")
	// Sounding C3 is read as A4 (a major thirteenth lower, trade/transpositions.csv).
	assert.Regexp(t, `<title>Sounds, bar 1</title><desc>Bar 1: bass clef, [^<]*C 3 whole`, page)
	assert.Regexp(t, `<title>Written, bar 1</title><desc>Bar 1: treble clef, [^<]*A 4 whole`, page)
}

var data = regexp.MustCompile(`<script type="text/plain" id="p1-data">([^<]*)</script>`)

// What is packed comes out again by the standard's method (RFC 1951).
func TestWholePartIsPacked(t *testing.T) {
	t.Parallel()
	page := text(t, proofOf(t, concert(), [2]string{"Oboe", measures(attributes(0)+whole("C", 5), whole("D", 5))}))
	found := data.FindStringSubmatch(page)
	require.Len(t, found, 2)
	packed, err := base64.StdEncoding.DecodeString(found[1])
	require.NoError(t, err)
	svg, err := io.ReadAll(flate.NewReader(bytes.NewReader(packed)))
	require.NoError(t, err)
	assert.Contains(t, string(svg), "C 5 whole. Bar 2: D 5 whole.")
}

// Names come from outside and stay text.
func TestHostileNames(t *testing.T) {
	t.Parallel()
	music := `<measure number="1&lt;/script&gt;&quot;">` + attributes(0) + whole("A", 3) + `</measure>`
	page := text(t, proofOf(t, concert(), [2]string{`&lt;script&gt;alert(1)&lt;/script&gt;&quot;'`, music}, [2]string{"Flute", music}))
	assert.NotContains(t, page, "<script>alert")
	assert.NotContains(t, page, "1</script>")
	assert.Contains(t, page, "&lt;script&gt;alert(1)")
}

func TestSamePageAgain(t *testing.T) {
	t.Parallel()
	make := func() string {
		return text(t, proofOf(t, concert(), [2]string{"Flute", measures(attributes(2) + whole("A", 3))}, [2]string{"Horn in F", measures(attributes(2) + whole("A", 4))}))
	}
	assert.Equal(t, make(), make())
}

// A part that cannot be made is said on the page, and the others are there.
func TestPartThatCannotBeMade(t *testing.T) {
	t.Parallel()
	made := proofOf(t, concert(), [2]string{"Horn in F", measures(attributes(0) + whole("C", 9) + whole("G", 9))}, [2]string{"Flute", measures(attributes(0) + whole("C", 5))})
	require.NotEmpty(t, made.Parts[0].Failure)
	assert.True(t, made.NeedsPerson())
	page := text(t, made)
	assert.Contains(t, page, "This part could not be made.")
	assert.Contains(t, page, "1 did not pass the check")
	assert.Contains(t, page, "✗ not made")
	assert.Contains(t, page, `id="p2-data"`)
}

func text(t *testing.T, made *proof.Proof) string {
	t.Helper()
	page, err := made.Page()
	require.NoError(t, err)
	return string(page)
}
