package report

import (
	"bytes"
	"encoding/json"
	"maps"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// ManifestName is the file beside the parts of a score that says what they are.
const ManifestName = "manifest.json"

// ToolName is the program's name in its manifests.
const ToolName = "deskpart"

// Manifest says what was made of one source, and how. It is written last: where
// it stands, all files it names have been written.
type Manifest struct {
	Tool    string `json:"tool"`
	Version string `json:"version"`
	Source  Source `json:"source"`
	// Movements are the scores of a work of several, in order. Default: none, the source
	// is one score.
	Movements []Source `json:"movements,omitempty"`
	// Settings is whatever decides about the bytes written, as JSON.
	Settings json.RawMessage `json:"settings"`
	Parts    []PartRow       `json:"parts"`
	// Files are further files of the source, such as a bundle, and their SHA-256.
	Files map[string]string `json:"files,omitempty"`
	// Quick are the same sums over again, by which a later run sees what has changed
	// since. nil: an older version wrote the manifest, which the SHA-256 tell.
	Quick *QuickSums `json:"xxh64,omitempty"`
}

// QuickSums are the QuickSum of what a manifest names.
type QuickSums struct {
	Source string            `json:"source"`
	Files  map[string]string `json:"files"`
}

// Source is the file that the parts come from.
type Source struct {
	Path   string `json:"path"` // below the folder that was searched, with forward slashes
	SHA256 string `json:"sha256"`
	Title  string `json:"title"`
	Pitch  string `json:"pitch"` // concert, written or mixed
	// ToldBy is what told it: score, request, signatures, ear, "signatures and ear" or
	// nothing. Unsure: not surely, so that a person is asked. Default: sure.
	ToldBy string `json:"told_by,omitempty"`
	Unsure bool   `json:"unsure,omitempty"`
	// Reason says why the pitch was taken for that. Default: none.
	Reason string `json:"reason,omitempty"`
	// Warnings concern the score as a whole. Default: none.
	Warnings []musicxml.Warning `json:"warnings,omitempty"`
	// NotFound are the names of parts that were asked for and that the score has not.
	// Default: none.
	NotFound []string `json:"not_found,omitempty"`
}

// PartRow is one part file, or a part that was not written and why.
type PartRow struct {
	SourcePart string `json:"source_part"`
	SourceName string `json:"source_name"`
	// Staves are the parts of the score that one player has, where there are several:
	// source_part is the one that the part is called by. Default: none.
	Staves       []StaffRow `json:"source_parts,omitempty"`
	Label        string     `json:"label"`
	Instrument   string     `json:"instrument"`
	RecognisedBy string     `json:"recognised_by"`
	Assumed      bool       `json:"assumed,omitempty"`
	// Edition is the reader that the file is for, in a set of editions. Default: none.
	Edition string `json:"edition,omitempty"`
	// Player heads all that one player of a work of several movements has, and Movement
	// is the one that the row is of, counted from 1. Default: none.
	Player   string `json:"player,omitempty"`
	Movement int    `json:"movement,omitempty"`
	// StandsFor is the label of the part in whose place this one is played, where it is
	// for an instrument that stands in. Default: none.
	StandsFor string                  `json:"stands_for,omitempty"`
	Transpose transpose.Transposition `json:"transpose"`
	Moved     MovedValue              `json:"moved"`
	File      string                  `json:"file"`             // in the manifest's folder; "" if there is none
	Inside    string                  `json:"inside,omitempty"` // its path in the bundle that Files names
	SHA256    string                  `json:"sha256"`
	Measures  int                     `json:"measures"`
	Notes     int                     `json:"notes"`
	Respelled int                     `json:"respelled"`
	Status    string                  `json:"status"` // written, tacet or failed
	// Print is the part on paper, a file beside it, where that was asked for.
	Print       string             `json:"print,omitempty"`
	PrintSHA256 string             `json:"print_sha256,omitempty"`
	Warnings    []musicxml.Warning `json:"warnings"`
}

// MovedValue is what was added to the source's notes, in steps and semitones.
type MovedValue struct {
	Diatonic  int `json:"diatonic"`
	Chromatic int `json:"chromatic"`
}

// JSON is a whole document as it is written to files and to standard output: indented,
// letters as they are, a line end at the end. Keys of maps are sorted.
func JSON(value any) ([]byte, error) {
	text, err := marshal(value, "", "  ")
	return append(text, '\n'), err
}

// JSONLine is a document on a line of its own, so that the reports of several machines
// can be put one after another.
func JSONLine(value any) ([]byte, error) {
	text, err := marshal(value, "", "")
	return append(text, '\n'), err
}

// SameRun tells whether the manifest is of the same source, settings and program as
// want, which needs no parts.
func (m *Manifest) SameRun(want Manifest) bool {
	return m.Tool == want.Tool && m.Version == want.Version &&
		m.Source.Path == want.Source.Path && m.Source.SHA256 == want.Source.SHA256 &&
		CompactJSON(m.Settings) == CompactJSON(want.Settings)
}

// Sums are the files that a manifest names, and their SHA-256.
func (m *Manifest) Sums() map[string]string {
	sums := map[string]string{}
	maps.Copy(sums, m.Files)
	for _, row := range m.Parts {
		if row.File != "" {
			sums[row.File] = row.SHA256
		}
		if row.Print != "" {
			sums[row.Print] = row.PrintSHA256
		}
	}
	return sums
}

// QuickSum is the quick sum of a file that the manifest names, "" where it says none.
func (m *Manifest) QuickSum(name string) string {
	if m == nil || m.Quick == nil {
		return ""
	}
	return m.Quick.Files[name]
}

// SourceSums are the sums of the source that the manifest's files are to be made of. The
// SHA-256 is that of an earlier manifest where the quick sum is: old may be nil.
func (m *Manifest) SourceSums(data []byte, old *Manifest) {
	m.Quick = &QuickSums{Source: QuickSum(data), Files: map[string]string{}}
	if old != nil && old.Quick != nil && old.Quick.Source == m.Quick.Source {
		m.Source.SHA256 = old.Source.SHA256
		return
	}
	m.Source.SHA256 = Sum(data)
}

// CompactJSON is a document without its white space, to be compared.
func CompactJSON(document json.RawMessage) string {
	var b bytes.Buffer
	if json.Compact(&b, document) != nil {
		return string(document)
	}
	return b.String()
}
