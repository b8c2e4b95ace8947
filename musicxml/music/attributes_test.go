package music_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/musicxmltest"
	"deskpart/transpose/pitch"
)

func TestReadKey(t *testing.T) {
	t.Parallel()
	for xml, want := range map[string]music.Key{
		`<fifths>-3</fifths>`:                   {Key: pitch.Key{Fifths: -3}, Traditional: true},
		`<fifths>2</fifths><mode>minor</mode>`:  {Key: pitch.Key{Fifths: 2, Mode: pitch.Minor}, Traditional: true},
		`<fifths>2</fifths><mode>Major</mode>`:  {Key: pitch.Key{Fifths: 2, Mode: pitch.Major}, Traditional: true}, // mode is any text
		`<fifths>2</fifths><mode>dorian</mode>`: {Key: pitch.Key{Fifths: 2}, Traditional: true},                    // other modes are unsaid
		`<fifths>28</fifths>`:                   {Key: pitch.Key{Fifths: 28}, Traditional: true},                   // the schema sets no limit
		`<key-step>F</key-step><key-alter>1</key-alter><key-step>B</key-step><key-alter>-0.5</key-alter><key-accidental>quarter-flat</key-accidental>`: {
			Tones: []music.Tone{{Step: pitch.F, Alter: pitch.Semitone}, {Step: pitch.B, Alter: -pitch.Semitone / 2, Sign: "quarter-flat"}}},
		``: {}, `<key-accidental>flat</key-accidental>`: {},
	} {
		k, err := music.ReadKey(musicxmltest.Element(t, "<key>"+xml+"</key>"))
		require.NoError(t, err, xml)
		assert.Equal(t, want, k, xml)
	}
	for _, bad := range []string{`<key><fifths>x</fifths></key>`, `<key><fifths>29</fifths></key>`, `<key><fifths>-29</fifths></key>`, `<key><fifths/></key>`,
		`<key><key-step>H</key-step></key>`, `<key><key-alter>1</key-alter></key>`, `<key><key-step>F</key-step><key-alter>x</key-alter></key>`} {
		_, err := music.ReadKey(musicxmltest.Element(t, bad))
		assert.Error(t, err, bad)
	}
	_, err := music.ReadKey(musicxmltest.Element(t, `<key><fifths>x</fifths></key>`))
	assert.EqualError(t, err, `key signature of "x" fifths cannot be read`)
	_, err = music.ReadKey(musicxmltest.Element(t, `<key><key-alter>1</key-alter></key>`))
	assert.EqualError(t, err, "<key-alter> without a <key-step> before it")
}

// Clefs and the note on their bottom line (MusicXML 4.0, clef; common practice).
func TestReadClef(t *testing.T) {
	t.Parallel()
	rows := []struct {
		xml      string
		want     music.Clef
		bottom   string
		lettered bool
		why      string
	}{
		{`<clef><sign>G</sign><line>2</line></clef>`, music.Clef{Sign: "G", Line: 2}, "E4", true, "treble"},
		{`<clef><sign>F</sign><line>4</line></clef>`, music.Clef{Sign: "F", Line: 4}, "G2", true, "bass"},
		{`<clef><sign>C</sign><line>3</line></clef>`, music.Clef{Sign: "C", Line: 3}, "F3", true, "alto"},
		{`<clef><sign>C</sign><line>4</line></clef>`, music.Clef{Sign: "C", Line: 4}, "D3", true, "tenor"},
		{`<clef><sign>C</sign><line>1</line></clef>`, music.Clef{Sign: "C", Line: 1}, "C4", true, "soprano"},
		{`<clef><sign>F</sign><line>3</line></clef>`, music.Clef{Sign: "F", Line: 3}, "B2", true, "baritone"},
		{`<clef><sign>G</sign><line>1</line></clef>`, music.Clef{Sign: "G", Line: 1}, "G4", true, "French violin clef"},
		{`<clef><sign>G</sign><line>2</line><clef-octave-change>-1</clef-octave-change></clef>`, music.Clef{Sign: "G", Line: 2, OctaveChange: -1}, "E3", true, "tenor voices"},
		{`<clef><sign>G</sign></clef>`, music.Clef{Sign: "G", Line: 2}, "E4", true, "the usual line"},
		{`<clef><sign>F</sign></clef>`, music.Clef{Sign: "F", Line: 4}, "G2", true, "the usual line"},
		{`<clef><sign>C</sign></clef>`, music.Clef{Sign: "C", Line: 3}, "F3", true, "the usual line"},
		{`<clef><sign>percussion</sign></clef>`, music.Clef{Sign: "percussion"}, "E4", false, "reads as treble"},
		{`<clef><sign>none</sign><clef-octave-change>1</clef-octave-change></clef>`, music.Clef{Sign: "none", OctaveChange: 1}, "E4", false, "reads as treble"},
		{`<clef><sign>percussion</sign><line>4</line></clef>`, music.Clef{Sign: "percussion", Line: 4}, "E4", false, "reads as treble, wherever it is drawn"},
		{`<clef><sign>TAB</sign><line>5</line></clef>`, music.Clef{Sign: "TAB", Line: 5}, "E4", false, "strings, not letters"},
		{`<clef><sign>G</sign><line>x</line></clef>`, music.Clef{Sign: "G", Line: 2}, "E4", true, "a line that is none"},
		{`<clef><sign>G</sign><line>99999999</line></clef>`, music.Clef{Sign: "G", Line: 2}, "E4", true, "a line that is none"},
	}
	for _, row := range rows {
		c := music.ReadClef(musicxmltest.Element(t, row.xml))
		assert.Equal(t, row.want, c, row.why)
		assert.Equal(t, row.bottom, pitch.At(c.Bottom()).String(), row.why)
		assert.Equal(t, row.lettered, c.Lettered(), row.why)
	}
}

func TestReadTime(t *testing.T) {
	t.Parallel()
	for xml, want := range map[string]string{
		`<time><beats>3</beats><beat-type>4</beat-type></time>`:                                                    "3/4",
		`<time symbol="common"><beats>4</beats><beat-type>4</beat-type></time>`:                                    "4/4",
		`<time><beats>3 + 2</beats><beat-type>8</beat-type></time>`:                                                "3+2/8",
		`<time><beats>3</beats><beat-type>8</beat-type><beats>2</beats><beat-type>8</beat-type></time>`:            "3/8+2/8",
		`<time><senza-misura/></time>`:                                                                             "",
		`<time><beats>3</beats></time>`:                                                                            "3/",
		`<time><beat-type>4</beat-type></time>`:                                                                    "",
		`<time><beats>3</beats><beat-type>4</beat-type><interchangeable><beats>6</beats></interchangeable></time>`: "3/4",
	} {
		assert.Equal(t, want, music.ReadTime(musicxmltest.Element(t, xml)).String(), xml)
	}
	assert.Zero(t, music.ReadTime(musicxmltest.Element(t, `<time symbol="cut"><senza-misura/></time>`)), "music without a time has no sign for one")
}

// What is in force at a place: in time, by staff.
func TestAt(t *testing.T) {
	t.Parallel()
	clef := func(sign, number string) string {
		return `<attributes><clef` + number + `><sign>` + sign + `</sign></clef></attributes>`
	}
	cue := clef("F", ` additional="yes" size="cue"`) // in no force (MusicXML 4.0, clef)
	p := read(t,
		cue+clef("G", "")+cue+clef("F", ` number="2"`)+`<attributes><key><fifths>1</fifths></key></attributes>`+note("C4", 8)+clef("C", "")+note("C4", 8)+backup(12)+clef("TAB", "")+note("C4", 4),
		cue+note("C4", 16)+clef("percussion", "")+cue)
	sign := func(staff, measure int, onset musicxml.Fraction) string {
		c := p.At("clef", staff, measure, onset)
		if c == nil {
			return "none"
		}
		return music.ReadClef(c.Element).Sign
	}
	rows := []struct {
		staff, measure int
		onset          musicxml.Fraction
		want, why      string
	}{
		{1, 0, fraction(0, 1), "G", "what comes at the place itself is in force"},
		{1, 0, fraction(1, 2), "G", "until the next"},
		{1, 0, fraction(1, 1), "TAB", "places are in time, not in the document"},
		{1, 0, fraction(2, 1), "C", "the later one in time"},
		{1, 1, fraction(0, 1), "C", "over the barline"},
		{1, 1, fraction(4, 1), "percussion", "at the end of the bar"},
		{2, 1, fraction(4, 1), "F", "another staff"},
		{3, 1, fraction(4, 1), "none", "a staff that has none"},
		{1, 9, fraction(0, 1), "percussion", "after the end"},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, sign(row.staff, row.measure, row.onset), row.why)
	}
	assert.Equal(t, "G", music.ReadClef(p.First("clef").Element).Sign)
	assert.Nil(t, p.First("time"))
	assert.NotNil(t, p.At("key", 2, 0, fraction(0, 1)), "a key without a number is for all staves")
	assert.Nil(t, p.At("time", 1, 1, fraction(0, 1)))
	assert.Nil(t, read(t, clef("G", "")).At("clef", 1, -1, fraction(0, 1)), "before the beginning")
}

func TestChanges(t *testing.T) {
	t.Parallel()
	p := read(t, note("C4", 4)+`<attributes><key print-object="no"><fifths>1</fifths></key><clef number="2"><sign>G</sign></clef></attributes>`)
	require.Len(t, p.Changes, 3)
	key, clef := p.Changes[1], p.Changes[2]
	assert.True(t, key.Hidden && key.For(1) && key.For(2))
	assert.True(t, !clef.Hidden && clef.For(2) && !clef.For(1))
	assert.Equal(t, fraction(1, 1), key.Onset)
	assert.Equal(t, 2, key.Order)
}
