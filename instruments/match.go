package instruments

// How an instrument was recognised.
const (
	ByName   = "name"   // the part's name says instrument and, where it matters, key
	BySound  = "sound"  // the standard sound id says it
	ByFamily = "family" // the name says the instrument, its usual key is assumed
	ByNone   = "none"   // not recognised
)

// A Query is what a score says about a part.
type Query struct {
	Name            string   // part-name
	Abbreviation    string   // part-abbreviation
	Sound           string   // instrument-sound, a standard sound id
	InstrumentNames []string // instrument-name of each score-instrument
	Language        string   // of the score's names where known, decides what a plain B means

	Others *Company // the score's other parts. Default: nil, none is known

	company string // group of the instrument that the same name puts first
}

// A Match is what the catalogue makes of a part's names.
type Match struct {
	Instrument   *Instrument   // nil where By is "none"
	By           string        // ByName, BySound, ByFamily or ByNone
	KeyStated    bool          // the name says the key
	Number       string        // the players' numbers as the label has them: "1", "3,4", ""
	Players      []int         // the same as numbers
	Qualifier    string        // "Solo", "Repiano": stays in the label
	Doubles      []*Instrument // further instruments of the same player, in the order named
	Assumed      bool          // not sure: the key, or which of two instruments a word means
	Alternatives []*Instrument // what else it could be, the likeliest first
	Language     string        // of the name, "" where it does not tell
	Why          string        // in words, for a report
}

// Label returns the label of the part, with the qualifier: "Solo Cornet in B♭".
// It is "" where no instrument was recognised.
func (m Match) Label(language string) string {
	if m.Instrument == nil {
		return ""
	}
	label := m.Instrument.Label(language, m.Number)
	if language == "en" {
		return joinWords(m.Qualifier, label)
	}
	return joinWords(label, m.Qualifier)
}

// Recognised reports whether an instrument was found.
func (m Match) Recognised() bool {
	return m.Instrument != nil
}
