package marking

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
)

// A file that cannot be marked has its line, too: which kind of file it is, and
// what its pupil is to hand in instead.

// The reasons why a file cannot be marked.
const (
	CodeEmpty   = "empty-file"
	CodeNoNotes = "no-notes"
	CodePDF     = "pdf"
	CodePicture = "picture"
	CodeSound   = "sound"
	CodeMIDI    = "midi"
	CodeArchive = "archive"
	CodeText    = "document"
	CodeSystem  = "system-file"
	CodeForeign = "not-musicxml"
	CodeBroken  = "cannot-read"
)

// signatures are how files of a kind begin (the formats' own specifications; from
// memory).
var beginnings = []struct{ bytes, code string }{
	{"%PDF", CodePDF}, {"\x89PNG", CodePicture}, {"\xff\xd8\xff", CodePicture}, {"GIF8", CodePicture}, {"MThd", CodeMIDI},
	{"RIFF", CodeSound}, {"ID3", CodeSound}, {"OggS", CodeSound}, {"fLaC", CodeSound}, {"\xff\xfb", CodeSound},
	{"\xd0\xcf\x11\xe0", CodeText}, {"{\\rtf", CodeText}, {"Rar!", CodeArchive}, {"7z\xbc\xaf", CodeArchive}, {"\x1f\x8b", CodeArchive},
}

// endings tell kinds by the file's name, where the content does not.
var endings = map[string]string{".pdf": CodePDF, ".jpg": CodePicture, ".jpeg": CodePicture, ".png": CodePicture, ".heic": CodePicture, ".mid": CodeMIDI,
	".midi": CodeMIDI, ".mp3": CodeSound, ".m4a": CodeSound, ".wav": CodeSound, ".zip": CodeArchive, ".doc": CodeText, ".docx": CodeText, ".odt": CodeText,
	".txt": CodeText, ".rtf": CodeText, ".pages": CodeText}

// systemFiles are put into folders by the systems themselves.
var systemFiles = map[string]bool{".DS_Store": true, "Thumbs.db": true, "desktop.ini": true}

// IsSystemFile reports whether a file is none of a pupil's.
func IsSystemFile(path string) bool {
	name := filepath.Base(path)
	return systemFiles[name] || strings.HasPrefix(name, "._")
}

// LooksLikeScore reports whether a file's first bytes may be those of a score:
// a document in XML or a compressed one.
func LooksLikeScore(path string, begin []byte) bool {
	switch strings.ToLower(filepath.Ext(path)) {
	case ".musicxml", ".xml", ".mxl":
		return true
	}
	return bytes.Contains(begin, []byte("score-partwise")) || bytes.Contains(begin, []byte("score-timewise"))
}

// KindOf says what a file is that is no score.
func KindOf(path string, begin []byte) string {
	switch {
	case IsSystemFile(path):
		return CodeSystem
	case len(begin) == 0:
		return CodeEmpty
	}
	for _, b := range beginnings {
		if bytes.HasPrefix(begin, []byte(b.bytes)) {
			return b.code
		}
	}
	if code, known := endings[strings.ToLower(filepath.Ext(path))]; known {
		return code
	}
	return CodeForeign
}

// Unmarked is the line of a file that cannot be marked; err says more where it was
// read as a score.
func Unmarked(t *texts.Texts, path, code string, err error) Result {
	if errors.Is(err, ErrNoNotes) {
		code = CodeNoNotes
	}
	r := Result{File: path, Mistakes: []Mistake{}, Code: code}
	if code == CodeBroken && err != nil {
		r.Error = t.Say("unmarked-because", texts.Fill{"why": strings.TrimPrefix(err.Error(), path+": ")})
		return r
	}
	r.Error = t.Pick("unmarked", code)
	return r
}

// CodeOf is the reason why a score could not be read.
func CodeOf(path string, begin []byte, err error) string {
	var located *musicxml.Error
	switch code := KindOf(path, begin); {
	case code == CodeEmpty, code == CodePDF, code == CodePicture, code == CodeMIDI, code == CodeSound:
		return code
	case errors.As(err, &located), err != nil:
		return CodeBroken
	}
	return CodeForeign
}
