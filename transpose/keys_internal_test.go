package transpose

import (
	"testing"

	"github.com/beevik/etree"
	"github.com/stretchr/testify/assert"

	"deskpart/musicxml/musicxmltest"
	"deskpart/musicxml/musicxmltest/shorthand"
	"deskpart/transpose/pitch"
)

// When the enharmonic twin is taken: past the limit, and only where it is better
// (trade/notation-rules.md §6).
func TestTwinSteps(t *testing.T) {
	t.Parallel()
	rows := []struct{ fifths, limit, want int }{
		{6, 6, 0}, {7, 6, 1}, {-6, 6, 0}, {-7, 6, -1}, {7, 7, 0}, {8, 7, 1}, {-8, 7, -1}, {6, 5, 0}, {-6, 5, 0}, {12, 6, 1}, {-12, 6, -1},
		{0, 0, 0}, {5, 0, 0}, {6, 0, 0}, {7, 0, 1}, {13, 6, 1}, {18, 6, 1}, {-18, 6, -1}, {1, 0, 0},
	}
	for _, row := range rows {
		assert.Equal(t, row.want, twinSteps(row.fifths, row.limit), "%d fifths, at most %d", row.fifths, row.limit)
	}
}

// Elements that are written alike.
func TestSameText(t *testing.T) {
	t.Parallel()
	key := `<key number="1" id="a"><fifths>1</fifths><mode>major</mode></key>`
	for xml, want := range map[string]bool{
		key: true, `<key number="1" id="a"> <fifths> 1 </fifths><mode>major</mode></key>`: true,
		`<key number="2" id="a"><fifths>1</fifths><mode>major</mode></key>`: false, `<key number="1"><fifths>1</fifths><mode>major</mode></key>`: false,
		`<key number="1" x="a"><fifths>1</fifths><mode>major</mode></key>`: false, `<key number="1" id="a"><fifths>2</fifths><mode>major</mode></key>`: false,
		`<key number="1" id="a"><fifths>1</fifths></key>`: false, `<key number="1" id="a"><fifths>1</fifths><cancel>major</cancel></key>`: false,
		`<keys number="1" id="a"><fifths>1</fifths><mode>major</mode></keys>`: false, `<key number="1" id="a">x<fifths>1</fifths><mode>major</mode></key>`: false,
	} {
		assert.Equal(t, want, sameText(musicxmltest.Element(t, key), musicxmltest.Element(t, xml)), xml)
	}
	alike := func(list ...string) bool {
		var keys []*etree.Element
		for _, xml := range list {
			keys = append(keys, musicxmltest.Element(t, xml))
		}
		return alikeButNumber(keys)
	}
	assert.True(t, alike(`<key number="1"><fifths>1</fifths></key>`, `<key number="2"><fifths>1</fifths></key>`, `<key number="3"><fifths>1</fifths></key>`))
	assert.False(t, alike(`<key number="1"><fifths>1</fifths></key>`, `<key number="2"><fifths>1</fifths></key>`, `<key number="3"><fifths>2</fifths></key>`))
}

// Keys that move alike: equal moves, or octaves apart, with a signature on both or none.
func TestKeyMovesLike(t *testing.T) {
	t.Parallel()
	st := func(move pitch.Interval, without bool) *state {
		return &state{move: move, target: Stretch{WithoutSignature: without}}
	}
	second := pitch.Interval{Diatonic: 1, Chromatic: 2}
	assert.True(t, st(second, false).keyMovesLike(st(second, false)))
	assert.True(t, st(second.Add(pitch.Octaves(-2)), false).keyMovesLike(st(second, false)))
	assert.True(t, st(second, true).keyMovesLike(st(second, true)))
	assert.False(t, st(second, true).keyMovesLike(st(second, false)))
	assert.False(t, st(second, false).keyMovesLike(st(pitch.Interval{}, false)))
	assert.False(t, st(pitch.Interval{Diatonic: 1}, false).keyMovesLike(st(pitch.Interval{}, false)), "a diminished second is no octave")
	assert.False(t, st(pitch.Interval{Diatonic: 7, Chromatic: 11}, false).keyMovesLike(st(pitch.Interval{}, false)), "nor is a diminished one")
}

// A key tone by tone that moves by octaves stays as it was written.
func TestTonesThatMoveByOctavesStay(t *testing.T) {
	t.Parallel()
	const xml = `<key><key-step>F</key-step><key-alter>1.0</key-alter><key-step>C</key-step><key-alter>0</key-alter></key>`
	for _, by := range []pitch.Interval{{}, pitch.Octaves(1), pitch.Octaves(-2)} {
		e := musicxmltest.Element(t, xml)
		s, err := readSignature(e)
		assert.NoError(t, err)
		writeTones(e, s.moved(by), by)
		text, err := etree.NewDocumentWithRoot(e).WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, xml, text)
	}
}

// What a part that shows another signature than its own reads at a letter.
func TestVisibleSignature(t *testing.T) {
	t.Parallel()
	s := traditional(signature{}, -3)
	assert.Equal(t, -pitch.Semitone, s.visible()[pitch.B])
	for xml, want := range map[string]bool{`<key><fifths>0</fifths><mode>none</mode></key>`: true, `<key><fifths>0</fifths><mode>major</mode></key>`: false, `<key><fifths>0</fifths></key>`: false, `<key><fifths>1</fifths><mode>none</mode></key>`: false, `<key><key-step>F</key-step><key-alter>1</key-alter></key>`: false} {
		read, err := readSignature(musicxmltest.Element(t, xml))
		assert.NoError(t, err)
		assert.Equal(t, want, read.keyless, xml)
	}
	s.hidden = true
	assert.Zero(t, s.visible()[pitch.B], "what is not printed is not read")
}

// A signature that is taken away leaves nothing of itself, and does not move.
func TestEmptySignature(t *testing.T) {
	t.Parallel()
	for xml, want := range map[string]string{
		`<key number="2"><cancel>-1</cancel><fifths>2</fifths><mode>major</mode></key>`:                           `<key number="2"><fifths>0</fifths><mode>none</mode></key>`,
		`<key><key-step>F</key-step><key-alter>1</key-alter><key-accidental>sharp</key-accidental></key>`:         `<key><fifths>0</fifths><mode>none</mode></key>`,
		`<key><fifths>2</fifths><key-octave number="1">5</key-octave><key-octave number="2">5</key-octave></key>`: `<key><fifths>0</fifths><mode>none</mode></key>`,
	} {
		e := musicxmltest.Element(t, xml)
		emptySignature(e)
		got, err := etree.NewDocumentWithRoot(e).WriteToString()
		assert.NoError(t, err)
		assert.Equal(t, want, got)
	}
}

// The page at its edges: no note stands above B9 or below C0.
func TestAuxiliariesAtTheEdges(t *testing.T) {
	t.Parallel()
	page := inForce{era: 1}
	page.signature = traditional(signature{}, 2).alters
	for _, row := range []struct {
		pitch string
		steps int
		want  string
	}{
		{"B9", 1, ""}, {"A9", 1, "B9"}, {"C0", -1, ""}, {"D0", -1, "C#0"}, {"E4", 1, "F#4"}, {"C5", -1, "B4"},
	} {
		a := page.auxiliary(shorthand.Pitch(t, row.pitch), row.steps)
		assert.Equal(t, row.want != "", a.known, row.pitch)
		if a.known {
			assert.Equal(t, row.want, a.pitch.String(), row.pitch)
		}
	}
}
