package reading_test

import (
	"fmt"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/reading"
)

const (
	gMajor   = `[<attributes><key><fifths>1</fifths></key></attributes>]`
	fMajor   = `[<attributes><key><fifths>-1</fifths></key></attributes>]`
	hiddenG  = `[<attributes><key print-object="no"><fifths>1</fifths></key></attributes>]`
	lowerInG = `[<attributes><key number="2"><fifths>1</fifths></key><staves>2</staves></attributes>]`
)

// Sources in brackets are keys of ../shared/trade/sources.md, by way of
// notation-rules.md.
func TestMismatches(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, music string
		want             []string // measure/beat: read for written
	}{
		{"sign holds in its bar", "[gehrkens-mnt s.24]", "F#4<sharp> F#4 G4 F#4", nil},
		{"sign ends with its bar", "[gehrkens-mnt s.24]", "F#4<sharp> | F#4", []string{"2/1: F4 for F#4"}},
		{"no sign in the next bar is needed for the plain note", "[gehrkens-mnt s.24]", "F#4<sharp> | F4", nil},
		{"forgotten natural", "the sign still holds", "F#4<sharp> F4", []string{"1/2: F#4 for F4"}},
		{"natural takes the sign back", "[gehrkens-mnt s.26]", "F#4<sharp> F4<natural> F4", nil},
		{"only its own octave", "[kent-acc]", "F#4<sharp> F5 F#5", []string{"1/3: F5 for F#5"}},
		{"signature in all octaves", "[harris s.6]", gMajor + " F#4 F#5 F#2", nil},
		{"signature contradicted", "G major without its F sharp", gMajor + " F4", []string{"1/1: F#4 for F4"}},
		{"natural against the signature, then again", "[gehrkens-mnt s.24]", gMajor + " F4<natural> F4 | F#4", nil},
		{"signature not printed", "what is not printed is not read", hiddenG + " F#4 F#4<sharp>", []string{"1/1: F4 for F#4"}},
		{"single after double sharp", "[gehrkens-mnt s.21]", "F##4<double-sharp> F#4<sharp> F##4<sharp-sharp> F#4<natural-sharp>", nil},
		{"single after double flat", "[gehrkens-mnt s.21]", fMajor + " Bbb4<flat-flat> Bb4<natural-flat> | Bb4", nil},
		{"tie over the barline", "[gehrkens-mnt s.25]", "F#4<sharp>~ | ~F#4 F4", nil},
		{"the tie is for the tied note alone", "[gehrkens-mnt s.25]", "F#4<sharp>~ | ~F#4 F#4", []string{"2/2: F4 for F#4"}},
		{"tie over two barlines", "it is one long note", "F#4<sharp>~ | ~F#4~ | ~F#4 F4", nil},
		{"sign repeated after a tie holds", "it is printed in this bar", "F#4<sharp>~ | ~F#4<sharp> F#4", nil},
		{"tie against a sign between", "the tied note was read before", "F#4<sharp> G4~ | ~G4 Gb4<flat>~ | ~Gb4", nil},
		{"tie within the bar outlives another voice's sign", "one long note", "F#4<sharp>~ ~F#4 << E4 E4", nil},
		{"tie to another letter is no tie to this note", "C sharp to D flat: read on its own", "C#4<sharp>~ | ~Db4", []string{"2/1: D4 for Db4"}},
		{"tie from two bars ago", "a second ending: the player sees half a tie and no sign", "F#4<sharp>~ | C4 | ~F#4", []string{"3/1: F4 for F#4"}},
		{"grace note's sign holds", "[mem-gould memory]", "g:F#4<sharp> F#4", nil},
		{"grace notes in order", "[mem-gould memory]", "g:F#4<sharp> g:F4<natural> F#4", []string{"1/1: F4 for F#4"}},
		{"grace note after the sign", "it comes before the next note", "F#4<sharp> g:F#4 G4", nil},
		{"sign in the other voice", "[harris s.44]: it served the reader of the staff", "F#4<sharp> G4 << A3 F#4", nil},
		{"sign in the other voice at the same moment", "[harris s.44]", "F#4<sharp> << F#4", nil},
		{"the other voice at the same moment, in either order", "[harris s.44]", "F#4 << F#4<sharp>", nil},
		{"two alterations at one moment", "each needs its own sign", "F#4<sharp> << F4", []string{"1/1: F#4 for F4"}},
		{"two alterations, two signs", "each needs its own sign", "F#4<sharp> << F4<natural>", nil},
		{"other staff", "[design] one staff", "F#4<sharp> << =2 F4 F#4", []string{"1/2: F4 for F#4"}},
		{"signature of one staff", "MusicXML 4.0, key number", lowerInG + " F4 << =2 F#4", nil},
		{"chord", "every head has its own sign", "F#4<sharp> +A4 +C#5 F#4", []string{"1/1: C5 for C#5"}},
		{"new signature in mid-bar", "it says afresh what holds", "F#4<sharp> " + fMajor + " F4 Bb4", nil},
		{"new signature in mid-bar that nobody sees", "it ends nothing where there was none", "F#4<sharp> " + hiddenG + " F#4", nil},
		{"new signature behind a grace note", "it holds from where it stands", "C4 g:Bb4<flat> g:B4 " + fMajor + " g:Bb4 Bb4", []string{"1/2: Bb4 for B4"}},
		{"hidden note's sign", "nobody sees it", "h:F#4<sharp> F4", nil},
		{"hidden note", "nobody reads it", "h:F#4 F4", nil},
		{"parenthesised sign counts", "[harris s.48] it helps the reader", "F#4<(sharp)> F#4", nil},
		{"quarter tone", "MusicXML 4.0, accidental-value", "Fq4<quarter-sharp> Fq4 F4<natural>", nil},
		{"sign of no fixed size", "its size comes from the piece", "Fq4<sori> Fq4", nil},
		{"wrong sign", "the sign is what is played", "F#4<flat>", []string{"1/1: Fb4 for F#4"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, m := range page(t, tune(row.music)).Mismatches() {
				got = append(got, fmt.Sprintf("%s/%s: %s for %s", m.Measure, m.Beat, m.Read, m.Written))
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

func TestNeedless(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, why, music string
		want             []string
	}{
		{"needed", "nothing to say", "F#4<sharp> F4<natural>", nil},
		{"repeated in the bar", "it still holds [gehrkens-mnt s.24]", "F#4<sharp> F#4<sharp>", []string{"1/2 sharp"}},
		{"in the signature", "the signature says so", gMajor + " F#4<sharp>", []string{"1/1 sharp"}},
		{"courtesy", "it says itself that it is one", gMajor + " F#4<(sharp)>", nil},
		{"reminder in the next bar", "[harris s.51] nearly a rule", "F#4<sharp> | F4<natural>", []string{"2/1 natural, reminder"}},
		{"reminder in another octave", "the letter was altered in this bar", "F#4<sharp> F5<natural>", []string{"1/2 natural, reminder"}},
		{"two bars later", "[harris s.51] later is needless", "F#4<sharp> | G4 | F4<natural>", []string{"3/1 natural"}},
		{"repeated on a tied note", "the tie says so", "F#4<sharp>~ | ~F#4<sharp>", []string{"2/1 sharp"}},
		{"both voices at one moment", "two heads, neither comes first", "F#4<sharp> << F#4<sharp>", nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, s := range page(t, tune(row.music)).Needless() {
				text := fmt.Sprintf("%s/%s %s", s.Measure, s.Beat, s.Sign)
				if s.Reminder {
					text += ", reminder"
				}
				got = append(got, text)
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

func TestEditorsAccidentalAboveTheNote(t *testing.T) {
	t.Parallel()
	const note = `<note><pitch><step>F</step><alter>%d</alter><octave>4</octave></pitch><duration>1</duration>` +
		`<notations><accidental-mark>sharp</accidental-mark></notations></note>`
	followed := page(t, tune(fmt.Sprintf("["+note+"] F4", 1)))
	assert.Empty(t, followed.Mismatches(), "the mark explains F sharp, for that note alone")
	ignored := page(t, tune(fmt.Sprintf("["+note+"]", 0)))
	assert.Empty(t, ignored.Mismatches(), "an editor's proposal need not be followed")
}

func TestSourceOfTheReading(t *testing.T) {
	t.Parallel()
	p := page(t, tune("F#4<sharp> F#4~ | ~F#4 F4 h:F4"))
	var got []reading.Source
	for _, n := range p.Notes {
		got = append(got, n.From)
	}
	want := []reading.Source{reading.Sign, reading.Bar, reading.Tie, reading.Signature, reading.Unread}
	assert.Equal(t, want, got)
}

func TestErrors(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ name, why, measure, place string }{
		{"divisions 0", "no note could have a length", `<attributes><divisions>0</divisions></attributes>`, "measure 7, beat 1: "},
		{"no duration", "only grace notes have none", `<note><pitch><step>C</step><octave>4</octave></pitch></note>`, "measure 7, beat 1: "},
		{"octave 99", "MusicXML 4.0, octave: 0 to 9", `<forward><duration>1</duration></forward><note><pitch><step>C</step><octave>99</octave></pitch><duration>1</duration></note>`, "measure 7, beat 2: "},
		{"letter H", "MusicXML 4.0, step: A to G", `<note><pitch><step>H</step><octave>4</octave></pitch><duration>1</duration></note>`, "measure 7, beat 1: "},
		{"back past the barline", "MusicXML 4.0, backup", `<backup><duration>1</duration></backup>`, "measure 7, beat 0: "},
		{"transposition in words", "MusicXML 4.0, semitones", `<attributes><transpose><chromatic>two</chromatic></transpose></attributes>`, "measure 7, beat 1: "},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			doc := etree.NewDocument()
			require.NoError(t, doc.ReadFromString(`<part><measure number="7">`+row.measure+`</measure></part>`))
			_, err := reading.Read(doc.Root())
			var located *musicxml.Error
			require.ErrorAs(t, err, &located, row.why)
			assert.Contains(t, err.Error(), row.place)
		})
	}
}
