package parts

// WordKind says what words over a staff are about, for who only has to name them.
type WordKind int

// The kinds of words.
const (
	OtherWords WordKind = iota // one player's, or unknown
	TempoWords                 // a tempo, or a change of it
	RoadWords                  // where to go on
)

// KindOfWords finds what words are about: "più mosso" is TempoWords, "D.C. al Fine"
// RoadWords. A word that is a tempo at the head of a system alone ("espressivo")
// is OtherWords.
func KindOfWords(text string) WordKind {
	l, err := words()
	if err != nil {
		return OtherWords
	}
	switch l.read(text).class {
	case tempoWords, gradualWords:
		return TempoWords
	case roadWords:
		return RoadWords
	}
	return OtherWords
}
