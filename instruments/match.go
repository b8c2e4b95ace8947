package instruments

import (
	"strings"

	"deskpart/transpose/pitch"
)

// How an instrument was recognised.
const (
	ByName   = "name"   // the part's name, or that of its group, says instrument and, where it matters, key
	BySound  = "sound"  // the standard sound id says it
	ByFamily = "family" // the instrument is said, its usual key is assumed; or it is assumed from the playback program
	ByNone   = "none"   // not recognised
)

// A Match is what the catalogue makes of what stands in a score about a part.
type Match struct {
	Instrument   *Instrument    // nil where By is "none"
	By           string         // ByName, BySound, ByFamily or ByNone
	KeyStated    bool           // the name says the key
	Number       string         // the players' numbers as the label has them: "1", "3,4", ""
	Players      []int          // the same as numbers
	Qualifier    string         // "Solo", "Repiano": stays in the label
	Doubles      []*Instrument  // further instruments of the same player, in the order named
	Assumed      bool           // not sure: the key, or which of two instruments a word means
	Alone        bool           // of a change: a name without words of a change and without a key, which may be a cue's
	Alternatives []*Instrument  // what else it could be, the likeliest first
	Unknown      []string       // words of the name that nothing is known of
	Language     pitch.Language // of the name, "" where it does not tell
	Why          string         // in words, for a report

	// Question is what a person should settle, with both readings, where clef,
	// notes or the other parts contradict the name or nothing tells what it
	// means; "" where there is nothing to ask.
	Question string

	doubleNumbers []string // of the player on each of Doubles: the 3 of "Piccolo / Flute 3"
}

// Label returns the label of the part, with the qualifier and with all instruments
// that the player must bring: "Solo Cornet in B♭", "Flute 2 / Piccolo", "Clarinet in
// B♭/A". It is "" where no instrument was recognised.
func (m Match) Label(language pitch.Language) string {
	if m.Instrument == nil {
		return ""
	}
	label := m.Instrument.labelWith(m.keysBeside(language), language, m.Number) + m.doubled(language)
	if language == pitch.English {
		return joinWords(m.Qualifier, label)
	}
	return joinWords(label, m.Qualifier)
}

// Recognised reports whether an instrument was found.
func (m Match) Recognised() bool {
	return m.Instrument != nil
}

// keysBeside returns the keys in which the player has the same kind of instrument
// besides: "/A" for a clarinettist with clarinets in B flat and A.
func (m Match) keysBeside(language pitch.Language) string {
	keys := ""
	for _, i := range m.Doubles {
		if i.Kind == m.Instrument.Kind && i.Flags.SaysKey {
			keys += "/" + keyWords(language, i.Key, i.saidRegister())
		}
	}
	return keys
}

// doubled returns the instruments of other kinds that the player has besides: " /
// Piccolo", and in brackets what a percussionist plays.
func (m Match) doubled(language pitch.Language) string {
	var names []string
	for n, i := range m.Doubles {
		if i.Kind == m.Instrument.Kind && i.Flags.SaysKey {
			continue
		}
		number := ""
		if n < len(m.doubleNumbers) {
			number = m.doubleNumbers[n]
		}
		names = append(names, i.Label(language, number))
	}
	switch {
	case len(names) == 0:
		return ""
	case m.Instrument.Kind == "percussion":
		return " (" + strings.Join(names, ", ") + ")"
	}
	return " / " + strings.Join(names, " / ")
}
