package explain

import (
	"slices"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/transpose/pitch"
)

// way is one note's way, in pieces for a page.
type way struct {
	pair    Pair
	letters string // "D up 4 letters: E F G A."
	check   string // "F♯4 to plain C5 would be 6 semitones; 7 are wanted, so raise it by 1: C♯5."
	print   string // what is printed, and why
	like    int    // the note, counted from 1, whose way it is; 0 for a new one
}

func (e *Explanation) wayText(w way) string {
	if w.like > 0 {
		return e.t.Say("explain.like", texts.Fill{"n": w.like})
	}
	parts := slices.DeleteFunc([]string{w.letters, w.check, w.print}, func(s string) bool { return s == "" })
	return strings.Join(parts, " ")
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
			n.letters, n.check, n.print = e.lettersText(p), e.checkText(p), e.printText(p)
		}
		e.paths = append(e.paths, n)
		e.Steps = append(e.Steps, Step{AboutNote, i + 1, p.From.String(), p.To.String(), e.wayText(n)})
	}
}

// lettersText counts the letters: "D up 4 letters: E F G A."
func (e *Explanation) lettersText(p Pair) string {
	steps := p.To.Place() - p.From.Place()
	fill := texts.Fill{"letter": e.letterOf(p.From)}
	if steps == 0 {
		return e.t.Say("explain.letter-stays", fill)
	}
	octaves, rest := pitch.Abs(steps)/7, pitch.Abs(steps)%7
	if octaves > 0 {
		fill["octaves"] = e.t.Interval(pitch.Octaves(octaves))
	}
	if rest > 0 {
		fill["n"], fill["letters"] = rest, e.letterRow(p.From.Step, rest, steps > 0)
	}
	switch up := steps > 0; {
	case octaves == 0 && up:
		return e.t.Say("explain.letters-up", fill)
	case octaves == 0:
		return e.t.Say("explain.letters-down", fill)
	case rest == 0 && up:
		return e.t.Say("explain.octaves-up", fill)
	case rest == 0:
		return e.t.Say("explain.octaves-down", fill)
	case up:
		return e.t.Say("explain.both-up", fill)
	}
	return e.t.Say("explain.both-down", fill)
}

// letterOf is the letter from which a note is counted; German has one for B flat.
func (e *Explanation) letterOf(p pitch.Pitch) string {
	if e.t.Language == pitch.German && p.Step == pitch.B && p.Alter == pitch.Semitones(-1) {
		return e.t.Note(p)
	}
	return e.t.Letter(p.Step)
}

// letterRow lists the letters that are counted.
func (e *Explanation) letterRow(from pitch.Step, n int, up bool) string {
	var letters []string
	for k := 1; k <= n; k++ {
		place := int(from) + k
		if !up {
			place = int(from) - k + 7
		}
		letters = append(letters, e.t.Letter(pitch.At(place).Step))
	}
	return strings.Join(letters, " ")
}

// checkText counts the semitones to the plain letter and corrects it.
func (e *Explanation) checkText(p Pair) string {
	plain := pitch.Pitch{Step: p.To.Step, Octave: p.To.Octave}
	wanted, whole := (p.To.MIDI() - p.From.MIDI()).Whole()
	found, plainWhole := (plain.MIDI() - p.From.MIDI()).Whole()
	if !whole || !plainWhole {
		return e.t.Say("explain.alteration-goes", texts.Fill{"note": e.t.Pitch(p.To)})
	}
	if found == wanted {
		return e.t.Say("explain.as-wanted", texts.Fill{"a": e.t.Pitch(p.From), "b": e.t.Pitch(plain), "n": pitch.Abs(found)})
	}
	fill := texts.Fill{"a": e.t.Pitch(p.From), "b": e.t.Pitch(plain), "n": pitch.Abs(found), "m": pitch.Abs(wanted), "k": pitch.Abs(wanted - found), "result": e.t.Pitch(p.To)}
	switch raise, turn := wanted > found, found != 0 && wanted != 0 && (found < 0) != (wanted < 0); {
	case raise && turn:
		return e.t.Say("explain.turn-raise", fill)
	case raise:
		return e.t.Say("explain.correct-raise", fill)
	case turn:
		return e.t.Say("explain.turn-lower", fill)
	}
	return e.t.Say("explain.correct-lower", fill)
}

// printText says what stands before the answer's head.
func (e *Explanation) printText(p Pair) string {
	n, whole := p.To.Alter.Whole()
	switch {
	case p.ToSign != "":
		return "" // the accidentals have steps of their own
	case p.TieStop && p.To.Alter != signatureAlter(p.ToFifths, p.To):
		return e.t.Say("explain.tie-carries", nil)
	case whole && p.To.Alter != signatureAlter(p.ToFifths, p.To):
		return e.t.Say("explain.sign-holds", nil)
	case n != 0 && e.AnswerKey != nil:
		return e.t.Say("explain.in-signature", nil)
	}
	return ""
}
