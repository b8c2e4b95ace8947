package musicxml

import (
	"bytes"
	"errors"

	"deskpart/musicxml/notice"
)

// foreign is a format that people take for a score, told by how its files begin.
type foreign struct {
	begin string
	code  notice.Code
}

// foreignFormats (the formats' own specifications; from memory).
var foreignFormats = []foreign{
	{"%PDF", notice.IsPDF}, {"\x89PNG", notice.IsPicture}, {"\xff\xd8\xff", notice.IsPicture}, {"GIF8", notice.IsPicture}, {"II*\x00", notice.IsPicture}, {"MM\x00*", notice.IsPicture},
	{"MThd", notice.IsMIDI},
	{"RIFF", notice.IsRecording}, {"ID3", notice.IsRecording}, {"OggS", notice.IsRecording}, {"fLaC", notice.IsRecording}, {"\xff\xfb", notice.IsRecording},
	{"\xd0\xcf\x11\xe0", notice.IsDocument}, {"{\\rtf", notice.IsDocument},
	{"Rar!", notice.IsArchive}, {"7z\xbc\xaf", notice.IsArchive}, {"\x1f\x8b", notice.IsArchive},
}

// ForeignFormat tells by a file's first bytes that it is in a format which is neither XML
// nor a compressed score: a PDF, a picture, MIDI, a recording, a text document, another
// archive; an empty file, too. "" is anything else.
func ForeignFormat(begin []byte) notice.Code {
	if len(begin) == 0 {
		return notice.EmptyFile
	}
	if len(begin) > 12 && bytes.HasPrefix(begin, []byte("RIFF")) && bytes.Equal(begin[8:12], []byte("WEBP")) {
		return notice.IsPicture
	}
	for _, f := range foreignFormats {
		if bytes.HasPrefix(begin, []byte(f.begin)) {
			return f.code
		}
	}
	return ""
}

// refuseForeign refuses a file in such a format in words that say what it is.
func refuseForeign(data []byte) error {
	if code := ForeignFormat(data[:min(len(data), 16)]); code != "" {
		return refusal(code)
	}
	return nil
}

// refusal refuses a file in the words of the registry.
func refusal(code notice.Code) error {
	n, _ := notice.Lookup(code)
	return &Error{Code: code, Err: errors.New(n.Meaning), Hint: n.Remedy}
}
