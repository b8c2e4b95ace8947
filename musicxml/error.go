package musicxml

import (
	"cmp"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"deskpart/musicxml/notice"
)

// Error is one line for a musician: where in which file, what is wrong, and what
// to do about it. Each layer fills in what it knows; unknown fields stay empty.
type Error struct {
	File     string // path as given
	PartName string // as in the part-list
	PartID   string
	Measure  string // the measure's printed number
	Beat     string // counted from 1 in the time signature's unit
	Line     int    // of the file's XML text, counted from 1; 0 when unknown
	Code     notice.Code
	Hint     string // what to do next. Default: as the registry of notices has it
	Err      error  // what is wrong
}

// Error writes "FILE: part "NAME" (ID), measure M, beat B, line L: what;
// hint", leaving out what is not known.
func (e *Error) Error() string {
	var line strings.Builder
	if e.File != "" {
		line.WriteString(e.File + ": ")
	}
	if where := e.Where(); where != "" {
		line.WriteString(where + ": ")
	}
	if e.Err != nil {
		line.WriteString(e.Err.Error())
	}
	if remedy := e.Remedy(); remedy != "" {
		line.WriteString("; " + remedy)
	}
	return line.String()
}

// Remedy is what to do about it: the error's own hint, or else what the registry of
// notices says.
func (e *Error) Remedy() string {
	return cmp.Or(e.Hint, e.Code.Remedy())
}

// Where names the place inside the file: "part "Horn in F" (P7), measure 12, beat 3".
func (e *Error) Where() string {
	var places []string
	switch {
	case e.PartName != "" && e.PartID != "":
		places = append(places, fmt.Sprintf("part %q (%s)", e.PartName, e.PartID))
	case e.PartName != "" || e.PartID != "":
		places = append(places, fmt.Sprintf("part %q", e.PartName+e.PartID))
	}
	if e.Measure != "" {
		places = append(places, "measure "+e.Measure)
	}
	if e.Beat != "" {
		places = append(places, "beat "+e.Beat)
	}
	if e.Line > 0 {
		places = append(places, "line "+strconv.Itoa(e.Line))
	}
	return strings.Join(places, ", ")
}

// Unwrap returns what is wrong.
func (e *Error) Unwrap() error { return e.Err }

// ErrorCode returns the code of the first *Error in err's chain, "" where there
// is none.
func ErrorCode(err error) notice.Code {
	var e *Error
	if errors.As(err, &e) {
		return e.Code
	}
	return ""
}

// Locate returns err as an *Error whose empty place fields are filled from at.
func Locate(err error, at Error) error {
	if err == nil {
		return nil
	}
	var known *Error
	if !errors.As(err, &known) {
		at.Err = err
		return &at
	}
	filled := *known
	filled.File = cmp.Or(filled.File, at.File)
	filled.PartName, filled.PartID = cmp.Or(filled.PartName, at.PartName), cmp.Or(filled.PartID, at.PartID)
	filled.Measure, filled.Beat = cmp.Or(filled.Measure, at.Measure), cmp.Or(filled.Beat, at.Beat)
	filled.Line = cmp.Or(filled.Line, at.Line)
	filled.Code, filled.Hint = cmp.Or(filled.Code, at.Code), cmp.Or(filled.Hint, at.Hint)
	return &filled
}

// Warning is something that a person should look at; the work was done all the
// same. Codes are stable, texts are for musicians.
type Warning struct {
	Code notice.Code `json:"code"`
	// Movement of a work, from 1, where the warnings of several stand together. Default: 0.
	Movement int `json:"movement,omitempty"`
	// SourceName and SourcePart are the name and id of the part of the score, where it is not
	// the one that a player's part is called by. Default: "".
	SourceName string `json:"source_name,omitempty"`
	SourcePart string `json:"source_part,omitempty"`
	Measure    string `json:"measure,omitempty"`
	Beat       string `json:"beat,omitempty"`
	Text       string `json:"text"`
}

// Warning is the error as a warning of the score as a whole, which names its part.
func (e *Error) Warning() Warning {
	w := Warning{Code: e.Code, SourceName: e.PartName, SourcePart: e.PartID, Measure: e.Measure, Beat: e.Beat}
	if e.Err != nil {
		w.Text = e.Err.Error()
	}
	if e.Hint != "" {
		w.Text += "; " + e.Hint
	}
	return w
}
