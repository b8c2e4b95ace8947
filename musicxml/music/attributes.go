package music

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// Key is what a <key> says.
type Key struct {
	pitch.Key
	// Traditional: it is a number of fifths. One that is given tone by tone counts
	// none.
	Traditional bool
	// Tones are those of a key given tone by tone, in its order.
	Tones []Tone
}

// Tone is one altered letter of a key that is given tone by tone.
type Tone struct {
	Step  pitch.Step
	Alter pitch.Alter
	Sign  string // the text of <key-accidental>, "" for none
}

// mostFifths bounds what is believed of a signature. The schema sets no limit; past
// this no letter could be written with the signs that exist.
const mostFifths = 28

// ReadKey reads a <key>. A mode other than major and minor is unsaid.
func ReadKey(e *etree.Element) (Key, error) {
	var k Key
	if f := musicxml.Child(e, "fifths"); f != nil {
		n, err := strconv.Atoi(musicxml.Text(f))
		if err != nil || pitch.Abs(n) > mostFifths {
			return k, fmt.Errorf("key signature of %q fifths cannot be read", musicxml.Text(f))
		}
		k.Fifths, k.Traditional = n, true
		switch mode := pitch.Mode(strings.ToLower(musicxml.ChildText(e, "mode"))); mode {
		case pitch.Major, pitch.Minor:
			k.Mode = mode
		}
		return k, nil
	}
	for _, token := range e.Child {
		if c, ok := token.(*etree.Element); ok {
			if err := k.tone(c); err != nil {
				return k, err
			}
		}
	}
	return k, nil
}

// tone takes up a child of a key that is given tone by tone.
func (k *Key) tone(e *etree.Element) error {
	last := len(k.Tones) - 1
	switch e.Tag {
	case "key-step":
		step, err := pitch.ParseStep(musicxml.Text(e))
		k.Tones = append(k.Tones, Tone{Step: step})
		return err
	case "key-alter":
		if last < 0 {
			return fmt.Errorf("<key-alter> without a <key-step> before it")
		}
		var err error
		k.Tones[last].Alter, err = pitch.ParseAlter(musicxml.Text(e))
		return err
	case "key-accidental":
		if last >= 0 {
			k.Tones[last].Sign = musicxml.Text(e)
		}
	}
	return nil
}

// Clef is what a <clef> or <part-clef> says. The zero value is no clef.
type Clef struct {
	Sign         string // "G", "F", "C", "percussion", "TAB", "jianpu" or "none"
	Line         int    // from the bottom, 1; 0 where it says none and needs none
	OctaveChange int    // of the small 8: -1 under the clef, 1 over it
}

// ReadClef reads a <clef> or <part-clef>. Where the line is left out it is that of the
// usual clef of that sign: G 2, F 4, C 3 (MusicXML 4.0, clef).
func ReadClef(e *etree.Element) Clef {
	c := Clef{Sign: musicxml.ChildText(e, "sign"), Line: wholeChild(e, "line"), OctaveChange: wholeChild(e, "clef-octave-change")}
	if c.Line == 0 && c.Lettered() {
		_, c.Line = clefAnchor(c.Sign)
	}
	return c
}

// IsAdditional reports whether a clef stands on the staff beside the one in force: for cue
// notes, or as one of several at once. Its line is ignored, and no system begins with it
// (MusicXML 4.0, clef): it changes nothing.
func IsAdditional(clef *etree.Element) bool {
	return clef.Tag == "clef" && musicxml.Attr(clef, "additional") == "yes"
}

// clefAnchor is the note that a sign names, in letter steps from C0, and its usual
// line. A clef without letters reads as treble (MusicXML 4.0, unpitched, clef-sign).
func clefAnchor(sign string) (place, line int) {
	switch sign {
	case "F":
		return 7*3 + int(pitch.F), 4
	case "C":
		return 7 * 4, 3
	}
	return 7*4 + int(pitch.G), 2
}

// Bottom is the note on the bottom line of five, in letter steps from C0 (see
// [pitch.Pitch.Place]).
func (c Clef) Bottom() int {
	place, line := clefAnchor(c.Sign)
	if !c.Lettered() {
		return place - 2*(line-1)
	}
	return place - 2*(c.Line-1) + 7*c.OctaveChange
}

// Lettered reports whether places on the staff are letters: not in percussion clef,
// tablature, numbered notation and without a clef.
func (c Clef) Lettered() bool {
	switch c.Sign {
	case "G", "F", "C":
		return true
	}
	return false
}

// Time is what a <time> says. A time without beats is unmeasured.
type Time struct {
	Parts []TimePart // one, or several that are added: 3/8+2/8
}

// TimePart is a fraction of a time signature as it is printed; the beats may be a sum
// ("3+2").
type TimePart struct{ Beats, BeatType string }

// ReadTime reads a <time>.
func ReadTime(e *etree.Element) Time {
	var t Time
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "senza-misura":
			return Time{}
		case "beats":
			t.Parts = append(t.Parts, TimePart{Beats: strings.Join(strings.Fields(musicxml.Text(c)), "")})
		case "beat-type":
			if last := len(t.Parts) - 1; last >= 0 {
				t.Parts[last].BeatType = musicxml.Text(c)
			}
		}
	}
	return t
}

// String writes the time as musicians do: "3/4", "3/8+2/8", "3+2/8"; "" for music
// without one. Whether 4/4 is drawn as C does not matter.
func (t Time) String() string {
	pairs := make([]string, 0, len(t.Parts))
	for _, p := range t.Parts {
		pairs = append(pairs, p.Beats+"/"+p.BeatType)
	}
	return strings.Join(pairs, "+")
}

// wholeChild reads a whole number from the first child of that name; 0 where there
// is none.
func wholeChild(e *etree.Element, tag string) int { return wholeText(musicxml.Child(e, tag)) }

func wholeText(e *etree.Element) int {
	n, err := strconv.Atoi(musicxml.Text(e))
	if err != nil || pitch.Abs(n) > mostWhole {
		return 0
	}
	return n
}

// mostWhole bounds the numbers that are believed.
const mostWhole = 10_000
