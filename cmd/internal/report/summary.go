package report

import (
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
)

// Summary is what a run came to, for people at its end and for programs as the
// last JSON line. The zero value is an empty run.
type Summary struct {
	Files     int            `json:"files"`             // inputs worked on
	Parts     int            `json:"parts"`             // parts in them
	Written   int            `json:"written"`           // files written
	Unchanged int            `json:"unchanged"`         // inputs with nothing left to do
	Left      int            `json:"left"`              // inputs not come to, when stopped
	Warnings  map[string]int `json:"warnings"`          // by code
	Rejected  map[string]int `json:"rejected"`          // by reason
	Stopped   string         `json:"stopped,omitempty"` // why it ended before its end
	ReadOnly  bool           `json:"-"`                 // the run writes no files, so that none are counted
}

// MarshalJSON writes counts of nothing as {}.
func (s Summary) MarshalJSON() ([]byte, error) {
	type fields Summary // without this method
	if s.Warnings == nil {
		s.Warnings = map[string]int{}
	}
	if s.Rejected == nil {
		s.Rejected = map[string]int{}
	}
	return json.Marshal(fields(s))
}

// Warn counts one warning of a kind.
func (s *Summary) Warn(code string) { count(&s.Warnings, code, 1) }

// Reject counts one file that was refused, for a reason that names no file,
// part or place, so that equal ones come together.
func (s *Summary) Reject(reason string) { count(&s.Rejected, reason, 1) }

// Add adds another run's figures, such as another shard's.
func (s *Summary) Add(other Summary) {
	s.Files += other.Files
	s.Parts += other.Parts
	s.Written += other.Written
	s.Unchanged += other.Unchanged
	s.Left += other.Left
	for code, n := range other.Warnings {
		count(&s.Warnings, code, n)
	}
	for reason, n := range other.Rejected {
		count(&s.Rejected, reason, n)
	}
	if s.Stopped == "" {
		s.Stopped = other.Stopped
	}
}

func count(counts *map[string]int, what string, n int) {
	if *counts == nil {
		*counts = map[string]int{}
	}
	(*counts)[what] += n
}

func total(counts map[string]int) int {
	sum := 0
	for _, n := range counts {
		sum += n
	}
	return sum
}

// NeedsPerson tells whether the exit status should be 1.
func (s *Summary) NeedsPerson() bool {
	return len(s.Rejected) > 0 || s.Left > 0 || s.Stopped != ""
}

// WriteText writes the summary for people.
func (s *Summary) WriteText(w io.Writer) error {
	var b strings.Builder
	if s.Stopped != "" {
		fmt.Fprintf(&b, "%s before the end; run it again to go on\n", s.Stopped)
	}
	fmt.Fprintf(&b, "%s, %s", counted(s.Files, "score"), counted(s.Parts, "part"))
	if !s.ReadOnly {
		fmt.Fprintf(&b, "; %s written", counted(s.Written, "file"))
	}
	if s.Unchanged > 0 {
		fmt.Fprintf(&b, ", %s already done", counted(s.Unchanged, "score"))
	}
	if s.Left > 0 {
		fmt.Fprintf(&b, ", %s not come to", counted(s.Left, "score"))
	}
	b.WriteString("\n")
	writeCounts(&b, "warning", s.Warnings)
	writeCounts(&b, "rejected file", s.Rejected)
	_, err := io.WriteString(w, b.String())
	return err
}

// writeCounts lists counts, the most frequent first.
func writeCounts(b *strings.Builder, what string, counts map[string]int) {
	if len(counts) == 0 {
		return
	}
	fmt.Fprintf(b, "%s:\n", counted(total(counts), what))
	kinds := slices.Sorted(maps.Keys(counts))
	slices.SortStableFunc(kinds, func(a, b string) int { return counts[b] - counts[a] })
	for _, kind := range kinds {
		fmt.Fprintf(b, "%7d  %s\n", counts[kind], Visible(kind))
	}
}

// counted is a number with its noun: "1 part", "2 parts".
func counted(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
