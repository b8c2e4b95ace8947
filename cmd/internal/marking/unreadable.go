package marking

import (
	"bytes"
	"errors"
	"path/filepath"
	"strings"

	"deskpart/cmd/internal/texts"
	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// A file that cannot be marked has its line, too: which kind of file it is, and
// what its pupil is to hand in instead.

// endings tell kinds by the file's name, where the content does not.
var endings = map[string]notice.Code{".pdf": notice.IsPDF, ".jpg": notice.IsPicture, ".jpeg": notice.IsPicture, ".png": notice.IsPicture, ".heic": notice.IsPicture, ".mid": notice.IsMIDI,
	".midi": notice.IsMIDI, ".mp3": notice.IsRecording, ".m4a": notice.IsRecording, ".wav": notice.IsRecording, ".zip": notice.IsArchive, ".doc": notice.IsDocument, ".docx": notice.IsDocument, ".odt": notice.IsDocument,
	".txt": notice.IsDocument, ".rtf": notice.IsDocument, ".pages": notice.IsDocument}

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
func KindOf(path string, begin []byte) notice.Code {
	switch {
	case IsSystemFile(path):
		return notice.SystemFile
	}
	if code := musicxml.ForeignFormat(begin); code != "" {
		return code
	}
	if code, known := endings[strings.ToLower(filepath.Ext(path))]; known {
		return code
	}
	return notice.NotMusicXML
}

// Unmarked is the line of a file that cannot be marked; err says more where it was
// read as a score.
func Unmarked(t *texts.Texts, path string, code notice.Code, err error) Result {
	if errors.Is(err, ErrNoNotes) {
		code = notice.NoNotes
	}
	r := Result{Input: path, File: path, Mistakes: []Mistake{}, Code: code}
	if err != nil && !t.Has("unmarked", string(code)) {
		if located, ok := errors.AsType[*musicxml.Error](err); ok {
			bare := *located
			bare.File, err = "", &bare // it stands beside it
		}
		r.Error = t.Say("unmarked-because", texts.Fill{"why": strings.TrimPrefix(texts.Line(t, err), path+": ")})
		return r
	}
	r.Error = t.Pick("unmarked", string(code))
	return r
}

// CodeOf is the reason why a score could not be read.
func CodeOf(path string, begin []byte, err error) notice.Code {
	var located *musicxml.Error
	switch code := KindOf(path, begin); {
	case code == notice.EmptyFile, code == notice.IsPDF, code == notice.IsPicture, code == notice.IsMIDI, code == notice.IsRecording:
		return code
	case errors.As(err, &located) && located.Code != "":
		return located.Code
	}
	return notice.Unreadable
}
