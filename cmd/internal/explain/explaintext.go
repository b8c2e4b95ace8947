package explain

import (
	"fmt"
	"strings"

	"deskpart/instruments"
	"deskpart/transpose/pitch"
)

// subject is the instrument at the head of a sentence: "A horn in F", "An alto
// saxophone in E♭".
func (t Task) subject() string {
	if t.Instrument == nil {
		return "This transposition"
	}
	name := InSentence(t.Instrument.Name("en"))
	article := "A "
	if strings.ContainsRune("aeiouAEIO", rune(name[0])) && !strings.HasPrefix(name, "eu") && !strings.HasPrefix(name, "u") {
		article = "An "
	}
	return article + name
}

// properNames are the words of instruments' names that keep their capital.
var properNames = []string{"English", "French", "German", "Wagner", "Celtic", "Irish", "Scottish", "Swiss", "MIDI", "C-melody"}

// InSentence writes an instrument's name as it stands within a sentence: "English
// horn", "horn in F".
func InSentence(name string) string {
	words := strings.Fields(name)
	for i, w := range words {
		if len([]rune(w)) > 2 && indexOf(properNames, w) < 0 {
			words[i] = strings.ToLower(w)
		}
	}
	return strings.Join(words, " ")
}

// SoundsText says what the instrument does to a written note: "sounds a perfect
// fifth lower than written".
func (t Task) SoundsText() string {
	i := t.Transposition().Interval()
	switch direction(i) {
	case "none":
		return "sounds as written"
	case "down":
		return "sounds " + WithArticle(i.Name()) + " lower than written"
	}
	return "sounds " + WithArticle(i.Name()) + " higher than written"
}

// WithArticle puts a or an before an interval's name: "a perfect fifth", "an
// octave"; "two octaves" needs none.
func WithArticle(name string) string {
	switch {
	case strings.HasPrefix(name, "two ") || strings.HasPrefix(name, "three ") || strings.HasPrefix(name, "four "):
		return name
	case strings.ContainsRune("aeiou", rune(name[0])):
		return "an " + name
	}
	return "a " + name
}

// writtenC is middle C as the player reads it, and what sounds then.
var middleC = pitch.Pitch{Step: pitch.C, Octave: 4}

// Title heads an explanation.
func (e *Explanation) Title() string {
	if e.Solution.Instrument == nil {
		return e.Name
	}
	return fmt.Sprintf("%s: from %s to %s pitch", e.Name, e.From, e.From.Other())
}

func (e *Explanation) directionText() string {
	t := e.Solution.Task
	if t.Instrument == nil {
		return e.plainDirection()
	}
	heard := t.Transposition().Interval().Apply(middleC)
	if heard == middleC {
		return t.subject() + " sounds as written: what it reads is what is heard, and nothing moves."
	}
	text := fmt.Sprintf("%s that reads C4 sounds %s: it %s.", t.subject(), heard, t.SoundsText())
	lower := direction(t.Transposition().Interval()) == "down"
	switch {
	case t.From == Sounding && lower:
		return text + " So that the right note sounds, the page must stand higher than the sound: move up."
	case t.From == Sounding:
		return text + " So that the right note sounds, the page must stand lower than the sound: move down."
	case lower:
		return text + " What is heard lies below the page: move down."
	}
	return text + " What is heard lies above the page: move up."
}

func (e *Explanation) plainDirection() string {
	if e.Direction == "none" {
		return "Nothing moves."
	}
	if e.From == Sounding {
		return "No instrument asks for it: this is the way back, so the music moves " + e.Direction + "."
	}
	return "No instrument asks for it: the music simply moves " + e.Direction + "."
}

var stepCounts = []string{"no letters", "1 letter", "2 letters", "3 letters", "4 letters", "5 letters", "6 letters", "7 letters"}

func (e *Explanation) intervalText() string {
	moved := e.Solution.Moved
	if e.Direction == "none" {
		return "The interval is a perfect unison: every note keeps its letter and its octave."
	}
	begin := fmt.Sprintf("From %s to %s pitch", e.From, e.From.Other())
	if e.Solution.Instrument == nil {
		begin = "From the given notes to the answer"
	}
	text := fmt.Sprintf("%s it is %s %s: %s, %s.", begin, WithArticle(e.Interval), e.Direction,
		countLetters(moved.Diatonic), semitones(pitch.Abs(moved.Chromatic)))
	if rest, octaves := withinOctave(moved); octaves > 0 && rest != (pitch.Interval{}) && e.Interval != "octave" {
		text += fmt.Sprintf(" That is %s and %s.", WithArticle(countOctaves(octaves)), WithArticle(rest.Name()))
	}
	if e.Respelled {
		text += fmt.Sprintf(" (By the instrument alone it would be %s; the signature below says why the letters take another way.)",
			WithArticle(e.Solution.Interval().Name()))
	}
	return text
}

// withinOctave parts whole octaves from an interval.
func withinOctave(i pitch.Interval) (rest pitch.Interval, octaves int) {
	if i.Diatonic < 0 {
		rest, octaves = withinOctave(i.Negate())
		return rest.Negate(), octaves
	}
	octaves = i.Diatonic / 7
	return i.Sub(pitch.Octaves(octaves)), octaves
}

func countOctaves(n int) string {
	if n == 1 {
		return "octave"
	}
	return map[int]string{2: "two", 3: "three", 4: "four"}[n] + " octaves"
}

func countLetters(n int) string {
	n = pitch.Abs(n)
	if n < len(stepCounts) {
		return stepCounts[n]
	}
	return fmt.Sprintf("%d letters", n)
}

func semitones(n int) string {
	if n == 1 {
		return "1 semitone"
	}
	return fmt.Sprintf("%d semitones", n)
}

func (e *Explanation) keyText() string {
	by := e.Solution.Moved.Fifths()
	from, to := e.key(), e.answerKey()
	if e.Direction == "none" {
		return fmt.Sprintf("The signature stays: %s, %s.", from, spell(from.Fifths))
	}
	if by == 0 {
		return fmt.Sprintf("Whole octaves change no letter, so the signature stays: %s, %s.", from, spell(from.Fifths))
	}
	text := fmt.Sprintf("The signature moves by the same interval. On the line of fifths %s %s is %s: %s, %s, becomes %s, %s.",
		WithArticle(e.Solution.Moved.Name()), e.Direction, fifthsMove(by), from, spell(from.Fifths), to, spell(to.Fifths))
	if e.Respelled {
		exact := from.Moved(e.Solution.Interval())
		text = fmt.Sprintf("By the instrument's interval %s, %s, would become %s, %s: more than %d. Its enharmonic twin sounds the same and reads more easily: %s, %s. So every note takes the neighbouring letter, and the interval becomes %s.",
			from, spell(from.Fifths), exact, pitch.SignatureWords(exact.Fifths), e.Solution.limit(e.From.Other()), to, spell(to.Fifths), WithArticle(e.Interval))
	}
	if e.Solution.WithoutSignature && e.From == Sounding {
		text += " The part is written without signature all the same: every accidental stands at its note."
	}
	return text + " " + fifthsLine(from.Fifths, to.Fifths)
}

// fifthsMove says a move on the line of fifths: "2 places towards the sharps".
func fifthsMove(by int) string {
	places := "place"
	if pitch.Abs(by) > 1 {
		places = "places"
	}
	side := "sharps"
	if by < 0 {
		side = "flats"
	}
	return fmt.Sprintf("%d %s towards the %s", pitch.Abs(by), places, side)
}

// fifthsLine draws the stretch of the line of fifths that the move covers, the
// two signatures in brackets, with a place on either side.
func fifthsLine(from, to int) string {
	var names []string
	for place := min(from, to) - 1; place <= max(from, to)+1; place++ {
		name := pitch.FifthsName(place)
		if place == from || place == to {
			name = "[" + name + "]"
		}
		names = append(names, name)
	}
	return "Line of fifths: … " + strings.Join(names, " ") + " …"
}

func (e *Explanation) clefText() string {
	given, _ := ClefOf(e.Solution.Given)
	answer, _ := ClefOf(e.Solution.Answer)
	switch {
	case given == answer:
		return "The clef stays: " + clefName(answer) + "."
	case e.From == Sounding:
		return fmt.Sprintf("The clef changes from %s to %s, which %s reads here.", clefName(given), clefName(answer), lowerFirst(e.Solution.subject()))
	}
	return fmt.Sprintf("The clef changes from %s to %s, which holds the sound on the staff.", clefName(given), clefName(answer))
}

func clefName(c instruments.Clef) string { return ClefName(c) + " clef" }

// ClefName is the clef's name for a reader: "treble", "treble (8 below)".
func ClefName(c instruments.Clef) string {
	name := c.Name()
	name = strings.Replace(name, "-8vb", " (8 below)", 1)
	return strings.Replace(name, "-8va", " (8 above)", 1)
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

func (e *Explanation) octaveText() string {
	t := e.Solution.Task
	i := t.Transposition().Interval()
	heard := i.Apply(middleC)
	rest, octaves := withinOctave(i)
	text := fmt.Sprintf("Check the octave with middle C: written C4 sounds %s.", heard)
	if t.Instrument == nil {
		text = fmt.Sprintf("Check the octave with middle C: C4 goes to %s.", e.Solution.Moved.Apply(middleC))
		rest, octaves = withinOctave(e.Solution.Moved)
	}
	switch {
	case octaves > 0 && rest == (pitch.Interval{}):
		text += " The letters are the same on both sides; only the octave differs."
	case octaves > 0:
		text += fmt.Sprintf(" Do not forget the %s on top of the %s.", countOctaves(octaves), rest.Name())
	}
	return text + " The octave number changes at C, not at A."
}

// rangeText says which answers lie outside the instrument's range.
func (e *Explanation) rangeText() string {
	i := e.Solution.Instrument
	if i == nil {
		return ""
	}
	r, ok := i.Range(instruments.Professional)
	if !ok {
		return ""
	}
	var outside []string
	for _, p := range e.Solution.Pairs {
		written := p.To
		if e.From == Written {
			written = p.From
		}
		n, _ := written.MIDI().Whole()
		if !r.Written.Contains(n) && indexOf(outside, written.String()) < 0 {
			outside = append(outside, written.String())
		}
	}
	if len(outside) == 0 {
		return ""
	}
	return fmt.Sprintf("Written %s lies outside the usual range (written %s to %s). Ranges are a guide; for young players their teacher decides.",
		strings.Join(outside, ", "), r.Written.Low, r.Written.High)
}
