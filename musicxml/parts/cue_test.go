package parts_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/partstest"
	"deskpart/musicxml/reading"
)

// The cues are worked by hand: what the leading part sounds in the last two bars
// before the entry, a major second higher for the clarinet in B flat, a fifth
// higher for the horn in F, in the octave that lies on the treble staff.
func TestCues(t *testing.T) {
	t.Parallel()
	melody := `[key 0] C5:q D5:q E5:q F5:q | G5:h E5:h | F5:e{ E5:e- D5:e- C5:e} B4:h | C5:w`
	for _, c := range []struct {
		name, why string
		cues      int
		score     []shorthand.Entry
		part      int
		want      string
	}{
		{
			name: "clarinet after three bars", why: "two bars before the entry, in the player's own pitch, labelled, the rests kept; none in the bar of the entry (w-cue, cueguides)",
			cues:  3,
			score: []shorthand.Entry{{Name: "Flute", Music: melody}, {Name: "Clarinet in Bb", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R / "Flute" c!A5:h c!F#5:h | R / c!G5:e{ c!F#5:e- c!E5:e- c!D5:e} c!C#5:h | D5:w`,
		},
		{
			name: "too short a rest", why: "the rest is shorter than was asked",
			cues:  4,
			score: []shorthand.Entry{{Name: "Flute", Music: melody}, {Name: "Clarinet in Bb", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R | D5:w`,
		},
		{
			name: "the line that moves leads", why: "not the higher part that holds one note",
			cues: 2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] C6:w | C6:w~ | C6:w^ | C6:w`}, {Name: "Oboe", Music: melody},
				{Name: "Horn in F", Music: `[key 0] R | R | R | C4:w`}}, part: 2,
			want: `R | R / "Oboe (8va)" c!D5:h c!B4:h | R / c!C5:e{ c!B4:e- c!A4:e- c!G4:e} c!F#4:h | G4:w`,
		},
		{
			name: "only the last bar", why: "the part that leads there rests in the bar before",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:q D5:q E5:q F5:q | G5:w`}, {Name: "Clarinet in Bb", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R / "Flute" c!D5:q c!E5:q c!F#5:q c!G5:q | D5:w`,
		},
		{
			name: "nobody leads", why: "everybody rests",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | R | G5:w`}, {Name: "Clarinet in Bb", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R | D5:w`,
		},
		{
			name: "bass clef", why: "the octave is the one that sits on the player's staff; the sign is printed afresh in the player's key",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | F#5:q G5:q A5:q B5:q | C6:w`}, {Name: "Bassoon", Music: `[key 0] R | R | R | C3:w`}}, part: 1,
			want: `R | R | R / "Flute (15ma)" c!F#3:q c!G3:q c!A3:q c!B3:q | C3:w`,
		},
		{
			name: "chords and ties", why: "the upper note; a tie is a curve without sound (MusicXML 4.0, cue: no tie)",
			cues:  2,
			score: []shorthand.Entry{{Name: "Violin 1", Music: `[key 0] R | R | C5+E5:h~ C5+E5:h^ | C5:w`}, {Name: "Flute", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R / "Violin 1" c!E5:h c!E5:h | C5:w`,
		},
		{
			name: "not one note again and again", why: "a prominent line moves (wmgso)",
			cues: 2,
			score: []shorthand.Entry{{Name: "Clarinet in C", Music: `[key 0] R | R | G4:e G4:e G4:e G4:e G4:e G4:e G4:e G4:e | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | B4:h D5:h | C5:w`},
				{Name: "Flute", Music: `[key 0] R | R | R | C5:w`}}, part: 2,
			want: `R | R | R / "Oboe" c!B4:h c!D5:h | C5:w`,
		},
		{
			name: "of two that move the busier", why: "more of it is heard; they lie equally high",
			cues: 2,
			score: []shorthand.Entry{{Name: "Clarinet in C", Music: `[key 0] R | R | B4:h C5:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | B4:q C5:q B4:q C5:q | C5:w`},
				{Name: "Flute", Music: `[key 0] R | R | R | C5:w`}}, part: 2,
			want: `R | R | R / "Oboe" c!B4:q c!C5:q c!B4:q c!C5:q | C5:w`,
		},
		{
			name: "of two that move alike the upper", why: "the upper line is heard (common practice, no source)",
			cues: 2,
			score: []shorthand.Entry{{Name: "Clarinet in C", Music: `[key 0] R | R | E4:h F4:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | C5:h D5:h | C5:w`},
				{Name: "Flute", Music: `[key 0] R | R | R | G4:w`}}, part: 2,
			want: `R | R | R / "Oboe" c!C5:h c!D5:h | G4:w`,
		},
		{
			name: "near the entry", why: "sixty semitones above it a line is no help, though it is the highest",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C7:h D7:h | C6:w`}, {Name: "Bassoon", Music: `[key 0] R | R | bass C3:h D3:h | C3:w`}, {Name: "Tuba", Music: `[key 0] R | R | R | bass C2:w`}}, part: 2,
			want: `R | R | R / "Bassoon" c!C3:h c!D3:h | C2:w`,
		},
		{
			name: "rests are not added up", why: "a bar of music ends the rest",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] C5:h D5:h | C5:w | C5:h D5:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | C5:w | R | C5:w`}}, part: 1,
			want: `R | C5:w | R | C5:w`,
		},
		{
			name: "one bar", why: "as asked",
			cues:  1,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] C5:h D5:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | C5:w`}}, part: 1,
			want: `R / "Flute" c!C5:h c!D5:h | C5:w`,
		},
		{
			name: "a triplet and what rests in it", why: "the bracket is over what the player hears of it",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:qt[ D5:qt r:qt] E5:qt[ F5:qt G5:qt] | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R / "Flute" c!C5:qt[ c!D5:qt] _16 c!E5:qt[ c!F5:qt c!G5:qt] | C5:w`,
		},
		{
			name: "three octaves down", why: "C6 lies in the bassoon's staff as C3",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C6:h D6:h | C6:w`}, {Name: "Bassoon", Music: `[key 0] R | R | R | bass C3:w`}}, part: 1,
			want: `R | R | R / "Flute (22ma)" c!C3:h c!D3:h | C3:w`,
		},
		{
			name: "three octaves up", why: "C2 lies in the flute's staff as C5",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | R | C5:w`}, {Name: "Tuba", Music: `[key 0] R | R | bass C2:h D2:h | C2:w`}}, part: 0,
			want: `R | R | R / "Tuba (22ma bassa)" c!C5:h c!D5:h | C5:w`,
		},
		{
			name: "a tie from nowhere", why: "at the head of the piece nothing comes before it",
			cues:  1,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] C5:h^ D5:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | C5:w`}}, part: 1,
			want: `R / "Flute" c!C5:h c!D5:h | C5:w`,
		},
		{
			name: "a player of two staves", why: "reads the other parts' music too seldom to be cued (common practice, no source)",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:h D5:h | C5:w`}, {Name: "Piano", Music: `[key 0] R // R | R // R | R // R | C5:w // C3:w`}}, part: 1,
			want: `R / R | R / R | R / R | C5:w / C3:w`,
		},
		{
			name: "an entry without pitch", why: "nothing is near it: the upper line leads",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C7:h D7:h | C6:w`}, {Name: "Bassoon", Music: `[key 0] R | R | bass C3:h D3:h | C3:w`}, {Name: "Oboe", Music: `[key 0] R | R | R | u!E4:w`}}, part: 2,
			want: `R | R | R / "Flute (15ma)" c!C5:h c!D5:h | :w`,
		},
		{
			name: "gaps", why: "time goes on where the other rests",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | r:q C5:q r:e D5:q r:e | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | R | C5:w`}}, part: 1,
			want: `R | R | R / _24 "Flute" c!C5:q _12 c!D5:q _12 | C5:w`,
		},
		{
			name: "an octave up, and two", why: "the bass is shown where the flute reads, and where it sounds is said",
			cues:  2,
			score: []shorthand.Entry{{Name: "Bassoon", Music: `[key 0] R | R | C3:h D3:h | C3:w | R | R | C4:h A3:h | C4:w`}, {Name: "Flute", Music: `[key 0] R | R | R | C5:w | R | R | R | C5:w`}}, part: 1,
			want: `R | R | R / "Bassoon (15ma bassa)" c!C5:h c!D5:h | C5:w | R | R | R / "Bassoon (8va bassa)" c!C5:h c!A4:h | C5:w`,
		},
		{
			name: "cue notes of the score's own", why: "what the composer put there is enough",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:h D5:h | C5:w`}, {Name: "Oboe", Music: `[key 0] R | R | R | <note><cue/><pitch><step>C</step><octave>5</octave></pitch><duration>48</duration><voice>1</voice><type>half</type></note> C5:h`}}, part: 1,
			want: `R | R | R | c!C5:h C5:h`,
		},
		{
			name: "strokes", why: "who plays no pitches gets no cue notes",
			cues:  2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:h D5:h | C5:w`}, {Name: "Triangle", Music: `R | R | R | u!E4:w`}}, part: 1,
			want: `R | R | R | :w`,
		},
		{
			name: "an instrument that nobody knows", why: "the clef in force is that of its bar before, after the first note",
			cues: 2,
			score: []shorthand.Entry{{Name: "Flute", Music: `[key 0] R | R | C5:h D5:h | C5:w`},
				{Name: "Quayphone", Music: `[key 0] bass C3:h treble C5:h | R | R | C5:w`}}, part: 1,
			want: `C3:h C5:h | R | R / "Flute" c!C5:h c!D5:h | C5:w`,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			o := plain(parts.Concert)
			o.Cues = c.cues
			sheets := sheetsFrom(t, shorthand.Score(t, c.score...), o)
			assert.Equal(t, c.want, shorthand.Read(partOf(sheets[c.part])), c.why)
			for _, gap := range partOf(sheets[c.part]).FindElements("//forward") {
				assert.Equal(t, "2", musicxml.ChildText(gap, "voice"), "a gap is the cue's")
			}
		})
	}
}

// TestCuesOfThoseWhoPlay: under a plan a cue names who plays in the room, and is of nobody
// who does not play.
func TestCuesOfThoseWhoPlay(t *testing.T) {
	t.Parallel()
	tune := `[key 0] C5:q D5:q E5:q F5:q | G5:h E5:h | C5:w`
	score := []shorthand.Entry{{Name: "Violin", Music: tune}, {Name: "Bassoon", Music: `[key 0] C3:h D3:h | E3:h F3:h | C3:w`}, {Name: "Oboe", Music: `[key 0] R | R | C5:w`}}
	for _, row := range []struct {
		name, want string
		plan       []parts.PlanRow
	}{
		{"as the score has it", "Violin", []parts.PlanRow{{Part: "Violin", Label: "Anna's part"}}},
		{"given to another", "Flute", []parts.PlanRow{{Part: "Violin", Instrument: "flute"}}},
		{"given to two, the first is heard", "Clarinet 3", []parts.PlanRow{{Part: "Violin", Instrument: "clarinet-bflat", Label: "Clarinet 3"}, {Part: "Violin", Instrument: "flute"}}},
		{"left out, the next line is heard", "Bassoon (15ma bassa)", []parts.PlanRow{{Part: "Violin", Instrument: "none"}}},
	} {
		o := plain(parts.Concert)
		o.Cues, o.Plan = 2, row.plan
		sheets := sheetsFrom(t, shorthand.Score(t, score...), o)
		words := partOf(sheets[len(sheets)-1]).FindElements(".//words")
		require.Len(t, words, 1, row.name)
		assert.Equal(t, row.want, words[0].Text(), row.name)
	}
}

// What is drawn from note to note of a cue: ties over the barline as curves, of a tuplet in a
// tuplet both brackets (MusicXML 4.0, tuplet: number tells them apart).
func TestLinesOfCues(t *testing.T) {
	t.Parallel()
	const inner, outer = `<tuplet·type="start"·number="2"/>`, `<tuplet·type="start"·number="1"/>`
	o := plain(parts.Concert)
	o.Cues = 2
	for _, row := range []struct {
		why, music, path string
		want             []string // of each cue note, the ends
	}{
		{"a tie over the barline", `[key 0] R | R | D5:h C5:h~ | C5:h^ D5:h | C5:w`, "notations/tied", []string{"", "start", "stop", ""}},
		{"and none to what the cue does not begin with", `[key 0] R | C5:w~ | C5:h^ D5:h | E5:w | C5:w`, "notations/tied", []string{"", "", ""}},
		{"a tuplet that ends at each note of a chord", `[key 0] R | R | R | C5:qt«` + outer + `» D5:qt E5:qt«<tuplet·type="stop"·number="1"/>» +G5:qt«<tuplet·type="stop"·number="1"/>» F5:h | C5:w`, "notations/tuplet", []string{"start1", "", "stop1", ""}},
		{"a tuplet in a tuplet", `[key 0] R | R | R | C5:qt«` + outer + `» D5:qt«` + inner + `» E5:qt«<tuplet·type="stop"·number="2"/><tuplet·type="stop"·number="1"/>» F5:h | C5:w`, "notations/tuplet", []string{"start1", "start2", "stop2 stop1", ""}},
	} {
		var got []string
		for _, note := range partOf(sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: "Flute", Music: row.music}, shorthand.Entry{Name: "Oboe", Music: `[key 0] R | R | R | R | C5:w`}), o)[1]).FindElements("measure/note[cue]") {
			var ends []string
			for _, e := range note.FindElements(row.path) {
				ends = append(ends, musicxml.Attr(e, "type")+musicxml.Attr(e, "number"))
			}
			got = append(got, strings.Join(ends, " "))
		}
		assert.Equal(t, row.want, got, row.why)
	}
}

// TestCuesBreakRests: a cue breaks a multi-bar rest (notation-rules, 10).
func TestCuesBreakRests(t *testing.T) {
	t.Parallel()
	o := parts.DefaultOptions()
	o.Cues = 4
	sheets := sheetsFrom(t, shorthand.Score(t,
		shorthand.Entry{Name: "Flute", Music: `[key 0] C5:w | D5:w | E5:w | F5:h E5:h | D5:h C5:h | C5:w`},
		shorthand.Entry{Name: "Oboe", Music: `[key 0] R | R | R | R | R | C5:w`}), o)
	counts := partOf(sheets[1]).FindElements(".//multiple-rest")
	require.Len(t, counts, 1)
	assert.Equal(t, "3", counts[0].Text(), "bars 1 to 3; 4 and 5 have the cue")
}

// TestCuesOfSharedScores: in the shared scores every cue stands in a bar of rest
// before an entry, is silent, and sounds what another part sounds there, octaves
// aside; the player's own notes are the same with cues and without.
func TestCuesOfSharedScores(t *testing.T) {
	t.Parallel()
	cues := 0
	for _, file := range musicxmltest.SharedSample(t, []string{"scores/concert/Brahms_Op.90_3.concert.mxl", "scores/concert/Brahms_Op.45_1.concert.mxl"},
		[]string{"scores/concert/*.mxl", "scores/quartets/sq7093885.mxl"}) {
		score, err := musicxml.ReadFile(file, musicxml.ReadOptions{})
		require.NoError(t, err)
		o := parts.DefaultOptions()
		without := makeSheets(t, score, o)
		o.Cues = 6
		sounds := soundsOf(t, score)
		for i, sheet := range makeSheets(t, score, o) {
			assert.Equal(t, without[i].Report.Notes, sheet.Report.Notes)
			cues += checkCues(t, sheet, sounds)
		}
	}
	assert.Greater(t, cues, 500, "cue notes")
}

// soundsOf lists by measure and beat which pitch classes sound in a score.
func soundsOf(t *testing.T, score *musicxml.Score) map[string]bool {
	sounds := map[string]bool{}
	for _, part := range shorthand.PartsOf(t, score) {
		page, err := reading.Read(part)
		require.NoError(t, err)
		for _, s := range page.Sounding() {
			if !s.Cue {
				sounds[class(s)] = true
			}
		}
	}
	return sounds
}

// class names a sound without its octave.
func class(s reading.Sound) string {
	return fmt.Sprint(s.Measure, " ", s.Beat, " ", s.Pitch.Step, s.Pitch.Alter)
}

// checkCues counts and checks the cue notes of a sheet.
func checkCues(t *testing.T, sheet *parts.Part, sounds map[string]bool) int {
	page, err := reading.Read(partOf(sheet))
	require.NoError(t, err)
	n, busy := 0, map[string]bool{}
	for _, s := range page.Sounding() {
		if !s.Cue {
			busy[s.Measure] = true
		}
	}
	for _, s := range page.Sounding() {
		if s.Cue {
			n++
			assert.True(t, sounds[class(s)], "cue %s is in no part", class(s))
			assert.False(t, busy[s.Measure], "a cue in measure %s, where the player plays", s.Measure)
		}
	}
	for _, e := range partOf(sheet).FindElements(".//note[cue]") {
		assert.Empty(t, e.FindElements("tie"))
		assert.Empty(t, e.FindElements("lyric"))
		for _, own := range e.Parent().FindElements("note[rest]") {
			assert.NotEqual(t, musicxml.ChildText(own, "voice"), musicxml.ChildText(e, "voice"), "a voice of its own")
		}
		assert.NotEmpty(t, musicxml.ChildText(e, "voice"))
		if kind := musicxml.Child(e, "type"); kind != nil {
			assert.Equal(t, "cue", musicxml.Attr(kind, "size"))
		}
	}
	return n
}

// TestCuesKeepOrnaments: a player recognises a line by its trills; lines with two ends and
// signs of another key are not the cue's.
func TestCuesKeepOrnaments(t *testing.T) {
	t.Parallel()
	score, err := musicxml.Read(shorthand.Score(t, shorthand.Entry{Name: "Oboe", Music: `C5:w | C5:w | D5:h E5:h | F5:w`},
		shorthand.Entry{Name: "Flute", Music: `R | R | R | C5:w`}), musicxml.ReadOptions{})
	require.NoError(t, err)
	source, err := score.ReadPart(0, nil)
	require.NoError(t, err)
	note := source.FindElement("measure[3]/note[1]")
	ornaments := note.CreateElement("notations").CreateElement("ornaments")
	kept := []string{"trill-mark", "turn", "delayed-turn", "inverted-turn", "delayed-inverted-turn", "vertical-turn",
		"inverted-vertical-turn", "shake", "mordent", "inverted-mordent", "haydn", "tremolo"}
	for _, tag := range append([]string{"wavy-line", "accidental-mark", "schleifer", "other-ornament"}, kept...) {
		ornaments.CreateElement(tag)
	}
	ornaments.CreateElement("tremolo").CreateAttr("type", "start") // it has another end
	ornaments.CreateElement("tremolo").CreateAttr("type", "single")
	flute, err := score.ReadPart(1, nil)
	require.NoError(t, err)
	doc := score.NewDocument()
	doc.Root().AddChild(source)
	doc.Root().AddChild(flute)
	again, err := musicxml.Read(musicxml.Append(nil, doc, musicxml.NoteALine), musicxml.ReadOptions{})
	require.NoError(t, err)
	o := plain(parts.Concert)
	o.Cues = 2
	job := partstest.Job(t, again, o)
	sheet, err := job.Make(1)
	require.NoError(t, err)
	cued := sheet.Document.FindElement("score-partwise/part/measure[3]/note[cue]/notations/ornaments")
	require.NotNil(t, cued)
	var got []string
	for _, e := range cued.ChildElements() {
		got = append(got, e.Tag)
	}
	assert.Equal(t, append(kept, "tremolo"), got)
}

// TestRestsUnderCues: the player's own rest stands on a line three places or more below the
// cue's lowest note and below the middle line, as a lower voice's does. By hand: the
// clarinet's cue stays above the middle line, so the bottom line, E4; the bassoon's goes
// down to C3 first, in the second space: G2, the bottom line, is the next line that is far
// enough; then to B2 on the second line: E2, on a ledger line.
func TestRestsUnderCues(t *testing.T) {
	t.Parallel()
	melody := `[key 0] C5:q D5:q E5:q F5:q | G5:h E5:h | F5:e{ E5:e- D5:e- C5:e} B4:h | C5:w`
	for _, row := range []struct {
		player, music string
		want          []string
	}{
		{"Clarinet in Bb", `[key 0] R | R | R | C5:w`, []string{"-", "E4", "E4"}},
		{"Bassoon", `[key 0] R | R | R | C3:w`, []string{"-", "G2", "E2"}},
	} {
		o := plain(parts.Concert)
		o.Cues = 3
		sheets := sheetsFrom(t, shorthand.Score(t, shorthand.Entry{Name: "Flute", Music: melody}, shorthand.Entry{Name: row.player, Music: row.music}), o)
		var got []string
		for _, rest := range partOf(sheets[1]).FindElements("measure/note/rest") {
			got = append(got, musicxml.ChildText(rest, "display-step")+musicxml.ChildText(rest, "display-octave"))
			if got[len(got)-1] == "" {
				got[len(got)-1] = "-"
			}
		}
		assert.Equal(t, row.want, got, row.player)
	}
}
