package report

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/notice"
)

// Summary is what a run came to, for people at its end and for programs as the
// last JSON line. The zero value is an empty run.
type Summary struct {
	Files     int    `json:"files"`             // inputs worked on
	Parts     int    `json:"parts"`             // parts in them
	Written   int    `json:"written"`           // files written
	Unchanged int    `json:"unchanged"`         // inputs with nothing left to do
	Left      int    `json:"left"`              // inputs not come to, when stopped
	Warnings  Counts `json:"warnings"`          // by code
	Rejected  Counts `json:"rejected"`          // by code
	Stopped   string `json:"stopped,omitempty"` // why it ended before its end
	ReadOnly  bool   `json:"-"`                 // the run writes no files, so that none are counted
}

// Counts are numbers of notices by their codes.
type Counts map[notice.Code]int

// Total is how many notices there are.
func (c Counts) Total() int {
	sum := 0
	for _, n := range c {
		sum += n
	}
	return sum
}

func (c *Counts) add(code notice.Code) {
	if *c == nil {
		*c = Counts{}
	}
	(*c)[code]++
}

// MarshalJSON writes counts of nothing as {}.
func (s Summary) MarshalJSON() ([]byte, error) {
	type fields Summary // without this method
	if s.Warnings == nil {
		s.Warnings = Counts{}
	}
	if s.Rejected == nil {
		s.Rejected = Counts{}
	}
	return json.Marshal(fields(s))
}

// Warn counts one warning of a kind.
func (s *Summary) Warn(code notice.Code) { s.Warnings.add(code) }

// Reject counts one file that was refused.
func (s *Summary) Reject(code notice.Code) { s.Rejected.add(code) }

// NeedsPerson tells whether the exit status should be 1.
func (s *Summary) NeedsPerson() bool { return len(s.Rejected) > 0 }

// WriteText writes the summary for people, in the language of said (nil: English).
func (s *Summary) WriteText(w io.Writer, said *texts.Texts) error {
	words := inEnglish
	if said != nil {
		words = wordsOf(said)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s, %s", words.scores(s.Files), words.parts(s.Parts))
	if !s.ReadOnly {
		fmt.Fprintf(&b, "; %s", words.written(s.Written))
	}
	if s.Unchanged > 0 {
		fmt.Fprintf(&b, ", %s", words.unchanged(s.Unchanged))
	}
	if s.Left > 0 {
		fmt.Fprintf(&b, ", %s", words.left(s.Left))
	}
	b.WriteString("\n")
	writeCounts(&b, words.warnings, words.meaning, s.Warnings)
	writeCounts(&b, words.rejected, words.meaning, s.Rejected)
	_, err := io.WriteString(w, b.String())
	return err
}

// writeCounts lists counts with what they mean, the most frequent first.
func writeCounts(b *strings.Builder, heading func(int) string, meaning func(notice.Notice) string, counts Counts) {
	if len(counts) == 0 {
		return
	}
	fmt.Fprintf(b, "%s:\n", heading(counts.Total()))
	codes := slices.Sorted(maps.Keys(counts))
	slices.SortStableFunc(codes, func(a, b notice.Code) int { return counts[b] - counts[a] })
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	for _, code := range codes {
		n, _ := notice.Lookup(code)
		fmt.Fprintf(table, "%7d  %s\t%s\n", counts[code], code, meaning(n))
	}
	table.Flush()
}
