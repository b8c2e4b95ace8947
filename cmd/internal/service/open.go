package service

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/survey"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts"
)

// limits are what one file may cost here: a browser has less memory than a machine, and
// gives no second chance.
var limits = musicxml.Limits{InputBytes: 64 << 20, ExpandedBytes: 256 << 20}

// InputBytes is the most that a file may hold, so that a page can refuse a giant before
// it reads it.
func InputBytes() int64 { return limits.InputBytes }

// score is one that is open.
type score struct {
	path   string
	source *musicxml.Score
	data   []byte // the file, for what a survey says of it
	// job is the last one, made with settings.
	job      *parts.Job
	settings string
	space    *parts.Workspace
}

// Opened is what is told of a score that was opened.
type Opened struct {
	Score    string    `json:"score"` // by which later calls name it
	Path     string    `json:"path"`
	Title    string    `json:"title"`
	Version  string    `json:"version"`
	Pitch    string    `json:"pitch"`
	Reason   string    `json:"pitch_reason"`
	Sure     bool      `json:"pitch_sure"`
	Measures int       `json:"measures"`
	Parts    int       `json:"parts"`
	Warnings []Warning `json:"warnings"`
}

// open opens the files of a call: scores, and archives of scores. A file that is
// refused stops no other.
func (s *Service) open(c *call) (Reply, error) {
	answer := struct {
		Scores   []Opened   `json:"scores"`
		Rejected []Rejected `json:"rejected"`
		Works    []Opus     `json:"works"`
	}{[]Opened{}, []Rejected{}, []Opus{}}
	for i, file := range c.files {
		opus, err := several(file)
		if err != nil {
			answer.Rejected = append(answer.Rejected, c.rejected(file.Name, err))
			continue
		}
		found, refused := c.unpack(file, isScoreName)
		if opus != nil {
			found, refused = c.unpackOpus(file, opus)
		}
		work := Opus{Scores: []string{}}
		answer.Rejected = append(answer.Rejected, refused...)
		for _, one := range found {
			opened, err := s.openOne(c, one)
			if err != nil {
				answer.Rejected = append(answer.Rejected, c.rejected(one.Name, err))
				continue
			}
			answer.Scores, work.Scores = append(answer.Scores, opened), append(work.Scores, opened.Score)
		}
		if opus != nil && len(work.Scores) == len(opus.Scores) { // one without a movement is no work
			work.name(opus)
			answer.Works = append(answer.Works, work)
		}
		if err := c.step(Progress{Done: i + 1, Of: len(c.files)}); err != nil {
			return Reply{}, err
		}
	}
	return Reply{Value: answer}, nil
}

func (s *Service) openOne(c *call, file File) (Opened, error) {
	source, err := readScore(file)
	if err != nil {
		return Opened{}, err
	}
	surveyed, err := parts.Survey(source, s.catalogue, parts.DefaultOptions())
	if err != nil {
		return Opened{}, err
	}
	said := survey.OfScore(surveyed, source, file.Name, file.Data)
	s.opened++
	id := fmt.Sprintf("s%d", s.opened)
	s.scores[id] = &score{path: file.Name, source: source, data: file.Data, space: new(parts.Workspace)}
	return Opened{Score: id, Path: file.Name, Title: said.Title, Version: said.Version, Pitch: said.Pitch, Reason: c.pitchReason(surveyed.ToldBy(), said.Reason),
		Sure: said.Sure, Measures: said.Measures, Parts: len(source.Parts), Warnings: c.warnings(said.Warnings)}, nil
}

// readScore reads one score.
func readScore(file File) (*musicxml.Score, error) {
	if int64(len(file.Data)) > limits.InputBytes {
		return nil, &musicxml.Error{Code: notice.TooLarge, Err: fmt.Errorf("the file has %d bytes, more than the %d allowed", len(file.Data), limits.InputBytes)}
	}
	return musicxml.Read(file.Data, musicxml.ReadOptions{Name: file.Name, Limits: limits, SkipFiles: true})
}

// close forgets a score.
func (s *Service) close(_ *call, request scoreRequest) (Reply, error) {
	delete(s.scores, request.Score)
	return Reply{Value: struct{}{}}, nil
}

// errNotOpen is a score that the page speaks of and that is not open.
var errNotOpen = problem(func(t *texts.Texts) string { return t.Say("service.not-open", nil) })

func (s *Service) scoreOf(id string) (*score, error) {
	if open, ok := s.scores[id]; ok {
		return open, nil
	}
	return nil, errNotOpen
}

// mostEntries bounds how many scores an archive may hold.
const mostEntries = 1000

// unpack takes an archive apart, of which it takes the files whose names are wanted; any
// other file is one by itself, also a compressed score, which its container file tells
// from an archive.
func (c *call) unpack(file File, wanted func(name string) bool) ([]File, []Rejected) {
	if !bytes.HasPrefix(file.Data, []byte("PK\x03\x04")) {
		return []File{file}, nil
	}
	archive, err := zip.NewReader(bytes.NewReader(file.Data), int64(len(file.Data)))
	if err != nil {
		return []File{file}, nil // whoever reads it as a score says what is wrong
	}
	for _, entry := range archive.File {
		if entry.Name == "META-INF/container.xml" {
			return []File{file}, nil
		}
	}
	return c.unpackArchive(file.Name, archive, wanted)
}

// Opus is a work of several scores that came as one file.
type Opus struct {
	Title  string   `json:"title"`
	Titles []string `json:"titles"` // of the movements, "" where one has none
	Scores []string `json:"scores"` // that were opened, in order
}

func (w *Opus) name(opus *musicxml.Opus) {
	w.Title = opus.Title
	for _, score := range opus.Scores {
		w.Titles = append(w.Titles, score.Title)
	}
}

// several returns the list of a packed file that holds several scores, nil for any other.
func several(file File) (*musicxml.Opus, error) {
	if !bytes.HasPrefix(file.Data, []byte("PK\x03\x04")) {
		return nil, nil
	}
	return musicxml.Several(bytes.NewReader(file.Data), int64(len(file.Data)), musicxml.ReadOptions{Name: file.Name, Limits: limits})
}

// unpackOpus takes the scores of a packed file in the order of its list.
func (c *call) unpackOpus(file File, opus *musicxml.Opus) (found []File, refused []Rejected) {
	archive, err := zip.NewReader(bytes.NewReader(file.Data), int64(len(file.Data)))
	if err != nil {
		return nil, []Rejected{c.rejected(file.Name, err)}
	}
	for _, score := range opus.Scores {
		one, not := c.unpackArchive(file.Name, archive, func(name string) bool { return name == score.Href })
		found, refused = append(found, one...), append(refused, not...)
	}
	return found, refused
}

var (
	errManyEntries = &musicxml.Error{Code: notice.TooLarge, Err: fmt.Errorf("the archive has more than %d files", mostEntries)}
	errNoScore     = &musicxml.Error{Code: notice.NoScoreInArchive, Err: errors.New("no score is in the archive")}
	errExpands     = &musicxml.Error{Code: notice.TooLarge, Err: errors.New("the archive unpacks to more than it says, or than is allowed")}
)

func (c *call) unpackArchive(name string, archive *zip.Reader, wanted func(string) bool) (found []File, refused []Rejected) {
	if len(archive.File) > mostEntries {
		return nil, []Rejected{c.rejected(name, errManyEntries)}
	}
	left := limits.ExpandedBytes
	for _, entry := range archive.File {
		if strings.HasSuffix(entry.Name, "/") || !wanted(entry.Name) {
			continue
		}
		inside := path.Join(strings.TrimSuffix(name, path.Ext(name)), path.Clean("/"+entry.Name))
		data, err := expand(entry, left)
		if err != nil {
			refused = append(refused, c.rejected(inside, err))
			continue
		}
		left -= int64(len(data))
		found = append(found, File{inside, data})
	}
	if len(found)+len(refused) == 0 {
		refused = []Rejected{c.rejected(name, errNoScore)}
	}
	return found, refused
}

// expand unpacks one file of an archive, at most left bytes.
func expand(entry *zip.File, left int64) ([]byte, error) {
	most := min(left, limits.InputBytes)
	if entry.UncompressedSize64 > uint64(most) || entry.UncompressedSize64 > 500*entry.CompressedSize64 {
		return nil, errExpands
	}
	opened, err := entry.Open()
	if err != nil {
		return nil, &musicxml.Error{Code: notice.DamagedArchive, Err: err}
	}
	defer opened.Close()
	data, err := io.ReadAll(io.LimitReader(opened, most+1))
	switch {
	case err != nil:
		return nil, &musicxml.Error{Code: notice.DamagedArchive, Err: err}
	case int64(len(data)) > most:
		return nil, errExpands
	}
	return data, nil
}

// isScoreName reports whether a file of an archive may be a score. Systems put files of
// their own into archives, whose names begin with a dot or lie in a folder of theirs.
func isScoreName(name string) bool {
	ofSystem := strings.HasPrefix(path.Base(name), ".") || strings.HasPrefix(name, "__MACOSX/")
	return !ofSystem && files.ScoreExt(name) != ""
}
