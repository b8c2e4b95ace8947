package collate

import (
	"cmp"
	"path/filepath"
	"regexp"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/parts/apart"
)

// Part is a part that exists: one part of a file.
type Part struct {
	File string // as it was given
	Name string // what the part calls itself, or its file
	// Source is the id of the score's part that a manifest says it was made from.
	// Default: none.
	Source string
	// Err is why the file cannot be read. Default: it can.
	Err error

	some       bool // passages of a staff that several players have among them
	match      instruments.Match
	transcript *transcript
	shapes     map[uint64]int
}

// ReadFile takes the parts out of a file, the staves of a player who has several each by
// itself. read is what musicxml.ReadFile made of that file, not the score that it is held
// against; madeOf is the id of the score's part that the file is known to be made of, "" for
// none; w may be nil. The error says why a file that is one player's cannot be taken apart.
func ReadFile(file, madeOf string, read *musicxml.Score, catalogue *instruments.Catalogue, w *parts.Workspace) ([]*Part, error) {
	staves, err := apart.Pieces(read)
	if err != nil {
		return nil, musicxml.Locate(err, musicxml.Error{File: file})
	}
	var all []*Part
	for _, s := range staves {
		for _, part := range readParts(file, s.Score, catalogue, w) {
			part.Source, part.some = s.Part, s.Some
			all = append(all, part)
		}
	}
	if len(all) > 0 {
		return all, nil
	}
	all = readParts(file, read, catalogue, w)
	for _, part := range all {
		part.Source = madeOf
	}
	return all, nil
}

// readParts reads the parts of a file. They keep nothing of its text.
func readParts(file string, source *musicxml.Score, catalogue *instruments.Catalogue, w *parts.Workspace) []*Part {
	known := map[string]musicxml.ScorePart{}
	for _, p := range source.ScoreParts() {
		known[p.ID] = p
	}
	var given []*Part
	for i, raw := range source.Parts {
		part := &Part{File: file}
		part.name(known[raw.ID], catalogue)
		part.read(source, i, known[raw.ID].Element, w)
		given = append(given, part)
	}
	return given
}

// Unread is a part for a file that cannot be read.
func Unread(file string, err error) *Part {
	return &Part{File: file, Name: stem(file), Err: err}
}

func (l *Part) read(source *musicxml.Score, i int, entry *etree.Element, w *parts.Workspace) {
	part, err := w.ReadPart(source, i)
	if err == nil {
		l.transcript, err = transcribe(part, entry)
	}
	if err != nil {
		l.Err = musicxml.Locate(err, musicxml.Error{File: l.File, PartName: l.Name, PartID: source.Parts[i].ID})
		return
	}
	l.shapes = shapes(l.transcript)
}

// name finds what the part is called and what that means.
func (l *Part) name(p musicxml.ScorePart, catalogue *instruments.Catalogue) {
	// Copies, so that the file's text need not stay in memory.
	l.Name = strings.Clone(cmp.Or(p.Name, p.NameDisplay))
	q := instruments.Query{Name: l.Name, Abbreviation: strings.Clone(p.Abbreviation)}
	for _, in := range p.Instruments {
		q.InstrumentNames = append(q.InstrumentNames, strings.Clone(in.Name))
		if q.Sound == "" {
			q.Sound = strings.Clone(in.Sound)
		}
	}
	l.match = catalogue.Match(q)
	if l.match.Recognised() {
		return
	}
	if byFile := catalogue.Match(instruments.Query{Name: stem(l.File), Sound: q.Sound}); byFile.Recognised() {
		l.match = byFile
	}
	if strings.TrimSpace(l.Name) == "" {
		l.Name = stem(l.File)
	}
}

// filed is the number that sorts files in the order of the score.
var filed = regexp.MustCompile(`^\d+[ _.-]+`)

// stem is a file's name without its extension and the number before it.
func stem(file string) string {
	name := filepath.Base(file)
	name = strings.TrimSuffix(name, filepath.Ext(name))
	return strings.ReplaceAll(filed.ReplaceAllString(name, ""), "_", " ")
}
