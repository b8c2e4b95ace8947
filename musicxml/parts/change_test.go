package parts_test

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
)

// makeSheets makes all parts of a score.
func makeSheets(t *testing.T, score *musicxml.Score, o parts.Options) []*parts.Part {
	t.Helper()
	job := partstest.Job(t, score, o)
	var sheets []*parts.Part
	for i := range job.Assignments() {
		sheet, err := job.Make(i)
		require.NoError(t, err)
		sheets = append(sheets, sheet)
	}
	return sheets
}

func sheetsFrom(t *testing.T, data []byte, o parts.Options) []*parts.Part {
	t.Helper()
	score, err := musicxml.Read(data, musicxml.ReadOptions{})
	require.NoError(t, err)
	return makeSheets(t, score, o)
}

func partOf(s *parts.Part) *etree.Element { return musicxml.Child(s.Document.Root(), "part") }

func codesOf(s *parts.Part) []string {
	var codes []string
	for _, w := range s.Report.Warnings {
		codes = append(codes, string(w.Code))
	}
	return codes
}

// plain are options that leave rests and clefs as they are written, so that the
// expectations show the change alone.
func plain(input parts.Input) parts.Options {
	o := parts.DefaultOptions()
	o.Input, o.RestBars = input, 0
	return o
}

// planned are plain options with a plan that gives everything to one instrument.
func planned(instrument string) parts.Options {
	o := plain(parts.Concert)
	o.Plan = []parts.PlanRow{{Part: "*", Instrument: instrument}}
	return o
}

// What an instrument reads is worked by hand from trade/transpositions.csv: for a
// sounding C the clarinet in B flat reads D, two sharps more; the clarinet in A
// reads E flat, three flats more; the alto saxophone reads A, three sharps more;
// the piccolo and the double bass are written an octave lower and higher.
func TestChangesOfInstrument(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, why, part, music, want string
		instruments, codes           []string
		options                      parts.Options
	}{
		{
			name: "muta in A", why: "the change holds from the next entry on, bars after the words; key restated, name printed there (part-preparation 3)",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "muta in A" R | C5:w | D5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | F5:w`,
		},
		{
			name: "in B flat, in A and back", why: "both sides of both changes",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "in A" C5:w | r:h "in B♭" C5:h`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | [key -3 transpose -2 -3] "in A" Eb5:w | r:h [key 2 transpose -1 -2] "in B♭" D5:h`,
			codes: []string{"hasty-change"},
		},
		{
			name: "words over a note that is held on", why: "nobody changes instruments under a tie: the entry is the next note (common practice, no source)",
			part: "Clarinet in Bb", music: `[key 0] C5:w~ | "muta in A" C5:w^ | r:h D5:h`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w~ | "muta in A" D5:w^ | r:h [key -3 transpose -2 -3] "Clarinet in A" F5:h`,
		},
		{
			name: "words inside a phrase", why: "the player finishes it: the new instrument is for the entry after the rest",
			part: "Flute", music: `[key 0] C5:q "to Alto Sax" D5:q E5:q r:q | R | F5:w`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C5:q "to Alto Sax" D5:q E5:q r:q | R | [key 3 transpose -5 -9] "Alto Saxophone" D6:w`,
		},
		{
			name: "a breath is no time to change", why: "a short rest in the phrase is passed over for a longer one (pimentel: eight to ten seconds)",
			part: "Flute", music: `[key 0] "to Alto Sax" C5:q D5:q r:q E5:q | R | F5:w`, options: plain(parts.Concert),
			want: `[key 3 clef G 2 transpose -5 -9] "to Alto Sax" A5:q B5:q r:q C#6:q | R | D6:w`,
		},
		{
			name: "and inside", why: "the same in mid-phrase",
			part: "Flute", music: `[key 0] C5:w | C5:q "to Alto Sax" D5:q r:q E5:q | R | F5:w`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C5:w | C5:q "to Alto Sax" D5:q r:q E5:q | R | [key 3 transpose -5 -9] "Alto Saxophone" D6:w`,
		},
		{
			name: "instrument-change", why: "W3C example (trade/worked-examples.csv, w3c-change-cl and -asx): both read C5, in one flat and in none, over three sounding flats",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb"},
			music: `[key -3] Bb4:w | R | <change wind.reed.saxophone.alto> Eb4:w`, options: plain(parts.Concert),
			want: `[key -1 clef G 2 transpose -1 -2] C5:w | R | [key 0 transpose -5 -9] "Alto Saxophone" C5:w`,
		},
		{
			name: "back to the other instrument", why: "a repeat leads straight from the clarinet in A to the one in B flat",
			part: "Clarinet in Bb", music: `[key 0] <tempo 60> C5:w | "in A" R | R | C5:w <barline location="right"><repeat direction="backward"/></barline>`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "in A" R | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "back with time to change", why: "two bars of rest at 60 beats before the repeat",
			part: "Clarinet in Bb", music: `[key 0] <tempo 60> C5:w | "in A" R | R | C5:w | R | R <barline location="right"><repeat direction="backward"/></barline>`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "in A" R | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | R | R`,
		},
		{
			name: "ids at the notes", why: "a note of another score-instrument is played on it",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb", "Clarinet in A"},
			music: `[key 0] C5:w#1 | R | C5:w#2 | C5:w#1`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w#1 | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w#2 | [key 2 transpose -1 -2] "Clarinet in B♭" D5:w#1`,
			codes: []string{"hasty-change"},
		},
		{
			name: "ids of two players at once", why: "nobody has a clarinet in B flat and one in A at once: the ids are two players', and the staff stays as it is",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb", "Clarinet in A"},
			music: `[key 0] C5:w#1 | C5:h#2 E5:h#1 +C5:h#2 | C5:w#2`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w#1 | D5:h#2 F#5+D5:h#1 | D5:w#2`,
			codes: []string{"two-at-once"},
		},
		{
			name: "flute and piccolo", why: "the piccolo keeps the octave that the score writes (notation-rules 12), and says it",
			part: "Flute", music: `[key 0] [clef G 2] C6:w | "nimmt Piccolo" R | [transpose 0 0 1] C6:w | "Flute" r:h [transpose 0 0] C6:h`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C6:w | "nimmt Piccolo" R | [transpose 0 0 1] "Piccolo" C6:w | "Flute" r:h [transpose 0 0] C6:h`,
		},
		{
			name: "flute, alto flute, flute", why: "from no transposition to one and back",
			part: "Flute", music: `[key 0] C5:w | "to Alto Flute" R | C5:w | "to Flute" R | C5:w`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C5:w | "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w | "to Flute" R | [key 0 transpose 0 0] "Flute" C5:w`,
		},
		{
			name: "two for-parts", why: "the score says what its parts are to be, place by place (w3c-concert)",
			part: "Clarinet", music: `[key 0] [for -1 -2] C5:w | "muta in A" R | [for -2 -3] C5:w`, options: plain(parts.Auto),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
		},
		{
			name: "two transpositions, the second with words", why: "the words are of the second change: the first is named by what it sounds",
			part: "Clarinet in Eb", music: `[key 1] [clef G 2] [transpose 2 3] C4:w | R | [key 0] [transpose -1 -2] C4:w | "muta in A" R | [key -5] [transpose -2 -3] Db4:w`, options: plain(parts.Auto),
			want: `[key 1 clef G 2 transpose 2 3] C4:w | R | [key 0 transpose -1 -2] "Clarinet in B♭" C4:w | "muta in A" R | [key -5 transpose -2 -3] "Clarinet in A" Db4:w`,
		},
		{
			name: "named the first time", why: "each change is named where the score does not",
			part: "Clarinet in Bb", music: `[key 0] C5:w | R | "in A" C5:w | "muta in B♭" R | C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | R | [key -3 transpose -2 -3] "in A" Eb5:w | "muta in B♭" R | [key 2 transpose -1 -2] "Clarinet in B♭" D5:w`,
		},
		{
			name: "in a short rest", why: "the player rests there: the entry is the next, though a longer rest comes",
			part: "Flute", music: `[key 0] C5:hd "to Alto Flute" r:q | C5:w | R | C5:w`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C5:hd "to Alto Flute" r:q | [key -1 transpose -3 -5] "Alto Flute in G" F5:w | R | F5:w`,
		},
		{
			name: "a name behind the entry", why: "words later in the bar do not name it",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb", "Clarinet in A"},
			music: `[key 0] C5:w#1 | R | C5:h#2 "in A" C5:h#2`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w#1 | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:h#2 "in A" Eb5:h#2`,
			codes: []string{"text-names-pitch"},
		},
		{
			name: "words, and a bar later a transposition", why: "each is a change of its own",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | "muta in A" R | [key -3] [transpose -2 -3] Eb5:w | [key 2] [transpose -1 -2] D5:w`, options: plain(parts.Auto),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | [key 2 transpose -1 -2] "Clarinet in B♭" D5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "a transposition alone, to another instrument's player", why: "it means nothing to him",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | R | [key -3] [transpose -2 -3] Eb5:w`, options: planned("flute"),
			want: `[key 0 clef G 2] C5:w | R | C5:w`,
		},
		{
			name: "two for-parts without words", why: "the instrument of the kind that sounds so is named where it begins",
			part: "Clarinet", music: `[key 0] [for -1 -2] C5:w | R | [for -2 -3] C5:w`, options: plain(parts.Auto),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
		},
		{
			name: "for-part at the start alone", why: "words change what no second for-part says",
			part: "Clarinet in Bb", music: `[key 0] [for -1 -2] C5:w | "muta in A" R | C5:w`, options: plain(parts.Auto),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
		},
		{
			name: "written score with its own changes", why: "what the source says is kept (examples/two-ferries)",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | "muta in A" R | [key -3] [transpose -2 -3] "in A" Eb5:w`, options: plain(parts.Auto),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "in A" Eb5:w`,
		},
		{
			name: "written score that forgets the second", why: "what cannot be changed safely is reported, never guessed (design.md)",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | "muta in A" R | Eb5:w`, options: plain(parts.Auto),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | "Clarinet in A" Eb5:w`,
			codes: []string{"change-without-transpose"},
		},
		{
			name: "written score that says nothing", why: "read as its player reads it, both instruments get their transposition",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] D5:w | "muta in A" R | [key -3] Eb5:w`, options: plain(parts.Written),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
		},
		{
			name: "one of two players", why: "the words are for the second alone: the staff they share stays, and that is said",
			part: "Flutes 1 & 2", music: `[key 0] [clef G 2] C5:w | "2. nimmt Altflöte" R | C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "2. nimmt Altflöte" R | C5:w`,
			codes: []string{"change-of-one-player"},
		},
		{
			name: "a plan over a change", why: "who plays what is the plan's to say; the change that it leaves out is reported",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "muta in A" R | C5:w`, options: planned("clarinet-bflat"),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | D5:w`,
			codes: []string{"plan-over-change"},
		},
		{
			name: "a score that contradicts itself", why: "the transposition is followed, the name reported",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | "muta in A" R | [key -1] [transpose 2 3] C5:w`, options: plain(parts.Auto),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -1 transpose 2 3] "Clarinet in A" C5:w`,
			codes: []string{"change-contradicted"},
		},
		{
			name: "no time to change", why: "a quarter note at 60 is one second (pimentel: under five is risky)",
			part: "Flute", music: `[key 0] <tempo 60> C5:w | "to Alto Flute" C5:hd r:q | C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "to Alto Flute" C5:hd r:q | [key -1 transpose -3 -5] "Alto Flute in G" F5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "a cue's name", why: "another family's name alone is asked about; a name alone of the same family is a change, with a warning",
			part: "Flute", music: `[key 0] C5:w | "Oboe" R | "Alto Flute" C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "Oboe" R | [key -1 transpose -3 -5] "Alto Flute" F5:w`,
			codes: []string{"change-or-cue", "assumed-change"},
		},
		{
			name: "a transposition alone, twice", why: "the instrument of the kind that sounds so is named where it begins, after the rest (72c of the test suite)",
			part: "Clarinet in Eb", music: `[key 1] [clef G 2] [transpose 2 3] C4:w | R | [key 0] [transpose -1 -2] C4:w | R | [key -5] [transpose -2 -3] r:h Db4:h`, options: plain(parts.Auto),
			want: `[key 1 clef G 2 transpose 2 3] C4:w | R | [key 0 transpose -1 -2] "Clarinet in B♭" C4:w | R | [key -5 transpose -2 -3] r:h "Clarinet in A" Db4:h`,
		},
		{
			name: "a transposition that nobody plays under", why: "no entry, no change of instrument",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | [transpose -2 -3] R`, options: plain(parts.Auto),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | [transpose -2 -3] R`,
			codes: []string{"unnamed-change"},
		},
		{
			name: "a transposition that no clarinet has, and one that one has", why: "the first is said, the second named",
			part: "Clarinet in Eb", music: `[key 1] [clef G 2] [transpose 2 3] C4:w | R | [key 3] [transpose 1 1] C4:w | R | [key 0] [transpose -1 -2] C4:w`, options: plain(parts.Auto),
			want:  `[key 1 clef G 2 transpose 2 3] C4:w | R | [key 3 transpose 1 1] C4:w | R | [key 0 transpose -1 -2] "Clarinet in B♭" C4:w`,
			codes: []string{"unnamed-change"},
		},
		{
			name: "a transposition alone, on two staves", why: "each staff has its own: whose instrument it is cannot be told",
			part: "Clarinet in Eb", music: `[key 1] [clef G 2] [transpose 2 3] C4:w // C4:w | R // R | [key 0] [transpose -1 -2] C4:w // C4:w`, options: plain(parts.Auto),
			want:  `[key 1 clef G 2 transpose 2 3] C4:w / C4:w | R / R | [key 0 transpose -1 -2] C4:w / C4:w`,
			codes: []string{"unnamed-change"},
		},
		{
			name: "another instrument's name at the entry", why: "it does not name the one that is taken",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb", "Clarinet in A"},
			music: `[key 0] C5:w#1 | R | "Oboe" C5:w#2`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w#1 | R | [key -3 transpose -2 -3] "Clarinet in A" "Oboe" Eb5:w#2`,
			codes: []string{"change-or-cue"},
		},
		{
			name: "words and transposition", why: "the words name what the transposition says: one change",
			part: "Clarinet in Bb", music: `[key 2] [clef G 2] [transpose -1 -2] D5:w | "muta in A" R | [key -3] [transpose -2 -3] Eb5:w | R | [key 2] [transpose -1 -2] D5:w`, options: plain(parts.Auto),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | R | [key 2 transpose -1 -2] "Clarinet in B♭" D5:w`,
		},
		{
			name: "another instrument's player", why: "what tells the score's player to change means nothing to him: left out and said; a name alone may be a cue's and stays",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "dolce" "muta in A" R | !p C5:w | "muta in A" R | C5:w | "in B♭" R | "Oboe" C5:w`, options: planned("flute"),
			want:  `[key 0 clef G 2] C5:w | "dolce" R | !p C5:w | R | C5:w | R | "Oboe" C5:w`,
			codes: []string{"foreign-technique", "foreign-technique", "foreign-technique", "plan-over-change"},
		},
		{
			name: "asked once", why: "the same name alone again is not asked about again",
			part: "Flute", music: `[key 0] [clef G 2] C5:w | "Oboe" R | "Oboe" C5:w | "Bassoon" C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "Oboe" R | "Oboe" C5:w | "Bassoon" C5:w`,
			codes: []string{"change-or-cue", "change-or-cue"},
		},
		{
			name: "a sound of the same kind", why: "the id names no key: the words beside it do not count for less",
			part: "Clarinet in Bb", music: `[key 0] C5:w | <direction><direction-type><words>muta in A</words></direction-type><sound><instrument-change id="I1"><instrument-sound>wind.reed.clarinet</instrument-sound></instrument-change></sound></direction> R | C5:w | R | <change wind.reed.clarinet> C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | R | Eb5:w`,
		},
		{
			name: "a sound of the same kind in another key", why: "the id names the key (MusicXML 4.0, sound ID wind.reed.clarinet.a)",
			part: "Clarinet in Bb", music: `[key 0] C5:w | R | <change wind.reed.clarinet.a> C5:w | R | <change wind.reed.clarinet> C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | R | Eb5:w`,
		},
		{
			name: "a sound in the bar itself", why: "<sound> may stand without a direction (MusicXML 4.0, sound)",
			part: "Clarinet in Bb", music: `[key -3] Bb4:w | <sound><instrument-change id="I1"><instrument-sound>wind.reed.saxophone.alto</instrument-sound></instrument-change></sound> Eb4:w`, instruments: []string{"Clarinet in Bb"}, options: plain(parts.Concert),
			want:  `[key -1 clef G 2 transpose -1 -2] C5:w | [key 0 transpose -5 -9] "Alto Saxophone" C5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "a sound that nobody knows", why: "nothing is changed",
			part: "Clarinet in Bb", music: `[key 0] C5:w | R | <change wind.nothing> C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | R | D5:w`,
		},
		{
			name: "words at the last bar line", why: "nobody plays after them",
			part: "Clarinet in Bb", music: `[key 0] C5:w | C5:w "muta in A"`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | D5:w "muta in A"`,
		},
		{
			name: "two in one rest", why: "the second takes the place of the first before anybody plays",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "muta in A" R | "muta in B♭" R | C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in A" R | "muta in B♭" R | D5:w`,
		},
		{
			name: "no time, and none until the next words", why: "words inside a phrase that has no rest before the next change: at once",
			part: "Clarinet in Bb", music: `[key 0] C5:w | C5:h "in A" C5:h | C5:w | R | "in B♭" C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | D5:h [key -3 transpose -2 -3] "in A" Eb5:h | Eb5:w | R | [key 2 transpose -1 -2] "in B♭" D5:w`, codes: []string{"hasty-change"},
		},
		{
			name: "the tempo that is said last", why: "a bar at 60 is four seconds, at 40 six (pimentel: under five is risky)",
			part: "Flute", music: `[key 0] <tempo 90> C5:w | <tempo 60> "to Alto Flute" R | C5:w | <tempo 40> "to Flute" R | C5:w | <tempo 0> R | C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w | "to Flute" R | [key 0 transpose 0 0] "Flute" C5:w | R | C5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "said again", why: "to another instrument's player the second 'in A' means as little as the first, and the second 'to Bass Clarinet'",
			part: "Clarinet in Bb", music: `[key 0] C5:w | "muta in A" R | C5:w | "in A" R | "to Bass Clarinet" R | "to Bass Clarinet" R | C5:w`, options: planned("flute"),
			want:  `[key 0 clef G 2] C5:w | R | C5:w | R | R | R | C5:w`,
			codes: []string{"foreign-technique", "foreign-technique", "foreign-technique", "foreign-technique", "plan-over-change"},
		},
		{
			name: "other words in the same direction", why: "neither what is no change nor a name that is asked about hides the change beside it",
			part: "Clarinet in Bb", music: `[key 0] C5:w | <direction><direction-type><words>dolce</words><words>Oboe</words></direction-type><direction-type><words>muta in A</words></direction-type></direction> R | C5:w`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "dolce" "Oboe" "muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w`,
			codes: []string{"change-or-cue"},
		},
		{
			name: "other words in the same direction, to another instrument's player", why: "what is no change, and a name that may be a cue's, stay; the change goes",
			part: "Clarinet in Bb", music: `[key 0] C5:w | <direction><direction-type><words>dolce</words><words>Oboe</words></direction-type><direction-type><words>muta in A</words></direction-type></direction> R | C5:w`, options: planned("flute"),
			want:  `[key 0 clef G 2] C5:w | "dolce" "Oboe" R | C5:w`,
			codes: []string{"foreign-technique", "plan-over-change"},
		},
		{
			name: "in the order of time", why: "what stands earlier in the bar comes first, in whatever voice: there and back before the entry",
			part: "Clarinet in Bb", music: `[key 0] C5:w | x:h "muta in B♭" x:h / "muta in A" _:w | C5:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | "muta in B♭"@48 "muta in A" R | D5:w`,
		},
		{
			name: "written after the last note", why: "at its time all the same",
			part: "Clarinet in Bb", music: `[key 0] C5:w | R | C5:w / "muta in A" _:w`, options: plain(parts.Concert),
			want: `[key 2 clef G 2 transpose -1 -2] D5:w | R | [key -3 transpose -2 -3] Eb5:w / "muta in A" _96`,
		},
		{
			name: "a cue beside the name", why: "that a name stands at cue notes, here or in the next bar, needs no question; two bars on it is asked",
			part: "Flute", music: `[key 0] [clef G 2] C5:w | "Oboe" R | <note><cue/><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type></note> | "Bassoon" R | R | <note><cue/><pitch><step>C</step><octave>5</octave></pitch><duration>96</duration><voice>1</voice><type>whole</type></note>`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "Oboe" R | c!C5:w | "Bassoon" R | R | c!C5:w`,
			codes: []string{"change-or-cue"},
		},
		{
			name: "tempo of a direction, and one that comes later", why: "a bar at 40 is six seconds, in time; the 90 after the entry does not count, nor what is no tempo",
			part: "Flute", music: `[key 0] <direction><direction-type><words>Adagio</words></direction-type><sound tempo="40"/></direction> C5:w | <direction><direction-type><words>x</words></direction-type><sound tempo="-1"/></direction> "to Alto Flute" R | C5:h <tempo 90> C5:h`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] "Adagio" C5:w | "x" "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:h F5:h`,
		},
		{
			name: "tempo at the entry itself", why: "a bar at 60, which begins with the entry, is four seconds",
			part: "Flute", music: `[key 0] <tempo 40> C5:w | "to Alto Flute" R | <tempo 60> C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "a metronome mark alone", why: "a bar at 40 half notes a minute is three seconds",
			part: "Flute", music: `[key 0] <direction><direction-type><metronome><beat-unit>half</beat-unit><per-minute>40</per-minute></metronome></direction-type></direction> C5:w | "to Alto Flute" R | C5:w`, options: plain(parts.Concert),
			want:  `[key 0 clef G 2] C5:w | "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w`,
			codes: []string{"hasty-change"},
		},
		{
			name: "five seconds", why: "just time enough (pimentel: under five is risky)",
			part: "Flute", music: `[key 0] <tempo 48> C5:w | "to Alto Flute" R | C5:w`, options: plain(parts.Concert),
			want: `[key 0 clef G 2] C5:w | "to Alto Flute" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w`,
		},
		{
			name: "a change before the first note", why: "there is all the time in the world, and no tempo",
			part: "Flute", music: `[key 0] "to Alto Flute" C5:w`, options: plain(parts.Concert),
			want: `[key -1 clef G 2 transpose -3 -5] "to Alto Flute" F5:w`,
		},
		{
			name: "words for both players, and for others", why: "both change: the staff does; words for the fourth are not for them",
			part: "Clarinets in Bb 1 & 2", music: `[key 0] C5:w | "1. 2. muta in A" R | C5:w | "4. muta in B♭" R | C5:w`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w | "1. 2. muta in A" R | [key -3 transpose -2 -3] "Clarinet in A" Eb5:w | "4. muta in B♭" R | Eb5:w`,
			codes: []string{"change-of-one-player", "text-names-pitch"},
		},
		{
			name: "ids say more exactly than words", why: "the words' entry would be after the rest; the note's id says that it is on the other instrument at once",
			part: "Clarinet in Bb", instruments: []string{"Clarinet in Bb", "Clarinet in A"},
			music: `[key 0] C5:w#1 | "muta in A" C5:h#2 r:h | C5:w#2`, options: plain(parts.Concert),
			want:  `[key 2 clef G 2 transpose -1 -2] D5:w#1 | [key -3 transpose -2 -3] "muta in A" Eb5:h#2 r:h | Eb5:w#2`,
			codes: []string{"hasty-change"},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			sheets := sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: c.part, Instruments: c.instruments, Music: c.music}), c.options)
			require.Len(t, sheets, 1)
			assert.Equal(t, c.want, shorthand.ReadAll(partOf(sheets[0])), c.why)
			assert.Equal(t, c.codes, codesOf(sheets[0]))
		})
	}
}

// Words for one of two players change the part of that one, where the staff is divided among them.
func TestChangeOfOnePlayersPart(t *testing.T) {
	t.Parallel()
	o := plain(parts.Concert)
	o.Players = true
	sheets := sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: "Flutes 1 & 2", Music: `[key 0] "a 2" C5:w | "2. nimmt Altflöte" R | "a 2" C5:w`}), o)
	require.Len(t, sheets, 2)
	assert.Equal(t, `[key 0] C5:w | R | C5:w`, shorthand.ReadAll(partOf(sheets[0])), "the first plays the flute")
	assert.Equal(t, `[key 0 clef G 2] C5:w | "nimmt Altflöte" R | [key -1 transpose -3 -5] "Alto Flute in G" F5:w`, shorthand.ReadAll(partOf(sheets[1])), "a fourth higher, one flat")
	assert.Empty(t, codesOf(sheets[0]))
	assert.Empty(t, codesOf(sheets[1]))
	sheets = sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: "Flutes 1 & 2", Music: `[key 0] "a 2" C5:w | "nimmt Altflöte 2" R | "a 2" C5:w`}), o)
	assert.Equal(t, `[key 0] C5:w | "nimmt Altflöte 2" R | C5:w`, shorthand.ReadAll(partOf(sheets[0])))
	assert.Contains(t, shorthand.ReadAll(partOf(sheets[1])), `[key -1 transpose -3 -5]`, "the number behind the name is the player's too")
}

// What is said of a change, with its place.
func TestWhatIsSaidOfChanges(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		part, music string
		options     parts.Options
		want        []string
	}{
		{"Flute", `<tempo 60> C5:w | r:h "to Alto Flute" r:h | r:q C5:hd`, plain(parts.Concert), nil},
		{"Flute", `<tempo 70> C5:w | C5:h "to Alto Flute" r:h | r:q C5:hd`, plain(parts.Concert), []string{"3:2 the player has 3 seconds to change to Alto Flute in G; under 5 are risky"}},
		{"Flute", `<direction><direction-type><words>x</words></direction-type><sound tempo="60"/></direction> C5:w | "to Alto Flute" R | C5:w`, plain(parts.Concert), []string{"3:1 the player has 4 seconds to change to Alto Flute in G; under 5 are risky"}},
		{"Flute", `<tempo 48.5> C5:w | "to Alto Flute" R | C5:w`, plain(parts.Concert), []string{"3:1 the player has 4 seconds to change to Alto Flute in G; under 5 are risky"}},
		{"Flute", `C5:h "Alto Flute" r:h | r:h C5:h`, plain(parts.Concert), []string{`2:3 a name stands alone over the staff; the player is taken to change to Alto Flute in G here`}},
		{"Clarinet in Bb", `C5:h "to Bass Clarinet" r:h | r:h C5:h`, plain(parts.Concert), nil},
		{"Flute", `C5:h "Oboe" r:h | r:h C5:h`, plain(parts.Concert), []string{`1:3 "Oboe" stands alone over the staff; it was not taken for a change to Oboe`}},
		{"Flutes 1 & 2", `C5:h "2. nimmt Altflöte" r:h | r:h C5:h`, plain(parts.Concert), []string{`1:3 one of the players of this staff changes to Alto Flute in G; the staff stays as it is`}},
		{"Clarinet in Bb", `C5:h "muta in A" r:h | r:h C5:h`, planned("clarinet-bflat"), []string{"2:3 the score changes to Clarinet in A here; the plan gives the whole part to Clarinet in B♭, so it is written for that throughout"}},
		{"Clarinet in Bb", `C5:h "muta in A" r:h | R`, planned("flute"), []string{`1:3 left out "muta in A", which is for the player of the score's instrument`}},
	} {
		var got []string
		for _, w := range sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: row.part, Music: row.music}), row.options)[0].Report.Warnings {
			got = append(got, w.Measure+":"+w.Beat+" "+w.Text)
		}
		assert.Equal(t, row.want, got, row.music)
	}
	for music, want := range map[string]bool{`C5:w | "to Alto Flute" R | C5:w`: true, `C5:w | "to Alto Flute" R`: false, `C5:w`: false, `C5:w | "Oboe" R | C5:w`: false} {
		made := sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: "Flute", Music: music}), plain(parts.Concert))[0]
		assert.Equal(t, want, made.Report.ChangesInstrument, music)
	}
}

// TestSuiteTransposingInstruments takes 72a to 72d of the test suite, whose parts
// are in written pitch and say so: what the player reads is what stands there.
// Sounding pitches are worked by hand from each <transpose>.
func TestSuiteTransposingInstruments(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		file, why string
		parts     []string
	}{
		{"72a-TransposingInstruments.xml", "all three play the C major scale: trumpet in B flat from D in two sharps, horn in E flat from A in three, piano from C",
			[]string{
				`[key 2 clef G 2 transpose -1 -2] D4:q E4:q F#4:q G4:q | A4:q B4:q C#5:q D5:q`,
				`[key 3 clef G 2 transpose -5 -9] A4:q B4:q C#5:q D5:q | E5:q F#5:q G#5:q A5:q`,
				`[key 0 clef G 2] C4:q D4:q E4:q F4:q | G4:q A4:q B4:q C5:q`,
			}},
		{"72c-TransposingInstruments-Change.xml", "a clarinet in E flat, from bar 2 in B flat: written C sounds E flat, then B flat; the signature changes with it, the clef does not",
			[]string{`[key 1 clef G 2 transpose 2 3] C4:w | [key 0 transpose -1 -2] "Clarinet in B♭" C4:w | C4:w`}},
	} {
		t.Run(c.file, func(t *testing.T) {
			t.Parallel()
			score, err := musicxml.ReadFile(musicxmltest.SharedFiles(t, "testsuite/xmlFiles/"+c.file)[0], musicxml.ReadOptions{})
			require.NoError(t, err)
			sheets := makeSheets(t, score, plain(parts.Auto))
			require.Len(t, sheets, len(c.parts))
			for i, want := range c.parts {
				assert.Equal(t, want, shorthand.ReadAll(partOf(sheets[i])), c.why)
			}
		})
	}
}

// TestSuiteScorePitch takes 72b and 72d, where every part but one sounds the C in
// the middle of the treble staff: E flat clarinet A4, B flat D5, A E flat 5, horn in
// F G5, in E flat A5, piccolo trumpet in A E flat 4, trumpet in B flat D5, in C C5,
// in D B flat 4. The tenth is the file's own riddle: written F sharp 1, sounding an
// augmented fourth and three octaves higher, is B sharp 4.
func TestSuiteScorePitch(t *testing.T) {
	t.Parallel()
	want := []string{
		`[key 4 clef G 2 transpose 2 3] A4:w`, `[key 3 clef G 2 transpose -1 -2] D5:w`, `[key -2 clef G 2 transpose -2 -3] Eb5:w`,
		`[key 2 clef G 2 transpose -4 -7] G5:w`, `[key 4 clef G 2 transpose -5 -9] A5:w`, `[key -2 clef G 2 transpose 5 9] Eb4:w`,
		`[key 3 clef G 2 transpose -1 -2] D5:w`, `[key 1 clef G 2] C5:w`, `[key -1 clef G 2 transpose 1 2] Bb4:w`,
		`[key 7 clef F 4 -1 transpose 3 6 3] F#1:w`, `[key 1 clef G 2] C5:w`,
	}
	for _, file := range musicxmltest.SharedFiles(t, "testsuite/xmlFiles/72b*", "testsuite/xmlFiles/72d*") {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		sheets := makeSheets(t, score, plain(parts.Auto))
		require.Len(t, sheets, len(want))
		for i := range want {
			assert.Equal(t, want[i], shorthand.ReadAll(partOf(sheets[i])), file)
		}
	}
}
