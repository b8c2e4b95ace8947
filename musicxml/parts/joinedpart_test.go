package parts_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/apart"
	"deskpart/musicxml/parts/partstest"
)

// oboeAndHorn are two staves that one player has in turn, over a violin: four bars.
func oboeAndHorn(oboe, horn [4]string) string {
	return miniText(miniPart{"Oboe", oboe[:]}, miniPart{"English Horn", horn[:]}, miniPart{"Violin", []string{whole, whole, whole, whole}})
}

// joinedOf makes the part of the player of both, in sounding pitch as the score has it.
func joinedOf(t *testing.T, text string, change func(*parts.Options)) *parts.Part {
	t.Helper()
	o := parts.DefaultOptions()
	o.RestBars, o.Input = 0, parts.Written
	o.Plan = []parts.PlanRow{{Part: "Oboe"}, {Part: "English Horn", Player: "Oboe"}}
	if change != nil {
		change(&o)
	}
	job := partstest.Job(t, scoreFrom(t, text), o)
	require.Len(t, job.Assignments(), 2)
	made, err := job.Make(0)
	require.NoError(t, err)
	return made
}

// What one part of two staves has in each bar, in small cases; the staves of real scores
// are joined in TestPlayersOfSeveralStaves.
func TestJoinedBars(t *testing.T) {
	t.Parallel()
	cue := strings.Replace(whole, "<pitch>", "<cue/><pitch>", 1)
	for _, row := range []struct {
		name, why  string
		oboe, horn [4]string
		says       string
	}{
		{"in turn", "the change stands at the bar line before the entry", [4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, whole},
			"1 4/4\n2 \"To English Horn\"\n4 \"English Horn\""},
		{"words in a bar of rest", "what the new instrument's player is told stands there, and so its staff does from there on",
			[4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, words("con sord.") + wholeBar, whole}, "1 4/4\n2 \"To English Horn\"\n3 \"con sord.\"\n4 \"English Horn\""},
		{"the same words on both staves", "they stand once", [4]string{whole, wholeBar, words("attenti") + wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, words("attenti") + wholeBar, whole},
			"1 4/4\n2 \"To English Horn\"\n3 \"attenti\"\n4 \"English Horn\""},
		{"the other staff first", "what the player begins with is named, for the part is called by another", [4]string{wholeBar, wholeBar, wholeBar, whole}, [4]string{whole, wholeBar, wholeBar, wholeBar},
			"1 4/4 \"English Horn\"\n2 \"To Oboe\"\n4 \"Oboe\""},
		{"the other staff alone", "what the player has in hand all through is named", [4]string{wholeBar, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, whole, wholeBar, whole},
			"1 4/4 \"English Horn\""},
		{"an entry that the score names", "it is not named twice", [4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, words("english horn") + whole},
			"1 4/4\n2 \"To English Horn\"\n4 \"english horn\""},
		{"a cue in a bar of rest", "it leads to the new instrument's entry", [4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, cue, whole},
			"1 4/4\n2 \"To English Horn\"\n4 \"English Horn\""},
	} {
		made := joinedOf(t, oboeAndHorn(row.oboe, row.horn), nil)
		assert.Equal(t, row.says, roadText(made.Document), "%s: %s", row.name, row.why)
	}
}

// The entry of a joined part has the instruments and the playback of all its staves, each
// once, and the notes name those they are played on.
func TestJoinedEntry(t *testing.T) {
	t.Parallel()
	text := oboeAndHorn([4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, whole})
	for i, name := range []string{"Oboe", "English Horn"} {
		id := fmt.Sprintf("P%d-I1", i+1)
		text = strings.Replace(text, "<part-name>"+name+"</part-name>", "<part-name>"+name+"</part-name>"+
			`<score-instrument id="`+id+`"><instrument-name>`+name+`</instrument-name></score-instrument>`+
			`<player id="PL`+id+`"><player-name>Anna</player-name></player>`+
			`<midi-device id="`+id+`" port="1"/><midi-instrument id="`+id+`"><midi-program>69</midi-program></midi-instrument>`, 1)
	}
	made := joinedOf(t, text, nil)
	entry := made.Document.FindElement("//score-part")
	for _, tag := range []string{"score-instrument", "midi-device", "midi-instrument"} {
		var ids []string
		for _, e := range entry.SelectElements(tag) {
			ids = append(ids, e.SelectAttrValue("id", ""))
		}
		assert.Equal(t, []string{"P1-I1", "P2-I1"}, ids, tag)
	}
	assert.Empty(t, entry.SelectElements("player"), "who reads it is another")
	assert.Equal(t, "P1", entry.SelectAttrValue("id", ""))
	assert.Equal(t, []string{"P1-I1", "P2-I1"}, made.Report.Instruments)
	played := func(bar int) *etree.Element {
		return made.Document.FindElement(fmt.Sprintf("//measure[%d]/note/instrument", bar))
	}
	for bar, want := range map[int]string{1: "P1-I1", 4: "P2-I1"} {
		if assert.NotNil(t, played(bar), bar) {
			assert.Equal(t, want, played(bar).SelectAttrValue("id", ""), bar)
		}
	}
}

// What a player cannot do is said with the bar, the time and the instruments: under five
// seconds are little to change in (desks.LeastSeconds; pimentel); a bar of four quarters lasts
// two at 120, four at 60. Without --force what cannot be played is refused.
func TestJoinedInHaste(t *testing.T) {
	t.Parallel()
	at60 := `<direction><direction-type><words>x</words></direction-type><sound tempo="60"/></direction>`
	const back = `<barline location="right"><repeat direction="backward"/></barline>`
	const silence = `<note><rest/><duration>1</duration><voice>1</voice><type>quarter</type></note>`
	const assumed = " at an assumed tempo of 120 quarter notes a minute"
	for _, row := range []struct {
		why        string
		oboe, horn [4]string
		want       []string
		refused    string
	}{
		{"time enough", [4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, ""}, nil, ""},
		{"three bars are", [4]string{at60 + whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, whole}, nil, ""},
		{"one bar is not", [4]string{whole, wholeBar, whole, whole}, [4]string{wholeBar, wholeBar, wholeBar, wholeBar}, nil, ""},
		{"at a tempo that nobody said", [4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, whole, whole},
			[]string{"hasty-change 3:1 the player has 2 seconds" + assumed + " to change from Oboe to English Horn; under 5 seconds are risky"}, ""},
		{"at a tempo that is said", [4]string{at60 + whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, whole, whole},
			[]string{"hasty-change 3:1 the player has 4 seconds to change from Oboe to English Horn; under 5 seconds are risky"}, ""},
		{"without any rest", [4]string{whole, whole, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, whole, whole},
			[]string{"no-time-to-change 3:1 the player has no rest to change from Oboe to English Horn; under 5 seconds are risky"},
			`player "Oboe" has less than 2 seconds to change between Oboe and English Horn before bar 3; give one of them to another player, or take it with --force`},
		{"to and fro", [4]string{whole, wholeBar, whole, wholeBar}, [4]string{wholeBar, whole, wholeBar, whole},
			[]string{"no-time-to-change 2:1 the player has no rest to change from Oboe to English Horn; under 5 seconds are risky", "no-time-to-change 3:1 the player has no rest to change from English Horn to Oboe; under 5 seconds are risky",
				"no-time-to-change 4:1 the player has no rest to change from Oboe to English Horn; under 5 seconds are risky"},
			`player "Oboe" has less than 2 seconds to change between Oboe and English Horn before bars 2 to 4; give one of them to another player, or take it with --force`},
		{"where a repeat leads back", [4]string{at60 + whole, wholeBar, wholeBar, wholeBar + back}, [4]string{wholeBar, wholeBar, wholeBar, whole + back},
			[]string{"no-time-to-change 1:1 where the music leads back or on to here the player has no rest to change from English Horn to Oboe; under 5 seconds are risky"},
			`player "Oboe" has less than 2 seconds to change between Oboe and English Horn before bar 1; give one of them to another player, or take it with --force`},
		{"at once", [4]string{whole, whole, wholeBar, whole}, [4]string{wholeBar, whole, wholeBar, whole},
			[]string{"two-at-once 2:1 the player has Oboe and English Horn at once", "two-at-once 4:1 the player has Oboe and English Horn at once"},
			`player "Oboe" has Oboe and English Horn at once in bars 2, 4; give one of them to another player`},
		{"half a second, at a tempo that nobody said", [4]string{half + quarter + silence, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, whole, wholeBar, wholeBar},
			[]string{"hasty-change 2:1 the player has 0.5 seconds" + assumed + " to change from Oboe to English Horn; under 5 seconds are risky"}, ""},
		{"just not five", [4]string{strings.Replace(at60, "60", "97", 1) + whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, whole},
			[]string{"hasty-change 4:1 the player has 4.9 seconds to change from Oboe to English Horn; under 5 seconds are risky"}, ""},
		{"at once, twice in a bar: said once", [4]string{whole, half + silence + quarter, wholeBar, wholeBar}, [4]string{wholeBar, half + silence + quarter, wholeBar, wholeBar},
			[]string{"two-at-once 2:1 the player has Oboe and English Horn at once"},
			`player "Oboe" has Oboe and English Horn at once in bar 2; give one of them to another player`},
	} {
		text := oboeAndHorn(row.oboe, row.horn)
		made := joinedOf(t, text, func(o *parts.Options) { o.Force = true })
		var got []string
		for _, w := range made.Report.Warnings {
			if code := string(w.Code); code == "hasty-change" || code == "two-at-once" || code == "no-time-to-change" {
				got = append(got, fmt.Sprintf("%s %s:%s %s", code, w.Measure, w.Beat, w.Text))
			}
		}
		assert.Equal(t, row.want, got, row.why)
		assert.Equal(t, strings.Count(text, "<step>B")-4, made.Report.Notes, row.why) // but for the violin's
		assert.Equal(t, 4, made.Report.Measures, row.why)
		assert.Equal(t, strings.Contains(row.horn[0]+row.horn[1]+row.horn[2]+row.horn[3], "<step>") && !strings.HasPrefix(row.why, "at once"), made.Report.ChangesInstrument, row.why)
		o := parts.DefaultOptions()
		o.RestBars, o.Input = 0, parts.Written
		o.Plan = []parts.PlanRow{{Part: "Oboe"}, {Part: "English Horn", Player: "Oboe"}}
		surveyed := partstest.Survey(t, scoreFrom(t, text), o)
		if _, err := surveyed.Assign(); row.refused == "" {
			assert.NoError(t, err, row.why)
		} else {
			assert.ErrorContains(t, err, row.refused, row.why)
		}
	}
}

// What is said over the rest of a staff that the player does not come back to is named, with the
// words; what prepares the next entry there stands at that entry.
func TestSaidAtRest(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		why        string
		oboe, horn [4]string
		says       string
		warns      []string
	}{
		{"never again", [4]string{whole, wholeBar, words("dolce") + wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, whole, whole}, "1 4/4\n2 \"To English Horn\"\n3 \"English Horn\"",
			[]string{"3:1 the player has another instrument here and does not come back to Oboe; left out what is said: “dolce”"}},
		{"back again", [4]string{whole, wholeBar, words("dolce") + wholeBar, whole}, [4]string{wholeBar, whole, wholeBar, wholeBar}, "1 4/4\n2 \"English Horn\"\n3 \"To Oboe\" \"dolce\"\n4 \"Oboe\"", nil},
		{"back after more", [4]string{whole, words("dolce") + wholeBar, wholeBar, whole}, [4]string{wholeBar, whole, whole, wholeBar}, "1 4/4\n2 \"English Horn\"\n4 \"Oboe\" \"dolce\"", nil},
	} {
		made := joinedOf(t, oboeAndHorn(row.oboe, row.horn), func(o *parts.Options) { o.Force = true })
		assert.Equal(t, row.says, strings.TrimSpace(roadText(made.Document)), row.why)
		var warns []string
		for _, w := range made.Report.Warnings {
			if w.Code == notice.SaidAtRest {
				warns = append(warns, fmt.Sprintf("%s:%s %s", w.Measure, w.Beat, w.Text))
				assert.Empty(t, w.SourceName, "the part is called by it")
			}
		}
		assert.Equal(t, row.warns, warns, row.why)
	}
}

// A sign holds to the bar line, also where the player changes staves within the bar: a natural is
// printed against the other staff's sharp (MusicXML 4.0, accidental), not in the next bar.
func TestJoinedInABar(t *testing.T) {
	t.Parallel()
	const rest = `<note><rest/><duration>2</duration><voice>1</voice><type>half</type></note>`
	high := func(alter, sign string) string {
		return `<note><pitch><step>C</step><alter>` + alter + `</alter><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>half</type>` + sign + `</note>`
	}
	sharp := high("1", `<accidental>sharp</accidental>`)
	for horn, want := range map[[2]string]string{{rest + high("0", ""), whole}: "1 sharp 1 natural ", {rest + rest, high("0", "") + rest}: "1 sharp "} {
		made := joinedOf(t, oboeAndHorn([4]string{sharp + rest, wholeBar, wholeBar, wholeBar}, [4]string{horn[0], horn[1], wholeBar, wholeBar}), func(o *parts.Options) { o.Force = true })
		got := ""
		for _, e := range made.Document.FindElements("//measure/note/accidental") {
			got += e.Parent().Parent().SelectAttrValue("number", "") + " " + e.Text() + " "
		}
		assert.Equal(t, want, got)
	}
}

// A player who has nothing to play on any staff has a sheet that says so, or none.
func TestJoinedTacet(t *testing.T) {
	t.Parallel()
	silent := oboeAndHorn([4]string{wholeBar, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, wholeBar})
	made := joinedOf(t, silent, nil)
	assert.True(t, made.Report.Tacet)
	assert.NotNil(t, made.Document)
	second := func(o *parts.Options) {
		o.Plan = []parts.PlanRow{{Part: "Oboe", Player: "English Horn"}, {Part: "English Horn"}}
	}
	assert.Equal(t, "1 4/4 \"Tacet\"", roadText(joinedOf(t, silent, second).Document), "no instrument is named")
	skip := func(o *parts.Options) { o.Tacet = parts.TacetSkip }
	assert.Nil(t, joinedOf(t, silent, skip).Document)
	assert.NotNil(t, joinedOf(t, oboeAndHorn([4]string{whole, whole, whole, whole}, [4]string{wholeBar, wholeBar, wholeBar, wholeBar}), skip).Document)
}

// Staves that sound at once stand one above the other, each in voices of its own, by fours a
// staff (common practice, no source), its lines under numbers that no other staff has; what
// holds for everybody stands once.
func TestJoinedAtOnce(t *testing.T) {
	t.Parallel()
	slurred := strings.Replace(whole, "</note>", `<notations><slur type="start" number="1"/></notations></note>`, 1)
	ended := strings.Replace(whole, "</note>", `<notations><slur type="stop" number="1"/></notations></note>`, 1)
	bars := [4]string{slurred, ended, words("Allegro") + words("dolce") + whole, whole}
	made := joinedOf(t, oboeAndHorn(bars, bars), func(o *parts.Options) { o.Force = true })
	root := made.Document.Root()
	assert.Equal(t, "2", root.FindElement("//attributes/staves").Text())
	numbers := map[string]string{} // of slurs, by staff
	for _, staff := range []struct{ number, voice string }{{"1", "1"}, {"2", "5"}} {
		count := 0
		for _, n := range root.FindElements("//note") {
			if musicxml.ChildText(n, "staff") != staff.number {
				continue
			}
			count++
			assert.Equal(t, staff.voice, musicxml.ChildText(n, "voice"), "staff %s", staff.number)
			for _, slur := range n.FindElements("notations/slur") {
				number := slur.SelectAttrValue("number", "")
				if numbers[staff.number] == "" {
					numbers[staff.number] = number
				}
				assert.Equal(t, numbers[staff.number], number, "both ends on staff %s", staff.number)
			}
		}
		assert.Equal(t, 4, count, "staff %s", staff.number)
	}
	assert.NotEqual(t, numbers["1"], numbers["2"])
	said := map[string]int{}
	for _, words := range root.FindElements("//direction/direction-type/words") {
		said[words.Text()]++
	}
	assert.Equal(t, map[string]int{"Oboe": 1, "English Horn": 1, "Allegro": 1, "dolce": 2}, said, "each staff is named")
	// A finished part is looked over: what begins on a staff ends there.
	made = joinedOf(t, oboeAndHorn([4]string{slurred, whole, whole, whole}, bars), func(o *parts.Options) { o.Force = true })
	assert.True(t, slices.ContainsFunc(made.Report.Warnings, func(w musicxml.Warning) bool {
		return w.Code == notice.LineWithoutEnd && w.Measure == "1" && w.Text == "the slur begins and does not end"
	}), made.Report.Warnings)
	// A staff that is shorter than the other ends in rests.
	short := strings.Replace(oboeAndHorn(bars, [4]string{whole, whole, whole, whole}), `<measure number="4">`+whole+`</measure></part><part id="P3">`, `</part><part id="P3">`, 1)
	made = joinedOf(t, short, func(o *parts.Options) { o.Force = true })
	assert.Len(t, made.Document.FindElements("//measure"), 4)
	assert.Len(t, made.Document.FindElements("//measure[4]/note/pitch"), 1)
	var of []string
	for _, w := range made.Report.Warnings {
		if w.Code == notice.MissingBars {
			of = append(of, w.SourceName+" "+w.SourcePart+": "+w.Text)
		}
	}
	assert.Equal(t, []string{"English Horn P2: the part has 3 bars, the score 4"}, of, "of the staff that it is said of")
}

// A joined part is taken apart into its staves: of each the bars that the player has of it,
// rests in the others, with what holds for everybody. Steps back and forward are left out.
func TestJoinedTakenApart(t *testing.T) {
	t.Parallel()
	steps := regexp.MustCompile(`#\d-I1| /| _\d+`)
	for _, row := range []struct {
		file          string
		want          []string
		beats, staves []string // of the time signatures; of the clefs
	}{
		{"09-changes-of-staff", []string{
			`"Andante" !< C5:h D5:h | E5:h !. r:h | R | F5:q( E5:q) r:h | r:h r:q "dolce" B4:q | A4+F4:q r:q r:h | R | R`,
			`R "Andante" | R | R | r:h !p D4:h( | E4:h) r:q r:q | r:q !< G4:et A4:et B4:et !. C5:h | D5:hd? | R`,
		}, []string{"4 3", "4 3"}, []string{"-", ""}},
		{"10-staves-at-once", []string{
			`"Lento" !< G5:w( D5:h B4:h G3+B3:w !. | A5:w) R`,
			`"Lento" "hard sticks" !> B4:h( C5:h) !. | !pp D5:w`,
		}, []string{"4", "4"}, []string{"1 2 2", "-"}},
	} {
		score, err := musicxml.ReadFile("testdata/"+row.file+".input.musicxml", musicxml.ReadOptions{})
		require.NoError(t, err)
		o := parts.DefaultOptions()
		o.Plan, o.Force = []parts.PlanRow{{Part: "P1", Player: "one"}, {Part: "P2", Player: "one"}}, true
		made := makeMini(t, score, 0, o)
		file, err := musicxml.Read(made.Bytes(musicxml.WriteOptions{}), musicxml.ReadOptions{})
		require.NoError(t, err)
		pieces, err := apart.Pieces(file)
		require.NoError(t, err)
		require.Len(t, pieces, 2)
		for i, staff := range pieces {
			assert.Equal(t, fmt.Sprintf("P%d", i+1), staff.Part)
			part, err := staff.Score.ReadPart(0, nil)
			require.NoError(t, err)
			var beats, staves []string
			for _, e := range part.FindElements("//time/beats") {
				beats = append(beats, e.Text())
			}
			for _, e := range part.FindElements("//clef") {
				staves = append(staves, e.SelectAttrValue("number", "-"))
			}
			assert.Equal(t, row.beats[i], strings.Join(beats, " "), row.file)
			assert.Equal(t, row.staves[i], strings.Join(staves, " "), row.file)
			assert.Equal(t, row.want[i], steps.ReplaceAllString(shorthand.Read(part), ""), row.file)
		}
	}
}

// What a file of one part holds of which staff of the score: nothing to take apart, a staff put
// together for two players, divisi on two staves, staves of one player; and files that say
// what is not so.
func TestPieces(t *testing.T) {
	t.Parallel()
	flutes := scoreIn(t, shorthand.Score(t, shorthand.Entry{Name: "Flute 1", Music: "E5:h F5:h | R"}, shorthand.Entry{Name: "Flute 2", Music: "C5:h D5:h | C5:w"}))
	o := parts.DefaultOptions()
	o.Share, o.RestBars = [][]string{{"Flute 1", "Flute 2"}}, 0
	shared := makeMini(t, flutes, 0, o)
	divided, err := musicxml.ReadFile("testdata/13-divisi-on-two-staves.input.musicxml", musicxml.ReadOptions{})
	require.NoError(t, err)
	o = parts.DefaultOptions()
	o.RestBars = 0
	text := string(shared.Bytes(musicxml.WriteOptions{}))
	cellos := string(makeMini(t, divided, 0, o).Bytes(musicxml.WriteOptions{}))
	o.Undivided = true
	undivided := shorthand.Read(partOf(makeMini(t, divided, 0, o)))
	alone := string(makeMini(t, flutes, 0, parts.DefaultOptions()).Bytes(musicxml.WriteOptions{}))
	joined := string(joinedOf(t, oboeAndHorn([4]string{whole, wholeBar, wholeBar, wholeBar}, [4]string{wholeBar, wholeBar, wholeBar, whole}), nil).Bytes(musicxml.WriteOptions{}))
	field := func(text, name, value string) string {
		return regexp.MustCompile(`(<miscellaneous-field name="`+name+`">)[^<]*`).ReplaceAllString(text, "${1}"+value)
	}
	once := strings.NewReplacer("R / R", "R", "#1-I1", "", "#2-I1", "") // a bar of rest in two voices is one
	for _, row := range []struct {
		why, text string
		want      []string // part, player, music
		wrong     string
	}{
		{"a part as any", alone, nil, ""},
		{"two parts", string(bytesOf(flutes)), nil, ""},
		{"a shared staff", text, []string{"P1 0 E5:h F5:h | R", "P2 0 C5:h D5:h | C5:w"}, ""},
		{"an entry too many", strings.Replace(text, "</part-list>", `<score-part id="P9"><part-name/></score-part></part-list>`, 1), nil, ""},
		{"no entry", regexp.MustCompile(`(?s)<score-part .*</score-part>`).ReplaceAllString(text, ""), nil, ""},
		{"a shared staff of more than its name says", regexp.MustCompile(`>P1 P2<`).ReplaceAllString(text, ">P1 P2 P3<"), nil, ""},
		{"divisi", cellos, []string{"P1 0 " + undivided}, ""},
		{"divisi of bars that there are not", field(cellos, "divisi on two staves", "x"), nil, "x"},
		{"one player's staves", joined, []string{`P1 0 B4:w | R | R | R`, `P2 0 R | R | R | B4:w`}, ""},
		{"of bars that there are not", field(joined, "music of P2", "x"), nil, `the field "music of P2" does not say where the music comes from`},
	} {
		file, err := musicxml.Read([]byte(row.text), musicxml.ReadOptions{Name: "part.musicxml"})
		require.NoError(t, err, row.why)
		pieces, err := apart.Pieces(file)
		if row.wrong != "" {
			assert.ErrorContains(t, err, row.wrong, row.why)
			assert.Empty(t, pieces, row.why)
			continue
		}
		require.NoError(t, err, row.why)
		var got []string
		for _, p := range pieces {
			part, err := p.Score.ReadPart(0, nil)
			require.NoError(t, err, row.why)
			assert.False(t, p.Some, row.why)
			assert.Empty(t, part.FindElements("//multiple-rest"), "bar by bar")
			assert.Equal(t, "part.musicxml", p.Score.Name)
			got = append(got, fmt.Sprint(p.Part, " ", p.Player, " ", once.Replace(shorthand.Read(part))))
		}
		assert.Equal(t, row.want, got, row.why)
	}
}
