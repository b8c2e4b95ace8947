package service

import (
	"path"
	"strings"

	"deskpart/cmd/internal/exercise"
	"deskpart/cmd/internal/explain"
	"deskpart/cmd/internal/lecture"
	"deskpart/cmd/internal/texts"
	"deskpart/musicxml/engraving/paper"
	"deskpart/transpose/pitch"
)

// lessonRequest is what is to be explained or trained.
type lessonRequest struct {
	Language   string `json:"language"`
	Instrument string `json:"instrument"`
	From       string `json:"from"`
	Notes      string `json:"notes"`
	Key        string `json:"key"`
	// Score, Part and Measures take the music from a score in place of notes.
	Score    string `json:"score"`
	Part     string `json:"part"`
	Measures string `json:"measures"`

	Topic            string `json:"topic"`
	Band             string `json:"band"`
	WithoutSignature bool   `json:"without_signature"`
	// Keys are how many of a call's files are keys: the first of them. The others are
	// learners' answers.
	Keys int `json:"keys"`

	// Of sheets.
	Level        int    `json:"level"`
	Count        int    `json:"count"`
	Seed         uint64 `json:"seed"`
	Versions     int    `json:"versions"`
	Large        bool   `json:"large"`
	WithoutClefs bool   `json:"without_clefs"`
	Paper        string `json:"paper"`
}

// inLanguage is a call of the lesson: the request is read and the texts of its language are
// found.
func inLanguage(do func(*Service, *call, lessonRequest, *texts.Texts) (Reply, error)) func(*Service, *call) (Reply, error) {
	return asked(func(s *Service, c *call, r lessonRequest) (Reply, error) {
		l := pitch.English
		if r.Language != "" {
			var err error
			if l, err = pitch.ParseLanguage(r.Language); err != nil {
				return Reply{}, err
			}
		}
		said, err := texts.In(l)
		if err != nil {
			return Reply{}, err
		}
		return do(s, c, r, said)
	})
}

// side is the pitch that is given, the sounding one where the request does not say.
func (r *lessonRequest) side() (explain.Side, error) {
	if r.From == "" {
		return explain.Sounding, nil
	}
	return explain.ParseSide(r.From)
}

// Lesson is a transposition worked aloud, with what is played of it.
type Lesson struct {
	*explain.Explanation
	Title string              `json:"title"`
	Heard []explain.HeardNote `json:"heard"`
}

// lesson explains notes, or a passage of a score; its page is a file.
func (s *Service) lesson(c *call, r lessonRequest, said *texts.Texts) (Reply, error) {
	from, err := r.side()
	if err != nil {
		return Reply{}, err
	}
	task, err := explain.ParseTask(s.catalogue, r.Instrument, from)
	if err != nil {
		return Reply{}, misread(fieldInstrument, r.Instrument, err)
	}
	task.WithoutSignature = r.WithoutSignature
	given, err := s.given(&r, task, said)
	if err != nil {
		return Reply{}, err
	}
	explanation, err := explain.Explain(task, given, said)
	if err != nil {
		return Reply{}, err
	}
	files, err := r.lessonFiles(explanation, said)
	return Reply{Value: Lesson{explanation, explanation.Title(), explanation.Heard()}, Files: files}, err
}

// lessonFiles are the pages of a lesson, for a browser and for paper.
func (r *lessonRequest) lessonFiles(lesson interface {
	Page() ([]byte, error)
	PDF(paper.Size) ([]byte, error)
}, said *texts.Texts) ([]File, error) {
	page, err := lesson.Page()
	if err != nil {
		return nil, err
	}
	size, err := sizeOf(r.Paper, said.Language)
	if err != nil {
		return nil, err
	}
	onPaper, err := lesson.PDF(size)
	return []File{{"lesson.html", page}, {"lesson.pdf", onPaper}}, err
}

// given is the music to explain.
func (s *Service) given(r *lessonRequest, task explain.Task, said *texts.Texts) (given explain.Passage, err error) {
	if r.Score != "" {
		return s.passage(r, r.Measures, task)
	}
	key, err := explain.ParseKey(said, r.Key)
	if err != nil {
		return given, misread(fieldKey, r.Key, err)
	}
	pitches, err := explain.ParsePitches(said, r.Notes)
	if err != nil {
		return given, misread(fieldNotes, r.Notes, err)
	}
	given.Part, err = task.Given(pitches, key)
	return given, err
}

// passage cuts measures out of a score.
func (s *Service) passage(r *lessonRequest, measures string, task explain.Task) (passage explain.Passage, err error) {
	open, err := s.scoreOf(r.Score)
	if err != nil {
		return passage, err
	}
	excerpt := explain.Excerpt{Part: r.Part}
	if measures != "" {
		if excerpt.First, excerpt.Last, err = explain.ParseMeasures(measures); err != nil {
			return passage, misread(fieldMeasures, measures, err)
		}
	}
	return excerpt.Read(open.source, s.catalogue, task)
}

// topic explains a rule: why instruments transpose, a scale for a band, and so on.
func (s *Service) topic(c *call, r lessonRequest, said *texts.Texts) (Reply, error) {
	about, err := exercise.ParseTopic(r.Topic)
	if err != nil {
		return Reply{}, err
	}
	q := lecture.Question{Topic: about}
	if q.Instrument, err = explain.ParsePlayer(s.catalogue, r.Instrument); err != nil {
		return Reply{}, misread(fieldInstrument, r.Instrument, err)
	}
	if q.Band, err = explain.ParseBand(s.catalogue, r.Band); err != nil {
		return Reply{}, misread(fieldBand, r.Band, err)
	}
	if q.Key, err = explain.ParseKey(said, r.Key); err != nil {
		return Reply{}, misread(fieldKey, r.Key, err)
	}
	made, err := lecture.Make(s.catalogue, q, said)
	if err != nil {
		return Reply{}, err
	}
	files, err := r.lessonFiles(made, said)
	return Reply{Value: made, Files: files}, err
}

// Sheet is a sheet of exercises; its files are in the folder of its version, where there
// are several.
type Sheet struct {
	Code      string         `json:"code"`
	Version   string         `json:"version"`
	Folder    string         `json:"folder"`
	Exercises []exercise.Row `json:"exercises"`
}

// sheet makes exercises with their answers and the pages of both, also as PDF.
func (s *Service) sheet(c *call, r lessonRequest, said *texts.Texts) (Reply, error) {
	sheets, err := s.sheets(&r, said)
	if err != nil {
		return Reply{}, err
	}
	size, err := sizeOf(r.Paper, said.Language)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{}
	made := []Sheet{}
	for i, one := range sheets {
		files, err := one.Files(exercise.PageOptions{Large: r.Large}, &size)
		if err != nil {
			return Reply{}, err
		}
		row := Sheet{one.Code(), one.Version, "", one.Rows()}
		if len(sheets) > 1 {
			row.Folder = one.Version
		}
		for _, f := range files {
			reply.Files = append(reply.Files, File{path.Join(row.Folder, f.Name), f.Data})
		}
		made = append(made, row)
		if err := c.step(Progress{Done: i + 1, Of: len(sheets)}); err != nil {
			return Reply{}, err
		}
	}
	reply.Value = made
	return reply, nil
}

// sizeOf is the size of a paper by its name, the usual one of the language for none.
func sizeOf(name string, l pitch.Language) (paper.Size, error) {
	if name == "" {
		return paper.UsualSize(string(l), paper.Size{}), nil
	}
	return paper.ParseSize(name)
}

func (s *Service) sheets(r *lessonRequest, said *texts.Texts) ([]exercise.Sheet, error) {
	settings := exercise.Settings{Texts: said, From: exercise.Both, Count: r.Count, Seed: r.Seed, Level: r.Level, Versions: max(1, r.Versions),
		WithoutSignature: r.WithoutSignature, WithoutClefs: r.WithoutClefs}
	var err error
	if settings.Topic, err = exercise.ParseTopic(r.Topic); err != nil {
		return nil, err
	}
	if r.From != string(exercise.Both) {
		if settings.From, err = r.side(); err != nil {
			return nil, err
		}
	}
	if settings.Instrument, err = explain.ParsePlayer(s.catalogue, r.Instrument); err != nil {
		return nil, misread(fieldInstrument, r.Instrument, err)
	}
	if settings.Band, err = explain.ParseBand(s.catalogue, r.Band); err != nil {
		return nil, misread(fieldBand, r.Band, err)
	}
	if r.Score == "" {
		return exercise.Make(s.catalogue, settings)
	}
	return s.fromScore(r, settings)
}

var errNoPlayer = problem(func(t *texts.Texts) string { return t.Say("service.no-player", nil) })

// fromScore makes a sheet of passages of a score.
func (s *Service) fromScore(r *lessonRequest, o exercise.Settings) ([]exercise.Sheet, error) {
	if o.Instrument == nil {
		return nil, errNoPlayer
	}
	task := explain.Task{Instrument: o.Instrument, From: o.From, WithoutSignature: o.WithoutSignature, MaxSignature: 6}
	if task.From == exercise.Both {
		task.From = explain.Sounding
	}
	var passages []explain.Passage
	for measures := range strings.SplitSeq(r.Measures, ",") {
		passage, err := s.passage(r, measures, task)
		if err != nil {
			return nil, err
		}
		passages = append(passages, passage)
	}
	open, err := s.scoreOf(r.Score)
	if err != nil {
		return nil, err
	}
	base := path.Base(open.path)
	sheet, err := exercise.FromParts(task, o, strings.TrimSuffix(base, path.Ext(base)), passages)
	return []exercise.Sheet{sheet}, err
}
