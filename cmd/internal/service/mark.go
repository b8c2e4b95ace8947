package service

import (
	"bytes"
	"path"
	"slices"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/licences"
	"deskpart/cmd/internal/marking"
	"deskpart/cmd/internal/marking/class"
	"deskpart/cmd/internal/pages/marked"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/engraving/paper"
)

var errNoKey = problem(func(t *texts.Texts) string { return t.Say("service.no-key", nil) })

// mark marks answers by the keys, and makes a page for each pupil and one for the class.
func (s *Service) mark(c *call, request lessonRequest, said *texts.Texts) (Reply, error) {
	if request.Keys < 0 || request.Keys > len(c.files) {
		return Reply{}, errNoKey
	}
	keyFiles, _ := c.unpackAll(c.files[:request.Keys])
	keys, err := s.keys(keyFiles)
	if err != nil {
		return Reply{}, err
	}
	marker := marking.Marker{Keys: keys, Texts: said}
	answers, refused := c.unpackAll(c.files[request.Keys:])
	slices.SortStableFunc(answers, func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	var results []marking.Result
	for _, r := range refused {
		results = append(results, marking.Unmarked(said, r.Input, r.Code, nil))
	}
	for i, answer := range answers {
		results = append(results, markOne(marker, answer)...)
		if err := c.step(Progress{Done: i + 1, Of: len(answers)}); err != nil {
			return Reply{}, err
		}
	}
	size, err := sizeOf("", said.Language)
	if err != nil {
		return Reply{}, err
	}
	return markedReply(class.Report{Class: class.New(results), Texts: said, Visible: report.Visible}, size, c)
}

// unpackAll takes archives apart, of which every file is answered for.
func (c *call) unpackAll(all []File) (files []File, refused []Rejected) {
	for _, file := range all {
		found, not := c.unpack(file, func(name string) bool { return !marking.IsSystemFile(name) })
		files, refused = append(files, found...), append(refused, not...)
	}
	return files, refused
}

// markedReply makes the pages of the pupils and of the class, each on paper, too, and the
// table of the class.
func markedReply(r class.Report, size paper.Size, c *call) (Reply, error) {
	var names files.Names
	pages, err := marked.Pages(r.Texts, r, names.Unique)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{}
	pupils := map[string]string{}
	for i, page := range pages {
		data, err := page.HTML()
		if err != nil {
			return Reply{}, err
		}
		onPaper, err := page.PDF(size)
		if err != nil {
			return Reply{}, err
		}
		reply.Files = append(reply.Files, File{page.File, data}, File{exercise.PDFName(page.File), onPaper})
		pupils[page.File] = page.Pupil
		if err := c.step(Progress{Done: i + 1, Of: len(pages)}); err != nil {
			return Reply{}, err
		}
	}
	var table bytes.Buffer
	if err := r.WriteCSV(&table); err != nil {
		return Reply{}, err
	}
	reply.Files = append(reply.Files, File{"class.csv", table.Bytes()})
	reply.Value = struct {
		class.Class
		// Pages are the pupils by their pages, "" for the class's.
		Pages map[string]string `json:"pages"`
	}{r.Class, pupils}
	return reply, nil
}

// markOne marks one file; one that cannot be read is a line that says so.
func markOne(m marking.Marker, answer File) []marking.Result {
	begin := answer.Data[:min(len(answer.Data), 2048)]
	results := m.MarkFile(answer.Name, begin, func() (*musicxml.Score, error) { return readScore(answer) })
	for i := range results {
		results[i].Pupil = marking.PupilOf(answer.Name)
	}
	return results
}

// keys reads the answers that are marked by, each with its question where that is among
// the files. Of a whole sheet, the questions alone are no keys.
func (s *Service) keys(all []File) ([]*marking.Key, error) {
	sorted := slices.SortedFunc(slices.Values(all), func(a, b File) int { return strings.Compare(a.Name, b.Name) })
	var keys []*marking.Key
	for _, file := range sorted {
		dir, name := path.Split(file.Name)
		if strings.HasPrefix(name, "exercise-") || !isScoreName(name) {
			continue
		}
		answer, err := readScore(file)
		if err != nil {
			return nil, err
		}
		var question *musicxml.Score
		if number, is := strings.CutPrefix(name, "answer-"); is {
			at := slices.IndexFunc(sorted, func(f File) bool { return f.Name == dir+"exercise-"+number })
			if at >= 0 {
				if question, err = readScore(sorted[at]); err != nil {
					return nil, err
				}
			}
		}
		more, err := marking.NewKeys(answer, question, s.catalogue)
		if err != nil {
			return nil, err
		}
		keys = append(keys, more...)
	}
	if len(keys) == 0 {
		return nil, errNoKey
	}
	return keys, nil
}

// notices are those of all that the page holds and that is not its own.
func (s *Service) notices(*call) (Reply, error) { return Reply{Value: licences.Notices}, nil }
