package marking

import (
	"errors"
	"strconv"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose"
)

// candidate is a staff of an answer's file that may be the answer.
type candidate struct {
	*music
	part string // the part's name
}

// answerFile is what an answer's file holds.
type answerFile struct {
	candidates []candidate
	fields     map[string]string // its <miscellaneous>
}

// ErrNoNotes is an answer without any note.
var ErrNoNotes = errors.New("no notes are in it")

// readAnswer reads every staff of a score that has notes. The error names part,
// measure and beat.
func readAnswer(score *musicxml.Score) (*answerFile, error) {
	f := &answerFile{fields: fieldsOf(score.Header.Root())}
	names := map[string]string{}
	for _, p := range score.ScoreParts() {
		names[p.ID] = p.Name
	}
	var failed error
	for i, raw := range score.Parts {
		found, err := readStaves(score, i)
		if err != nil {
			failed = musicxml.Locate(err, musicxml.Error{File: score.Name, PartName: names[raw.ID], PartID: raw.ID})
			continue
		}
		for _, m := range found {
			f.candidates = append(f.candidates, candidate{m, names[raw.ID]})
		}
	}
	switch {
	case len(f.candidates) > 0:
		return f, nil
	case failed != nil:
		return nil, failed
	}
	return nil, musicxml.Locate(ErrNoNotes, musicxml.Error{File: score.Name})
}

// readStaves reads the staves of one part.
func readStaves(score *musicxml.Score, i int) ([]*music, error) {
	part, err := score.ReadPart(i, nil)
	if err != nil {
		return nil, err
	}
	if err := asPlayed(part); err != nil {
		return nil, err
	}
	var list []*music
	for staff := 1; staff <= staves(part); staff++ {
		m, err := readMusic(part, staff)
		if err != nil {
			return nil, err
		}
		if len(m.heads) > 0 {
			list = append(list, m)
		}
	}
	return list, nil
}

// asPlayed writes a part of a concert score as its player reads it, as its
// <for-part> says: that is the page that the learner saw.
func asPlayed(part *etree.Element) error {
	timeline, err := musicxml.NewTimeline(part)
	if err != nil {
		return err
	}
	stretches, said, err := transpose.ForPart(timeline)
	if err != nil || !said {
		return err
	}
	_, err = transpose.Move(timeline, transpose.Options{Stretches: stretches, MaxSignature: transpose.DefaultOptions().MaxSignature})
	return err
}

// mostStaves bounds the staves of one part that are looked at.
const mostStaves = 4

func staves(part *etree.Element) int {
	most := 1
	for _, e := range part.FindElements("measure/attributes/staves") {
		if n, err := strconv.Atoi(musicxml.Text(e)); err == nil {
			most = max(most, min(n, mostStaves))
		}
	}
	return most
}

// fieldsOf reads the <miscellaneous> of a score.
func fieldsOf(root *etree.Element) map[string]string {
	fields := map[string]string{}
	misc := musicxml.Descend(root, "identification", "miscellaneous")
	if misc == nil {
		return fields
	}
	for _, f := range musicxml.Children(misc, "miscellaneous-field") {
		fields[musicxml.Attr(f, "name")] = musicxml.Text(f)
	}
	return fields
}
