package instruments

import (
	"slices"
	"strings"
)

// evidence is something that may speak for or against one of several instruments that
// a word may mean.
type evidence struct {
	weight int
	reason string // in words that follow a name, for a report
	speaks func(s *scene, t target, m *mention) verdict
}

// verdict is +1 for an instrument, -1 against it, 0 where nothing is said.
type verdict int

// evidences are weighed together. Their order is common practice (no source): what the
// score says of the part itself goes before what stands around it, and that before
// the catalogue's own preference. The recognition table and the ensembles of the
// tests hold the numbers.
var evidences = []evidence{
	{14, "its group is named for that family", (*scene).groupNamesFamily},
	{12, "its sound says so", (*scene).soundSays},
	{10, "its transposition is that", (*scene).transpositionSays},
	{20, "syllables stand under the notes", (*scene).lyricsSay},
	{6, "the word means that with this key or clef or in this roster", conditionMet},
	{6, "the clef", (*scene).clefSays},
	{6, "the notes lie there", (*scene).rangeSays},
	{5, "the key", (*scene).keySays},
	{5, "its group is named for that section", (*scene).groupNamesSection},
	{4, "it stands in a row of voices", (*scene).standsInChoir},
	{9, "the voices go down to the bass", (*scene).standsInFullChoir},
	{4, "nobody sings", (*scene).silenceSays},
	{4, "the part beside it is of that family", (*scene).besideFamily},
	{6, "the part beside it is of that section", (*scene).besideGroup},
	{2, "others in the score are of that section", (*scene).amongGroup},
	{2, "others in the score are of that family", (*scene).amongFamily},
	{4, "the same name says so", (*scene).besideInName},
	{4, "the spelling", spelledSo},
	{4, "the language of the name", languageOfName},
	{4, "the language of the score", (*scene).languageOfScore},
	{2, "the playback program", (*scene).programSays},
	{1, "", preferred},
}

// weigh adds up what speaks for an instrument that a word may mean.
func (s *scene) weigh(t target, m *mention) int {
	sum := 0
	for _, e := range evidences {
		sum += e.weight * int(e.speaks(s, t, m))
	}
	return sum
}

// reasons are the words of all that speaks for an instrument and not for the other.
func (s *scene) reasons(t, other target, m *mention) string {
	var words []string
	for _, e := range evidences {
		if e.reason != "" && e.speaks(s, t, m) > e.speaks(s, other, m) {
			words = append(words, e.reason)
		}
	}
	return strings.Join(words, ", ")
}

func holds(says bool) verdict {
	if says {
		return 1
	}
	return 0
}

func (s *scene) usual(t target) *Instrument { return s.c.usual(t.kind) }

func (s *scene) groupNamesFamily(t target, _ *mention) verdict {
	g := s.heard().group
	return holds(g != nil && s.heard().section == "" && slices.Contains(s.c.families(g.targets), s.usual(t).Family))
}

func (s *scene) groupNamesSection(t target, _ *mention) verdict {
	return holds(s.heard().section == s.usual(t).Group)
}

func (s *scene) soundSays(t target, _ *mention) verdict {
	return holds(s.hasSound(t.kind) || s.usual(t).Group == Voices && strings.HasPrefix(s.Sound, "voice."))
}

// transpositionSays: a part that says its transposition is for an instrument which
// has it.
func (s *scene) transpositionSays(t target, _ *mention) verdict {
	said := s.said()
	if said == nil {
		return 0
	}
	for _, i := range s.c.byKind[t.kind] {
		if i.Interval() == *said {
			return 1
		}
	}
	return -1
}

// lyricsSay: who has syllables sings.
func (s *scene) lyricsSay(t target, _ *mention) verdict {
	sung, _ := s.lyrics()
	return holds(sung && s.usual(t).Group == Voices)
}

// silenceSays: who has no syllables seldom sings.
func (s *scene) silenceSays(t target, _ *mention) verdict {
	if sung, known := s.lyrics(); known && !sung && s.usual(t).Group == Voices {
		return -1
	}
	return 0
}

// conditionMet leaves out the conditions that have evidence of their own or say little.
func conditionMet(_ *scene, t target, m *mention) verdict {
	switch t.when {
	case "", whenFirst, whenSound, whenNumber, whenFamily:
		return 0
	case whenClef:
		return holds(m.clef != "")
	}
	return 1
}

func (s *scene) keySays(t target, m *mention) verdict {
	return holds(len(m.keys) > 0 && s.c.inAnyReading(t.kind, m.keys[0]))
}

// clefSays speaks against an instrument that does not read the clef.
func (s *scene) clefSays(t target, _ *mention) verdict {
	clef, known := s.clef()
	if known && s.c.strangeClef(t.kind, clef) {
		return -1
	}
	return 0
}

// rangeSays speaks against an instrument for which most of the notes are out of range.
func (s *scene) rangeSays(t target, _ *mention) verdict {
	if s.Music == nil {
		return 0
	}
	best, known := 0, false
	for _, i := range s.c.byKind[t.kind] {
		inside, has := s.Music.inside(i)
		best, known = max(best, inside), known || has
	}
	if known && best < mostly {
		return -1
	}
	return 0
}

// mostly is the share of the notes, in hundredths, that must lie in an instrument's
// range for the part to be its.
const mostly = 50

func (s *scene) standsInChoir(t target, _ *mention) verdict {
	return holds(s.choir() > 0 && s.usual(t).Group == Voices)
}

func (s *scene) standsInFullChoir(t target, _ *mention) verdict {
	return holds(s.choir() > 1 && s.usual(t).Group == Voices)
}

// choir is how surely the part stands in a choir by its place. A row of voices that
// nobody sings is none unless it goes down to the bass.
func (s *scene) choir() int {
	if s.roster == nil {
		return 0
	}
	return s.roster.members[s.at].choir
}

func (s *scene) besideFamily(t target, _ *mention) verdict {
	return holds(slices.ContainsFunc(s.roster.beside(s.at), func(i *Instrument) bool { return i.Family == s.usual(t).Family }))
}

func (s *scene) besideGroup(t target, _ *mention) verdict {
	return holds(slices.ContainsFunc(s.roster.beside(s.at), func(i *Instrument) bool { return i.Group == s.usual(t).Group }))
}

// amongGroup: a voice where there are voices, else the member of a section that is
// there.
func (s *scene) amongGroup(t target, _ *mention) verdict { return holds(s.hasGroup(s.usual(t).Group)) }

func (s *scene) amongFamily(t target, _ *mention) verdict {
	family := s.usual(t).Family
	return holds(s.roster.has(s.at, func(i *Instrument) bool { return i.Family == family }))
}

func (s *scene) besideInName(t target, _ *mention) verdict {
	return holds(s.named != "" && s.usual(t).Group == s.named)
}

func spelledSo(_ *scene, t target, m *mention) verdict {
	return holds(slices.Contains(t.spellings, written(m.words)))
}

func languageOfName(_ *scene, t target, m *mention) verdict {
	return holds(slices.Contains(m.languages, oneOf(t.languages)))
}

func (s *scene) languageOfScore(t target, _ *mention) verdict {
	return holds(slices.Contains(t.languages, s.language()))
}

func (s *scene) programSays(t target, _ *mention) verdict {
	return holds(s.Program > 0 && s.c.programs[s.Program] == t.kind)
}

func preferred(_ *scene, t target, _ *mention) verdict {
	return holds(t.when == whenFirst || t.when == whenNumber)
}

// strangeClef reports whether no player of a kind reads a clef: a C clef that the
// kind has none of, the bass clef for what never sounds low, a percussion clef for
// what has pitch, the treble clef for a low voice. In a score in C low transposing
// instruments stand in the bass clef and high passages in the treble clef, which
// tells nothing.
func (c *Catalogue) strangeClef(kind string, clef Clef) bool {
	usual := c.usual(kind)
	if slices.ContainsFunc(c.byKind[kind], func(i *Instrument) bool { return i.reads(clef) }) {
		return false
	}
	switch clef.Sign {
	case "C": // old editions have all voices in C clefs
		return usual.Staves == 1 && usual.Group != Voices
	case "F":
		r, ok := usual.Range(Professional)
		return ok && r.Sounding.Low.NoteNumber() >= neverLow
	case "G":
		return usual.Group == Voices || usual.Group == Brass
	case "percussion":
		return !usual.Flags.Unpitched && usual.Group != Percussion
	}
	return false
}

// neverLow is the MIDI note number of E3: an instrument with no lower note has no use for
// the bass clef.
const neverLow = 52
