package explain

import (
	"strings"

	"github.com/beevik/etree"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// ParseKey reads a number of fifths or a key's name, in the language of the texts or in
// English; nil for no text.
func ParseKey(said *texts.Texts, text string) (*pitch.Key, error) {
	if text == "" {
		return nil, nil
	}
	if fifths, minor, _, err := said.ParseKey(text); err == nil && pitch.Abs(fifths) <= pitch.MostSigns {
		k := pitch.Key{Fifths: fifths, Mode: pitch.Major}
		if minor {
			k.Mode = pitch.Minor
		}
		return &k, nil
	}
	k, err := pitch.ParseKey(text)
	return &k, err
}

// ParsePitches reads notes apart by spaces or commas, in the names of the language.
func ParsePitches(said *texts.Texts, text string) ([]pitch.Pitch, error) {
	var pitches []pitch.Pitch
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' || r == '\n' })
	for len(fields) > 0 {
		p, words, err := parsePitch(said, fields)
		if err != nil {
			return nil, err
		}
		pitches, fields = append(pitches, p), fields[words:]
	}
	return pitches, nil
}

// mostWords is how many words a note may be spoken in: "si bemolle 3", "do doppio diesis 4".
const mostWords = 4

// parsePitch reads the note at the beginning of a list of words, and says of how many it
// is.
func parsePitch(said *texts.Texts, fields []string) (p pitch.Pitch, words int, err error) {
	if p, err = said.ParsePitch(fields[0]); err == nil {
		return p, 1, nil
	}
	for n := 2; n <= min(mostWords, len(fields)); n++ {
		if p, joined := said.ParsePitch(strings.Join(fields[:n], "")); joined == nil {
			return p, n, nil
		}
	}
	return p, 1, err
}

// Given writes notes as a part on the task's side, in a clef that suits them; key may be
// nil.
func (t Task) Given(pitches []pitch.Pitch, key *pitch.Key) (*etree.Element, error) {
	if t.WithoutSignature && t.From == Written {
		key = nil
	}
	tune := FromPitches(pitches, key, t.ClefFor(t.From, pitches))
	tune.Transpose = t.On(t.From)
	return tune.Part()
}
