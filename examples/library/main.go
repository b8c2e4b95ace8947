// Library shows deskpart as a Go library: the parts of a score, the proof that moving
// them changes nothing, one part given to another instrument, and that part on paper.
//
//	go run ./examples/library examples/two-ferries.musicxml >tenor-horn.pdf
package main

import (
	"fmt"
	"io"
	"log"
	"os"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/paper"
	"deskpart/musicxml/engraving/pdf"
	"deskpart/musicxml/parts"
	"deskpart/transpose/verify"
)

func main() {
	if len(os.Args) != 2 {
		log.Fatal("name a score, such as examples/two-ferries.musicxml")
	}
	if err := show(os.Args[1], os.Stderr, os.Stdout); err != nil {
		log.Fatal(err)
	}
}

func show(path string, said, page io.Writer) error {
	catalogue, err := instruments.Load()
	if err != nil {
		return err
	}
	score, err := musicxml.ReadFile(path, musicxml.ReadOptions{})
	if err != nil {
		return err
	}
	for part, err := range parts.Extract(score, catalogue, parts.DefaultOptions()) {
		if err != nil {
			return err
		}
		fmt.Fprintf(said, "%s: %d notes, written %s\n", part.Label, part.Report.Notes, part.Report.Moved)
	}
	results, err := verify.Score(score, catalogue, verify.DefaultOptions())
	if err != nil {
		return err
	}
	for _, r := range results {
		fmt.Fprintf(said, "%s, there and back: %s\n", r.Name, r.Verdict)
	}
	given := parts.DefaultOptions()
	given.Plan = []parts.PlanRow{{Part: "Horn", Instrument: "tenor horn", Octave: "auto"}}
	given.Only = []string{"horn"}
	for part, err := range parts.Extract(score, catalogue, given) {
		if err != nil {
			return err
		}
		book, err := paper.Read(part.Document.Root(), given.RestBars)
		if err != nil {
			return err
		}
		laid, err := paper.Lay(book, paper.Options{})
		if err != nil {
			return err
		}
		w := pdf.New(page, pdf.Info{Title: part.Label, Language: "en"})
		for i := range laid.Pages {
			w.Page(&laid.Pages[i])
		}
		return w.Close()
	}
	return fmt.Errorf("%s has no horn", path)
}
