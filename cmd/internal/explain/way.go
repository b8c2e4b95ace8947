package explain

import (
	"fmt"
	"strings"

	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// way is one note's way, in pieces for a page.
type way struct {
	pair    Pair
	letters string // "D up 4 letters: E F G A"
	check   string // "F#4 to C5 would be 6 semitones, 7 are wanted: raise it by 1: C#5."
	print   string // what is printed, and why
	like    int    // the note, counted from 1, whose way it is; 0 for a new one
}

func (w way) text() string {
	if w.like > 0 {
		return fmt.Sprintf("As note %d.", w.like)
	}
	return strings.Join(nonEmpty(w.letters, w.check, w.print), " ")
}

func nonEmpty(texts ...string) []string {
	var kept []string
	for _, t := range texts {
		if t != "" {
			kept = append(kept, t)
		}
	}
	return kept
}

// explainNotes adds a step for every note.
func (e *Explanation) explainNotes() {
	type same struct {
		from, to         pitch.Pitch
		sign, givenSign  string
		fifths, toFifths int
	}
	known := map[same]int{}
	for i, p := range e.Solution.Pairs {
		s := same{p.From, p.To, p.ToSign, p.FromSign, p.FromFifths, p.ToFifths}
		n := way{pair: p, like: known[s]}
		if n.like == 0 {
			known[s] = i + 1
			n.letters, n.check, n.print = lettersText(p), checkText(p), printText(p, e.AnswerKey != nil)
		}
		e.paths = append(e.paths, n)
		e.Steps = append(e.Steps, Step{AboutNote, i + 1, p.From.String(), p.To.String(), n.text()})
	}
}

// lettersText counts the letters: "D up 4 letters: E F G A."
func lettersText(p Pair) string {
	steps := Place(p.To) - Place(p.From)
	if steps == 0 {
		return fmt.Sprintf("The letter stays %s.", p.From.Step)
	}
	way, sign := "up", 1
	if steps < 0 {
		way, sign = "down", -1
	}
	octaves, rest := pitch.Abs(steps)/7, pitch.Abs(steps)%7
	text := fmt.Sprintf("%s %s", p.From.Step, way)
	if octaves > 0 {
		text += " " + WithArticle(countOctaves(octaves))
		if rest == 0 {
			return text + ": the letter stays."
		}
		text += " and"
	}
	var letters []string
	for k := 1; k <= rest; k++ {
		letters = append(letters, pitch.Step(((int(p.From.Step)+sign*k)%7+7)%7).String())
	}
	return fmt.Sprintf("%s %s: %s.", text, countLetters(rest), strings.Join(letters, " "))
}

// checkText counts the semitones to the plain letter and corrects it.
func checkText(p Pair) string {
	plain := pitch.Pitch{Step: p.To.Step, Octave: p.To.Octave}
	wanted, whole := (p.To.MIDI() - p.From.MIDI()).Whole()
	if !whole {
		return fmt.Sprintf("The alteration goes with it: %s.", p.To)
	}
	found, whole := (plain.MIDI() - p.From.MIDI()).Whole()
	if !whole {
		return fmt.Sprintf("The quarter tone goes with it: %s.", p.To)
	}
	if found == wanted {
		return fmt.Sprintf("%s to %s is %s, as wanted.", p.From, plain, semitones(pitch.Abs(found)))
	}
	off := wanted - found
	verb := "raise"
	if off < 0 {
		verb = "lower"
	}
	return fmt.Sprintf("%s to plain %s would be %s; %s wanted, so %s it by %d: %s.", p.From, plain, signedSemitones(found, wanted),
		areSemitones(pitch.Abs(wanted)), verb, pitch.Abs(off), p.To)
}

// signedSemitones counts found in the direction of wanted.
func signedSemitones(found, wanted int) string {
	if found != 0 && wanted != 0 && (found < 0) != (wanted < 0) {
		return semitones(pitch.Abs(found)) + " the other way"
	}
	return semitones(pitch.Abs(found))
}

func areSemitones(n int) string {
	if n == 1 {
		return "1 is"
	}
	return fmt.Sprintf("%d are", n)
}

// printText says what stands before the answer's head.
func printText(p Pair, hasKey bool) string {
	n, whole := p.To.Alter.Whole()
	switch {
	case p.ToSign != "":
		return "" // the accidentals have steps of their own
	case p.TieStop && p.To.Alter != signatureAlter(p.ToFifths, p.To):
		return "The tie carries its accidental over."
	case whole && p.To.Alter != signatureAlter(p.ToFifths, p.To):
		return "Its accidental stands earlier in the bar and still holds."
	case n != 0 && hasKey:
		return "The new signature has it already."
	}
	return ""
}

// spokenSigns are the accidentals in words.
var spokenSigns = map[string]string{"flat-flat": "double flat", "double-sharp": "double sharp", "sharp-sharp": "double sharp",
	"triple-sharp": "triple sharp", "triple-flat": "triple flat", "natural-sharp": "sharp", "natural-flat": "flat"}

func spokenSign(name string) string {
	if s, ok := spokenSigns[name]; ok {
		return s
	}
	return strings.ReplaceAll(name, "-", " ")
}

// SpokenNote is a pitch without its octave in words: "F sharp", "B flat", "C".
func SpokenNote(p pitch.Pitch) string {
	if name, ok := transpose.SignName(p.Alter); ok && p.Alter != 0 {
		return p.Step.String() + " " + spokenSign(name)
	}
	return p.Step.String()
}

// Plainly is SpokenNote that says natural.
func Plainly(p pitch.Pitch) string {
	if p.Alter == 0 {
		return p.Step.String() + " natural"
	}
	return SpokenNote(p)
}

// explainAccidentals adds a step for every accidental that is printed on either
// side.
func (e *Explanation) explainAccidentals() {
	for i, n := range e.paths {
		p := n.pair
		if p.FromSign == "" && p.ToSign == "" || n.like > 0 {
			continue
		}
		e.Steps = append(e.Steps, Step{AboutAccidental, i + 1, p.From.String(), p.To.String(), e.accidentalText(p)})
	}
}

func (e *Explanation) accidentalText(p Pair) string {
	if e.Key == nil {
		return keylessSign(p)
	}
	given, answer := p.From, p.To
	given.Alter, answer.Alter = signatureAlter(p.FromFifths, p.From), signatureAlter(p.ToFifths, p.To)
	if p.Raised() == 0 && p.RaisedInAnswer() == 0 {
		return fmt.Sprintf("%s is the note of the signature, printed again as a reminder; so is %s.", Plainly(p.From), Plainly(p.To))
	}
	if p.Raised() != p.RaisedInAnswer() {
		return fmt.Sprintf("%s needs its accidental at the note: the answer is written without signature.", Plainly(p.To))
	}
	text := fmt.Sprintf("%s: the signature has %s, so the note is %s. In the answer the signature has %s; %s, that is %s.",
		Plainly(p.From), Plainly(given), raisedBy(p.Raised()), Plainly(answer), raisedBy(p.Raised()), Plainly(p.To))
	return text + " " + kindText(p, given, answer)
}

// kindText says whether the kind of the sign changes, and why (the kind test of
// trade/teaching.md, section 3).
func kindText(p Pair, given, answer pitch.Pitch) string {
	from, to := spokenSign(p.FromSign), spokenSign(p.ToSign)
	switch {
	case p.ToSign == "":
		return "No sign is needed there."
	case p.FromSign == "":
		return fmt.Sprintf("Print a %s.", to)
	case p.From.Alter == p.To.Alter:
		return fmt.Sprintf("Both signatures do the same to the letter, so the sign stays a %s.", from)
	}
	return fmt.Sprintf("The kind changes, from %s to %s, because the signatures differ there: %s in the one, %s in the other.", from, to, Plainly(given), Plainly(answer))
}

func keylessSign(p Pair) string {
	switch {
	case p.ToSign == "":
		return fmt.Sprintf("%s becomes %s, which needs no sign.", Plainly(p.From), Plainly(p.To))
	case p.FromSign == "":
		return fmt.Sprintf("%s becomes %s: print a %s.", Plainly(p.From), Plainly(p.To), spokenSign(p.ToSign))
	case p.From.Alter == p.To.Alter:
		return fmt.Sprintf("%s becomes %s: the sign stays a %s.", Plainly(p.From), Plainly(p.To), spokenSign(p.ToSign))
	}
	return fmt.Sprintf("%s becomes %s: the kind of sign changes, from %s to %s.", Plainly(p.From), Plainly(p.To), spokenSign(p.FromSign), spokenSign(p.ToSign))
}

func raisedBy(n int) string {
	word := "raised"
	if n < 0 {
		word, n = "lowered", -n
	}
	return fmt.Sprintf("%s by %d", word, n)
}
