package musicxml

import "errors"

// Opus is a list of scores that belong together: movements of a symphony, songs
// of an album.
type Opus struct {
	Title  string
	Scores []OpusScore // in order, nested opuses unfolded
	Files  []File      // the files of the container that the opus came in
}

// OpusScore is a link of an opus to a score or to another opus document.
type OpusScore struct {
	Href  string // path relative to the opus document, with slashes, cleaned; it never leaves the opus's folder
	Title string // xlink:title, or the nested opus's title
	Opus  bool   // the link is to another opus document (opus-link)
}

// ReadOpus reads an opus document, compressed or not. ErrorCode is "not-opus"
// where data is something else.
func ReadOpus(data []byte, o ReadOptions) (*Opus, error) {
	return nil, &Error{File: o.Name, Code: "not-opus", Err: errors.New("this is not an opus")}
}

// IsOpus tells by content whether data is an opus document.
func IsOpus(data []byte) bool { return false }
