package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// Rejection is a file that was refused, as every document names it.
type Rejection struct {
	Input string      `json:"input"` // the path as it was given
	Code  notice.Code `json:"code"`
	Text  string      `json:"text"` // what is wrong, where in the file, and what to do
}

// NewRejection says why a file was refused.
func NewRejection(input string, code notice.Code, err error) Rejection {
	if known, ok := errors.AsType[*musicxml.Error](err); ok {
		inside := *known
		inside.File = ""
		if inside.Code == "" {
			inside.Code = code // which has a remedy
		}
		err = &inside
	}
	return Rejection{Input: input, Code: code, Text: err.Error()}
}

// Document is the one JSON document of a command: rows, as they come, then whatever
// else it says, what was rejected, and a summary. Nothing of it is kept, so that the
// longest list takes no memory.
type Document struct {
	out  io.Writer
	list string
	rows int
	err  error
}

// NewDocument begins a document whose rows are called list; "" is one without rows.
func NewDocument(out io.Writer, list string) *Document {
	d := &Document{out: out, list: list}
	d.write("{")
	if list != "" {
		d.write("\n  " + quoted(list) + ": [")
	}
	return d
}

// Row adds a row.
func (d *Document) Row(value any) error {
	if d.rows > 0 {
		d.write(",")
	}
	d.rows++
	d.write("\n    ")
	return d.value(value, "    ")
}

// Close ends the document with the fields of an object, nil for none, what was
// rejected, and a summary.
func (d *Document) Close(fields any, rejected []Rejection, summary any) error {
	if d.list != "" {
		if d.rows > 0 {
			d.write("\n  ")
		}
		d.write("],")
	}
	if err := d.Fields(fields); err != nil {
		return err
	}
	if rejected == nil {
		rejected = []Rejection{}
	}
	d.write("\n  \"rejected\": ")
	d.value(rejected, "  ")
	d.write(",\n  \"summary\": ")
	d.value(summary, "  ")
	d.write("\n}\n")
	return d.err
}

// Fields adds the fields of an object to a document without rows, or behind them.
func (d *Document) Fields(fields any) error {
	if fields == nil {
		return nil
	}
	text, err := marshal(fields, "", "  ")
	if err != nil {
		return err
	}
	inside := bytes.TrimSuffix(bytes.TrimPrefix(text, []byte("{")), []byte("\n}"))
	if len(inside) == 0 || string(inside) == "}" {
		return nil
	}
	d.write(string(inside) + ",")
	return d.err
}

func (d *Document) value(value any, indent string) error {
	text, err := marshal(value, indent, "  ")
	if err != nil {
		d.err = errors.Join(d.err, err)
		return err
	}
	d.write(string(text))
	return d.err
}

func (d *Document) write(text string) {
	if d.err == nil {
		_, d.err = io.WriteString(d.out, text)
	}
}

// marshal is a value as JSON writes it in the midst of a document.
func marshal(value any, prefix, indent string) ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent(prefix, indent)
	err := encoder.Encode(value)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

func quoted(text string) string {
	name, _ := json.Marshal(text) // a text is always JSON
	return string(name)
}
