package words

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"deskpart/transpose/pitch"
)

var (
	errNote  = errors.New("not a note such as C4, F#3, Bb4, Ais4, si♭3 or fa#4; C4 is middle C")
	errH     = errors.New("H is the German name of B natural; give --language de, where B is B flat, or write B")
	errBSign = errors.New("in German B is B flat and H is B natural; write His")
)

// ParsePitch reads a note with its octave as the language writes it ("Ais4", "si♭3",
// "fa#4"), as any of the others does where it can mean nothing else, and scientific
// pitch in ASCII. In German B is B flat and H is B natural.
func (n *Names) ParsePitch(content string) (pitch.Pitch, error) {
	name := strings.TrimRight(content, "-0123456789")
	octave, err := strconv.Atoi(content[len(name):])
	if err != nil || octave < -9 || octave > 99 {
		return pitch.Pitch{}, fmt.Errorf("%q: %w", content, errNote)
	}
	p, err := n.ParseNote(name)
	if err != nil {
		return pitch.Pitch{}, fmt.Errorf("%q: %w", content, err)
	}
	p.Octave = octave
	return p, nil
}

// ParseNote reads a note without its octave; it comes back in the fourth one. With a natural
// it can have no other sign, and a B is B natural in every language.
func (n *Names) ParseNote(content string) (pitch.Pitch, error) {
	name, natural := strings.CutSuffix(fold(content), "♮")
	if name == "" || strings.ContainsRune("♭𝄫", []rune(strings.TrimSpace(content))[0]) { // folded, a flat is a letter
		return pitch.Pitch{}, errNote
	}
	if natural && name == "b" && n.Language == pitch.German {
		name = "h"
	}
	p, err := n.byName(name)
	if err == nil && natural && p.Alter != 0 {
		err = errNote
	}
	return p, err
}

// byName reads a folded name without natural.
func (n *Names) byName(name string) (pitch.Pitch, error) {
	if n.Language == pitch.German {
		if p, ok, err := germanB(name); ok || err != nil {
			return p, err
		}
	} else if name[0] == 'h' && (len(name) == 1 || name[1] == '#' || name[1] == 'b') {
		return pitch.Pitch{}, errH
	}
	if rest, isUt := strings.CutPrefix(name, "ut"); isUt {
		name = "do" + rest // French has both
	}
	if p, known := n.spoken[name]; known {
		return p, nil
	}
	return byLetter(name)
}

// germanB reads the two notes of which German has its own names; ok is false for
// the others.
func germanB(name string) (p pitch.Pitch, ok bool, err error) {
	b := pitch.Pitch{Step: pitch.B, Octave: 4}
	switch name {
	case "h":
		return b, true, nil
	case "b", "hes":
		b.Alter = pitch.Semitones(-1)
		return b, true, nil
	case "bes":
		b.Alter = pitch.Semitones(-2)
		return b, true, nil
	case "b#", "bx", "b##":
		return b, false, errBSign
	}
	if rest, isH := strings.CutPrefix(name, "h"); isH {
		if alter, err := pitch.ParseSigns(rest); err == nil {
			b.Alter = alter
			return b, true, nil
		}
	}
	return b, false, nil
}

// otherSpellings are full forms of the trade beside the contracted ones.
var otherSpellings = map[string]string{"ases": "Abb", "aes": "Ab", "ees": "Eb"}

// spokenNames is the index of the notes' names in all languages; plain B and H are left out,
// for they differ.
func spokenNames(notes *Table) map[string]pitch.Pitch {
	index := map[string]pitch.Pitch{}
	add := func(name, key string) {
		if p, err := pitch.ParseName(key); err == nil && name != "b" { // which in German is another note
			index[name] = p
		}
	}
	for _, key := range notes.keys {
		for _, l := range pitch.Languages() {
			add(fold(notes.In(l, key, nil)), key)
		}
	}
	for name, key := range otherSpellings {
		add(name, key)
	}
	return index
}

// solmisation are the syllables by their letters.
var solmisation = []struct{ syllable, letter string }{{"do", "C"}, {"re", "D"}, {"mi", "E"}, {"fa", "F"}, {"sol", "G"}, {"la", "A"}, {"si", "B"}}

// byLetter reads a letter or syllable with signs: "f#", "sib".
func byLetter(name string) (pitch.Pitch, error) {
	for _, s := range solmisation {
		if rest, cut := strings.CutPrefix(name, s.syllable); cut {
			name = s.letter + rest
			break
		}
	}
	p, err := pitch.ParseName(name)
	if err != nil {
		return p, errNote
	}
	return p, nil
}

// folds writes what differs without meaning alike.
var folds = strings.NewReplacer("é", "e", "è", "e", "í", "i", "♯", "#", "♭", "b", "𝄪", "x", "𝄫", "bb", " ", "", "-", "", "_", "", "\u00a0", "", "\u0301", "", "\u0300", "")

func fold(content string) string { return folds.Replace(strings.ToLower(strings.TrimSpace(content))) }

// modeWords are major and minor in the five languages.
var modeWords = map[string]bool{"major": false, "dur": false, "majeur": false, "maggiore": false, "mayor": false,
	"minor": true, "moll": true, "mineur": true, "minore": true, "menor": true}

// ParseKey reads a key's name: "Es-Dur", "mi♭ majeur", "fa# minore", "Bb". said is
// false where the name leaves the mode out.
func (n *Names) ParseKey(content string) (fifths int, minor, said bool, err error) {
	name := strings.ToLower(strings.TrimSpace(content))
	for word, isMinor := range modeWords {
		if rest, cut := strings.CutSuffix(name, word); cut && strings.TrimRight(rest, " -") != rest {
			name, minor, said = strings.TrimRight(rest, " -"), isMinor, true
			break
		}
	}
	tonic, err := n.ParseNote(name)
	if err == nil && strings.Contains(name, "(") {
		err = errNote // no key by a decimal
	}
	if err != nil {
		return 0, false, false, err
	}
	up, _ := pitch.Between(pitch.Pitch{Step: pitch.C, Octave: 4}, tonic)
	if fifths = up.Fifths(); minor {
		fifths -= 3
	}
	return fifths, minor, said, nil
}
