package marking

import (
	"fmt"
	"strconv"
	"strings"

	"deskpart/cmd/internal/explain"
	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// counted is a number with its noun: "1 note", "2 notes".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

func withA(text string) string {
	if strings.ContainsRune("aeiou8", rune(text[0])) && !strings.HasPrefix(text, "8th") {
		return "an " + text
	}
	return "a " + text
}

// consecutive reports whether bar numbers count up one by one.
func consecutive(bars []string) bool {
	for i := 1; i < len(bars); i++ {
		a, errA := strconv.Atoi(bars[i-1])
		b, errB := strconv.Atoi(bars[i])
		if errA != nil || errB != nil || b != a+1 {
			return false
		}
	}
	return len(bars) > 2
}

func highOrLow(i pitch.Interval) string {
	if i.Chromatic < 0 || i.Chromatic == 0 && i.Diatonic < 0 {
		return "low"
	}
	return "high"
}

// octaveText says how far off: "an octave too low".
func octaveText(n int) string {
	word := "high"
	if n < 0 {
		word, n = "low", -n
	}
	if n == 1 {
		return "an octave too " + word
	}
	return fmt.Sprintf("%d octaves too %s", n, word)
}

func upOrDown(i pitch.Interval) string {
	if highOrLow(i) == "low" {
		return "down"
	}
	return "up"
}

// directionText says which way was gone and which was right.
func directionText(right pitch.Interval, octaves int) string {
	text := fmt.Sprintf("moved %s, the wrong way: %s %s was right", upOrDown(right.Negate()), explain.WithArticle(right.Name()), upOrDown(right))
	if octaves != 0 {
		text += ", and the octave is another"
	}
	return text
}

// intervalText names the interval that was taken, and the instrument that it suits.
func (x *examiner) intervalText(by pitch.Interval) string {
	right := x.moved
	text := fmt.Sprintf("moved by the wrong interval: %s %s; %s %s was right", explain.WithArticle(by.Name()), upOrDown(by), explain.WithArticle(right.Name()), upOrDown(right))
	if i := x.suits(by); i != nil {
		text += "; it suits the " + explain.InSentence(i.Name("en"))
	}
	return text
}

// stepsText is the same for an interval that is right in its letters alone.
func (x *examiner) stepsText(steps int) string {
	return fmt.Sprintf("moved by the wrong number of letters: %s; %s %s was right", lettersText(steps), explain.WithArticle(x.moved.Name()), upOrDown(x.moved))
}

func lettersText(steps int) string {
	word := "up"
	if steps < 0 {
		word, steps = "down", -steps
	}
	return counted(steps, "letter") + " " + word
}

// suits finds the instrument whose interval was taken, the usual ones first.
func (x *examiner) suits(by pitch.Interval) *instruments.Instrument {
	if x.From == explain.Sounding {
		by = by.Negate()
	}
	var found *instruments.Instrument
	for _, i := range x.catalogue.All() {
		if i.Interval() != by || i.Flags.Rare || i.Flags.Voice || !i.Transposes() {
			continue
		}
		if found == nil || i.Flags.Usual && !found.Flags.Usual {
			found = i
		}
	}
	return found
}

func clefText(meant, read instruments.Clef) string {
	if meant == read {
		return "the notes stand in the wrong clef"
	}
	return fmt.Sprintf("the notes stand where they would be right in the %s clef, but the %s clef is read", explain.ClefName(meant), explain.ClefName(read))
}

// signatureText says what became of the signature.
func (x *examiner) signatureText(is int) string {
	right := pitch.SignatureWords(x.wantedFifths)
	switch {
	case x.unsigned:
		return fmt.Sprintf("a key signature of %s, where none was asked for", pitch.SignatureWords(is))
	case is == 0:
		return fmt.Sprintf("the key signature is missing: %s", right)
	case x.given != nil && is == x.given.fifths:
		return fmt.Sprintf("the key signature was not moved: %s in place of %s", pitch.SignatureWords(is), right)
	case x.given != nil && is == 2*x.given.fifths-x.wantedFifths:
		return fmt.Sprintf("the key signature was moved the wrong way: %s in place of %s", pitch.SignatureWords(is), right)
	case is-x.wantedFifths == 3 || is-x.wantedFifths == -3:
		return fmt.Sprintf("the key signature is that of the other mode: %s in place of %s", pitch.SignatureWords(is), right)
	}
	return fmt.Sprintf("the key signature is wrong: %s in place of %s", pitch.SignatureWords(is), right)
}
