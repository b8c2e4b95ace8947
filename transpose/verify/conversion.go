package verify

import (
	"fmt"
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/parts"
)

// Conversion sends a whole score the way that convert takes, to the pitch that it is not in and
// back, each time through the text of a file with all that its header says, and compares
// every part with the source. A source that leaves its transposition unsaid is compared
// as it was read, with the transposition that was taken. resurvey reads the score that
// stands between.
func Conversion(s *parts.Surveyed, resurvey func(*musicxml.Score) (*parts.Surveyed, error)) ([][]Finding, error) {
	there, back := parts.Concert, parts.Written
	if pitch, _ := s.Pitch(); pitch == "concert" {
		there, back = back, there
	}
	text, err := convertWhole(s, there)
	if err != nil {
		return nil, err
	}
	score, err := musicxml.Read(text, musicxml.ReadOptions{SkipFiles: true})
	if err != nil {
		return nil, fmt.Errorf("the score in %s pitch cannot be read: %w", there, err)
	}
	between, err := resurvey(score)
	if err != nil {
		return nil, fmt.Errorf("the score in %s pitch: %w", there, err)
	}
	found := make([][]Finding, len(score.Parts))
	var source, returned parts.Workspace
	for i := range score.Parts {
		if found[i], err = comesBack(s, between, i, back, &source, &returned); err != nil {
			return nil, err
		}
		for k := range found[i] {
			found[i][k].Text = fmt.Sprintf("by way of a score in %s pitch: %s", there, found[i][k].Text)
		}
	}
	return found, nil
}

// convertWhole converts a score and writes it.
func convertWhole(s *parts.Surveyed, to parts.Input) ([]byte, error) {
	n := len(s.PartNames())
	reports, texts := make([]parts.Report, n), make([][]byte, n)
	var w parts.Workspace
	for i := range n {
		part, err := s.Convert(&w, i, to)
		if err != nil {
			return nil, err
		}
		reports[i], texts[i] = part.Report, slices.Clone(part.Bytes(musicxml.NoteALine))
	}
	doc, places := s.ConvertedScore(to, reports)
	ready := map[*etree.Element][]byte{}
	for i, place := range places {
		ready[place] = texts[i]
	}
	return musicxml.AppendReady(nil, doc, musicxml.NoteALine, ready), nil
}

// comesBack converts one part back and compares it with the source.
func comesBack(s, between *parts.Surveyed, i int, back parts.Input, source, returned *parts.Workspace) ([]Finding, error) {
	got, err := between.Convert(returned, i, back)
	if err != nil {
		return nil, err
	}
	_, want, err := s.Source(source, i)
	if err != nil {
		return nil, err
	}
	return withoutSignsOf(Compare(want, got.Part)), nil
}
