package survey

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// WriteText writes a survey for people: what the score is, a table of its parts,
// and the warnings, in the language of said (nil: English). visible makes a text from
// outside safe to print.
func (s *Score) WriteText(w io.Writer, path string, said *texts.Texts, visible func(string) string) error {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n", visible(path))
	if s.Title != "" {
		fmt.Fprintf(&b, "  %s\n", visible(s.Title))
	}
	packed := ""
	if s.Format == "mxl" {
		packed = ", compressed"
	}
	fmt.Fprintf(&b, "  MusicXML %s, %s%s; %s in %s\n", visible(s.Version), s.Layout, packed, notice.Counted(len(s.Parts), "part", "parts"), notice.Counted(s.Measures, "bar", "bars"))
	fmt.Fprintf(&b, "  %s: %s\n\n", pitchWords(s.Pitch), visible(s.Reason))
	s.writeTable(&b, visible)
	for _, warning := range s.Warnings {
		fmt.Fprintf(&b, "  ! %s\n", visible(WarningWords(said, warning)))
	}
	for i := range s.Parts {
		s.Parts[i].writeWarnings(&b, said, visible)
	}
	b.WriteString("\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func pitchWords(pitch string) string {
	if pitch == "unsaid" {
		return "does not say its pitch"
	}
	return pitch + " pitch"
}

func (s *Score) writeTable(b *strings.Builder, visible func(string) string) {
	table := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(table, "  id\tpart\tinstrument\trecognised by\ttransposition\tkeys\tsounds\treads\trange\tnotes")
	for i := range s.Parts {
		p := &s.Parts[i]
		instrument := cmp.Or(p.Instrument, "not known")
		by := p.RecognisedBy
		if p.Assumed {
			by += " (assumed)"
		}
		fmt.Fprintf(table, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%d\n", visible(p.ID), visible(strings.Join(strings.Fields(p.Name), " ")), instrument, by,
			p.transpositions(), keysWords(p.Keys), extent(p.LowestSounding, p.HighestSounding),
			extent(p.LowestWritten, p.HighestWritten), extent(p.RangeLow, p.RangeHigh), p.Notes)
	}
	table.Flush()
}

// transpositions says what the part adds to its written pitch, from where on.
func (p *Part) transpositions() string {
	words := transpositionWords(p.Transpose)
	for _, c := range p.Changes {
		words += ", " + transpositionWords(c.Transpose) + " from " + c.Measure
	}
	return words
}

func transpositionWords(t transpose.Transposition) string {
	if t.Interval() == (pitch.Interval{}) {
		return "none"
	}
	return t.Interval().String()
}

// mostKeys is how many signatures of a part the table shows.
const mostKeys = 4

// keysWords lists signatures: "2#, 1b from 23".
func keysWords(keys []Key) string {
	var words []string
	for i, k := range keys {
		if i == mostKeys {
			words = append(words, fmt.Sprintf("and %d more", len(keys)-mostKeys))
			break
		}
		word := SignatureSign(k.Fifths)
		if i > 0 {
			word += " from " + k.Measure
		}
		words = append(words, word)
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}

// SignatureSign writes a signature short: "3b", "2#", "0".
func SignatureSign(fifths int) string {
	switch {
	case fifths < 0:
		return fmt.Sprintf("%db", -fifths)
	case fifths > 0:
		return fmt.Sprintf("%d#", fifths)
	}
	return "0"
}

func extent(low, high string) string {
	if low == "" {
		return "–"
	}
	return low + " to " + high
}

// mostAlike is how many warnings of one kind are printed for a part.
const mostAlike = 3

// writeWarnings lists a part's warnings; of many of one kind the first few.
func (p *Part) writeWarnings(b *strings.Builder, said *texts.Texts, visible func(string) string) {
	count := map[notice.Code]int{}
	for _, w := range p.Warnings {
		count[w.Code]++
	}
	printed := map[notice.Code]int{}
	for _, w := range p.Warnings {
		printed[w.Code]++
		at := musicxml.Error{PartName: p.Name, PartID: p.ID}
		switch n := printed[w.Code]; {
		case n <= mostAlike:
			at.Measure, at.Beat, at.Code, at.Err = w.Measure, w.Beat, w.Code, errors.New(w.Text)
			fmt.Fprintf(b, "  ! %s\n", visible(texts.Line(said, &at)))
		case n == mostAlike+1:
			fmt.Fprintf(b, "  ! %s: %s\n", visible(placeOf(said, &at)), andMore(said, count[w.Code]-mostAlike))
		}
	}
}

func placeOf(said *texts.Texts, at *musicxml.Error) string {
	if said == nil {
		return at.Where()
	}
	return said.Place(at)
}

func andMore(said *texts.Texts, n int) string {
	if said == nil {
		return fmt.Sprintf("and %d more like this; --json lists them", n)
	}
	return said.Say("told.more", texts.Fill{"n": n})
}

// WarningWords is a warning in one line, with its place: "measure 3, beat 1: …", in the
// language of said (nil: English).
func WarningWords(said *texts.Texts, w musicxml.Warning) string {
	return texts.Line(said, &musicxml.Error{PartName: w.SourceName, PartID: w.SourcePart, Measure: w.Measure, Beat: w.Beat, Code: w.Code, Err: errors.New(w.Text)})
}
