package reading_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/reading"
)

// Every row of trade/transpositions.csv: what a written middle C sounds.
func TestSoundingOfEveryInstrument(t *testing.T) {
	t.Parallel()
	rows := musicxmltest.TradeTable(t, "transpositions.csv")
	require.Greater(t, len(rows), 100)
	for _, row := range rows {
		transpose := fmt.Sprintf("<transpose><diatonic>%s</diatonic><chromatic>%s</chromatic><octave-change>%s</octave-change></transpose>",
			row["diatonic_steps"], row["chromatic_semitones"], row["octave_change"])
		p := page(t, tune("[<attributes>"+transpose+"</attributes>] C4"))
		assert.Equal(t, row["written_C4_sounds"], p.Sounding()[0].Pitch.String(), "%s [%s]", row["instrument"], row["source"])
	}
}

// MIDI 1.0 numbers middle C as 60, a semitone as one; the highest piano C is
// 108 and the lowest A 21.
func TestMIDI(t *testing.T) {
	t.Parallel()
	for _, row := range []struct{ note, want string }{
		{"C4", "60"}, {"A4", "69"}, {"C8", "108"}, {"A0", "21"}, {"B#3", "60"}, {"Cb4", "59"},
		{"F##4", "67"}, {"Ebb2", "38"}, {"Fq4", "131/2"},
	} {
		s := page(t, tune(row.note)).Sounding()
		assert.Equal(t, row.want, s[0].MIDI.String(), row.note)
	}
}

func TestTransposeInForce(t *testing.T) {
	t.Parallel()
	const (
		bFlat    = "[<attributes><transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose></attributes>]"
		inA      = "[<attributes><transpose><diatonic>-2</diatonic><chromatic>-3</chromatic></transpose></attributes>]"
		second   = `[<attributes><transpose number="2"><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose></attributes>]`
		unnamed  = "[<attributes><transpose><chromatic>-9</chromatic></transpose></attributes>]"
		twin     = "[<attributes><transpose><diatonic>-6</diatonic><chromatic>-9</chromatic></transpose></attributes>]"
		bassToo  = "[<attributes><transpose><chromatic>0</chromatic><double/></transpose></attributes>]"
		piccolo  = `[<attributes><transpose><chromatic>0</chromatic><double above="yes"/></transpose></attributes>]`
		quarters = "[<attributes><transpose><diatonic>0</diatonic><chromatic>-0.5</chromatic></transpose></attributes>]"
	)
	for _, row := range []struct {
		name, why, music string
		want             []string
	}{
		{"change of instrument", "from its place on", bFlat + " D5 E5 " + inA + " F5 | G5", []string{"C5", "D5", "D5", "E5"}},
		{"behind a grace note", "the grace note is the old instrument's, the note of its moment the new one's", bFlat + " D5 g:E5 " + inA + " g:F5 F5", []string{"C5", "D5", "D5", "D5"}},
		{"one staff", "MusicXML 4.0, transpose number", second + " C5 << =2 C5", []string{"C5", "F4"}},
		{"letter left out", "nine semitones are a sixth", unnamed + " C5", []string{"Eb4"}},
		{"enharmonic twin", "an alto saxophone past six sharps: the sixth written as a diminished seventh, so B double flat is C natural", twin + " Bbb5", []string{"C5"}},
		{"doubled below", "MusicXML 4.0, double: cello and bass", bassToo + " C3", []string{"C3", "C2"}},
		{"doubled above", "MusicXML 4.0, double above: flute and piccolo", piccolo + " C5", []string{"C5", "C6"}},
		{"less than a semitone", "chromatic is a decimal", quarters + " A4", []string{"A(-1/2)4"}},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			var got []string
			for _, s := range page(t, tune(row.music)).Sounding() {
				got = append(got, s.Pitch.String())
			}
			assert.Equal(t, row.want, got, row.why)
		})
	}
}

// lettersOf returns the letters that a part sounds, octaves left out.
func lettersOf(t *testing.T, part *etree.Element) []string {
	t.Helper()
	p, err := reading.Read(part)
	require.NoError(t, err)
	var list []string
	for _, s := range p.Sounding() {
		name := s.Pitch.String()
		list = append(list, name[:len(name)-1])
	}
	return list
}

func TestSoundingCarriesTheNote(t *testing.T) {
	t.Parallel()
	p := page(t, tune("g:F4 g:G4 A4~ | ~A4 +C5 B4 [<note><unpitched/><duration>1</duration></note>]"))
	var got []string
	for _, s := range p.Sounding() {
		got = append(got, fmt.Sprintf("%s %d/%s+%s grace %d tie %t %t unpitched %t", s.Pitch, s.MeasureIndex, s.Onset, s.Duration, s.Grace, s.TieStop, s.TieStart, s.Unpitched))
	}
	assert.Equal(t, []string{
		"F4 0/0+0 grace 1 tie false false unpitched false",
		"G4 0/0+0 grace 2 tie false false unpitched false",
		"A4 0/0+1 grace 0 tie false true unpitched false",
		"A4 1/0+1 grace 0 tie true false unpitched false",
		"C5 1/0+1 grace 0 tie false false unpitched false",
		"B4 1/1+1 grace 0 tie false false unpitched false",
		"B4 1/2+1 grace 0 tie false false unpitched true",
	}, got)
}

func TestSoundingAsRead(t *testing.T) {
	t.Parallel()
	p := page(t, tune("F#4<sharp> | F#4"))
	diff := reading.Compare(p.Sounding(), p.SoundingAsRead())
	require.Len(t, diff, 1, "the second bar has no sign")
	assert.Equal(t, "measure 2, beat 1: F4 sounds where F#4 should", diff[0].String())
}

// The test suite says of these files what they sound: 72a the scale of C in
// every part, 72b and 72d a c” (C5) in every part but the last but one, f sharp”'.
func TestTransposingInstrumentsOfTheTestSuite(t *testing.T) {
	t.Parallel()
	dir := filepath.Join(musicxmltest.SharedDir(t), "testsuite", "xmlFiles")
	for _, part := range parts(t, filepath.Join(dir, "72a-TransposingInstruments.xml")) {
		assert.Equal(t, []string{"C", "D", "E", "F", "G", "A", "B", "C"}, lettersOf(t, part))
	}
	for _, name := range []string{"72b-TransposingInstruments-Full.xml", "72d-TransposingInstruments-scorePitch.xml"} {
		for i, part := range parts(t, filepath.Join(dir, name)) {
			p, err := reading.Read(part)
			require.NoError(t, err)
			assert.Equal(t, "72", p.Sounding()[0].MIDI.String(), "%s part %d", name, i+1)
		}
	}
}
