package report

import (
	"deskpart/musicxml/parts"
	"deskpart/transpose"
)

// Version of the program.
const Version = "0.3.0"

// Settings are what decides about the bytes of the parts of a score, as its manifest has
// them.
type Settings struct {
	Input            string          `json:"input"`
	MaxSignature     int             `json:"max_signature"`
	RestBars         int             `json:"rest_bars"`
	Players          bool            `json:"players"`
	WithoutSignature []string        `json:"without_signature"`
	Cues             int             `json:"cues"`
	Spelling         string          `json:"spelling"`
	Tacet            string          `json:"tacet"`
	Level            string          `json:"level"`
	Language         string          `json:"language"`
	Format           string          `json:"format"`
	Bundle           bool            `json:"bundle"`
	ASCIINames       bool            `json:"ascii_names"`
	Only             []string        `json:"only"`
	Plan             []parts.PlanRow `json:"plan"`
	Percussionists   int             `json:"percussionists,omitempty"`
	Share            [][]string      `json:"share,omitempty"`
	Editions         []string        `json:"editions,omitempty"`
	// Substitutes is the sum of the table of who stands in for whom, or CatalogueTable.
	Substitutes string `json:"substitutes,omitempty"`
	Choir       string `json:"choir,omitempty"`
	// Print are the settings of the pages beside the parts. Default: there are none.
	Print any `json:"print,omitempty"`
}

// CatalogueTable stands for the catalogue's own table of substitutes.
const CatalogueTable = "catalogue"

// FormatMusicXML is the format of parts that are plain files.
const FormatMusicXML = "musicxml"

// NewSettings are those of parts that are plain files.
func NewSettings(o parts.Options) Settings {
	s := Settings{Input: string(o.Input), MaxSignature: o.MaxSignature, RestBars: o.RestBars, Players: o.Players,
		WithoutSignature: List(o.WithoutSignature), Cues: o.Cues, Spelling: SpellingWord(o.Spelling), Tacet: string(o.Tacet),
		Level: string(o.Level), Language: string(o.Language), Format: FormatMusicXML, Only: List(o.Only), Plan: List(o.Plan),
		Percussionists: o.Percussionists, Share: o.Share, Choir: string(o.Choir)}
	for _, reader := range o.Editions {
		s.Editions = append(s.Editions, reader.Name)
	}
	if o.Substitutes != nil {
		s.Substitutes = CatalogueTable
	}
	return s
}

// SpellingWord is what a spelling is called in settings and flags.
func SpellingWord(s transpose.Spelling) string {
	if s == transpose.Readable {
		return "readable"
	}
	return "exact"
}

// List makes an absent list an empty one, which JSON writes as [].
func List[T any](items []T) []T {
	if items == nil {
		return []T{}
	}
	return items
}
