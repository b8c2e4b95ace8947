package parts_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// TestCrooksInAScoreInC: a score in C has a horn, a bass trumpet and a saxophone in C at
// sounding pitch, as it has those in other keys; piccolo, double bass and their like
// stay at their written octave (newhouse-c, rgsmith-horn, nphd-table).
func TestCrooksInAScoreInC(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ part, music, want string }{
		{"Horn in C", `C4:w`, `[transpose 0 0 -1] C5:w`},
		{"Bass Trumpet in C", `C4:w`, `[transpose 0 0 -1] C5:w`},
		{"C Melody Saxophone", `C4:w`, `[transpose 0 0 -1] C5:w`},
		{"Bass Clarinet in C", `C4:w`, `[transpose 0 0 -1] C5:w`},
		{"Horn in C alto", `C4:w`, `C4:w`},
		{"Trumpet in C", `C4:w`, `C4:w`},
		{"Horn in F", `C4:w | "muta in D" R | C4:w | "muta in C" R | C4:w`,
			`[transpose -4 -7] G4:w | "muta in D" R | [transpose -6 -10] "Horn in D" Bb4:w | "muta in C" R | [transpose 0 0 -1] "Horn in C" C5:w`},
		{"Piccolo", `C5:w`, `C5:w`},
		{"Double Bass", `E3:w`, `E3:w`},
		{"Contrabassoon", `E3:w`, `E3:w`},
		{"Celesta", `C5:w`, `C5:w`},
	} {
		sheets := sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: test.part, Music: test.music}), plain(parts.Concert))
		assert.Equal(t, test.want, written(sheets[0]), test.part)
	}
}

// TestOctaveClefsAndFrets: what a small 8 at the clef, or a string and a fret, say of an
// octave goes before the range. String 4 is D3 as it sounds (mem-adler), fret 2 is E3.
func TestOctaveClefsAndFrets(t *testing.T) {
	t.Parallel()
	const low, high = `<clef-octave-change>-1</clef-octave-change>`, `<clef-octave-change>1</clef-octave-change>`
	for _, test := range []struct{ part, clef, pitch, fret, sounds, why string }{
		{"Guitar", `<sign>G</sign><line>2</line>` + low, "E3", "4 2", "E3", "octave clef and tablature"},
		{"Guitar", `<sign>G</sign><line>2</line>` + low, "E3", "", "E3", "octave clef"},
		{"Guitar", `<sign>G</sign><line>2</line>`, "E4", "4 2", "E3", "tablature: as the player reads it"},
		{"Guitar", `<sign>G</sign><line>2</line>`, "E3", "4 2", "E3", "tablature: as it sounds"},
		{"Guitar", `<sign>G</sign><line>2</line>`, "E4", "", "E3", "a score in C"},
		{"Double Bass", `<sign>F</sign><line>4</line>` + low, "E2", "", "E2", "octave clef"},
		{"Double Bass", `<sign>F</sign><line>4</line>`, "E3", "", "E2", "a score in C"},
		{"Piccolo", `<sign>G</sign><line>2</line>` + high, "C6", "", "C6", "octave clef"},
		{"Piccolo", `<sign>G</sign><line>2</line>`, "C5", "", "C6", "a score in C"},
	} {
		score := miniScore(t, miniPart{test.part, []string{fretted(test.clef, test.pitch, test.fret)}})
		surveyed := partstest.Survey(t, score, plain(parts.Auto))
		told := surveyed.Part(0)
		assert.Equal(t, test.sounds, surveyed.SourceTransposition(0).Interval().Apply(told.Lowest).String(), "%s: %s", test.part, test.why)
	}
}

// fretted is a bar of one note under a clef, on a string and fret ("4 2", "" for none).
func fretted(clef, pitch, fret string) string {
	technical := ""
	if number, at, ok := strings.Cut(fret, " "); ok {
		technical = `<notations><technical><string>` + number + `</string><fret>` + at + `</fret></technical></notations>`
	}
	return `<attributes><divisions>1</divisions><clef>` + clef + `</clef></attributes><note><pitch><step>` + pitch[:1] + `</step><octave>` + pitch[1:] +
		`</octave></pitch><duration>4</duration>` + technical + `</note>`
}

// written is the music of a sheet with its transpositions, keys and clefs aside.
func written(s *parts.Part) string {
	text := attributes.ReplaceAllStringFunc(shorthand.ReadAll(partOf(s)), func(a string) string {
		if at := strings.Index(a, "transpose"); at >= 0 {
			return "[" + a[at:]
		}
		return ""
	})
	return strings.Join(strings.Fields(text), " ")
}

var attributes = regexp.MustCompile(`\[[^]]*\]`)

// TestWhichInstrument: where clef, notes, lyrics or company contradict the name, the
// part is asked about with both readings, until a plan settles it.
func TestWhichInstrument(t *testing.T) {
	t.Parallel()
	question := func(a parts.Assignment) string {
		for _, w := range a.Warnings {
			if w.Code == notice.WhichInstrument {
				return w.Text
			}
		}
		return ""
	}
	for _, test := range []struct{ part, clef, music, want string }{
		{"Alto Saxophone", "C 3", `C4:w`, "taken for Alto Saxophone by its name, but it stands in the alto clef, which that does not read"},
		{"Violin", "G 2", `C3:w | D3:w`, "taken for Violin by its name, but most of its notes lie out of that range"},
		{"Horn in B♭", "G 2", `C4:w`, "taken for Horn in B♭ basso; it may be Horn in B♭ alto"},
		{"Violin", "G 2", `C5:w`, ""},
	} {
		data := shorthand.Score(t, shorthand.Entry{Name: test.part, Music: `[clef ` + test.clef + `] ` + test.music})
		assert.Equal(t, test.want, question(assign(t, data, plain(parts.Concert))[0]), test.part)
		o := plain(parts.Concert)
		o.Plan = []parts.PlanRow{{Part: "P1", Instrument: "viola"}}
		assert.Empty(t, question(assign(t, data, o)[0]), "a plan settles it")
	}
}

// TestDoublings: head and label name all that the player must bring; a bare name of an
// instrument that the player has is a change to it, of another one is asked about.
func TestDoublings(t *testing.T) {
	t.Parallel()
	for _, test := range []struct{ part, music, label, want, code string }{
		{"Flute 2 / Piccolo", `C5:w | "Piccolo" R | C5:w`, "Flute 2 / Piccolo", `C5:w | "Piccolo" R | "Piccolo" C5:w`, ""},
		{"Clarinet in Bb/A", `C5:w | "change to A" R | C5:w`, "Clarinet in B♭/A", `[transpose -1 -2] D5:w | "change to A" R | [transpose -2 -3] "Clarinet in A" Eb5:w`, ""},
		{"Alto Sax / Clarinet", `C5:w | "Clarinet" R | C5:w`, "Alto Saxophone / Clarinet in B♭", `[transpose -5 -9] A5:w | "Clarinet" R | [transpose -1 -2] "Clarinet in B♭" D5:w`, ""},
		{"Alto Sax / Clarinet", `C5:w | "Clarinet in Bb" R | C5:w`, "Alto Saxophone / Clarinet in B♭", `[transpose -5 -9] A5:w | "Clarinet in Bb" R | [transpose -1 -2] "Clarinet in B♭" D5:w`, ""},
		{"Alto Sax", `C5:w | "to Clarinet" R | C5:w`, "Alto Saxophone", `[transpose -5 -9] A5:w | "to Clarinet" R | [transpose -1 -2] "Clarinet in B♭" D5:w`, ""},
		{"Alto Sax", `C5:w | "Clarinet" R | C5:w`, "Alto Saxophone", `[transpose -5 -9] A5:w | "Clarinet" R | A5:w`, "change-or-cue"},
		{"Alto Sax", `C5:w | "Cl." R | C5:w`, "Alto Saxophone", `[transpose -5 -9] A5:w | "Cl." R | A5:w`, ""},
		{"Timpani / Percussion", `C3:w`, "Timpani / Percussion", `C3:w`, ""},
		{"Percussion (Triangle, Cymbals)", `C5:w`, "Percussion (Triangle, Cymbals)", `C5:w`, ""},
	} {
		data := shorthand.Score(t, shorthand.Entry{Name: test.part, Music: test.music})
		sheet := sheetsFrom(t, data, plain(parts.Concert))[0]
		assert.Equal(t, test.label, assign(t, data, plain(parts.Concert))[0].Label)
		assert.Equal(t, test.label, musicxml.Text(sheet.Document.FindElement("//credit/credit-words")), "the head")
		assert.Equal(t, test.label, musicxml.Text(sheet.Document.FindElement("//part-name")))
		assert.Equal(t, test.want, written(sheet), "%s: %s", test.part, test.music)
		assert.Equal(t, test.code != "", slices.Contains(codesOf(sheet), "change-or-cue"), "%s: %s", test.part, test.music)
	}
}
