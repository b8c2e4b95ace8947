package exercise

import (
	"cmp"
	"fmt"
	"path"
	"strings"

	"deskpart/musicxml/engraving/paper"
)

// The pages of a sheet.
const (
	QuestionsPage = "exercises.html"
	AnswersPage   = "answers.html"
)

// File is one of a sheet's files, by its name in the sheet's folder.
type File struct {
	Name string
	Data []byte
}

// Row is one exercise of a sheet in JSON.
type Row struct {
	Number     int    `json:"number"`
	Instrument string `json:"instrument"`
	From       string `json:"from"`
	Question   string `json:"question"`
	Answer     string `json:"answer"`
	Facts
}

// Rows say what the exercises are and which files hold them.
func (s Sheet) Rows() []Row {
	rows := make([]Row, len(s.Exercises))
	for i, e := range s.Exercises {
		rows[i] = Row{Number: e.Number, Instrument: e.ID(), From: string(e.From), Facts: e.Facts,
			Question: fmt.Sprintf("exercise-%02d.musicxml", e.Number), Answer: fmt.Sprintf("answer-%02d.musicxml", e.Number)}
	}
	return rows
}

// PDFName is the name of a page's file as PDF.
func PDFName(page string) string { return strings.TrimSuffix(page, path.Ext(page)) + ".pdf" }

// Files makes all files of the sheet: every exercise and its answer, and the two pages,
// also as PDF where a size of paper is given.
func (s Sheet) Files(o PageOptions, size *paper.Size) (files []File, err error) {
	add := func(name string, data []byte, failed error) {
		files = append(files, File{name, data})
		err = cmp.Or(err, failed)
	}
	rows := s.Rows()
	for i, e := range s.Exercises {
		question, failed := e.Question(s)
		add(rows[i].Question, question, failed)
		key, failed := e.Key(s)
		add(rows[i].Answer, key, failed)
	}
	questions, failed := s.Questions(o)
	add(QuestionsPage, questions, failed)
	answers, failed := s.Answers(o)
	add(AnswersPage, answers, failed)
	if size == nil || err != nil {
		return files, err
	}
	questions, failed = s.pdf(s.questions, o, *size)
	add(PDFName(QuestionsPage), questions, failed)
	answers, failed = s.pdf(s.answers, o, *size)
	add(PDFName(AnswersPage), answers, failed)
	return files, err
}
