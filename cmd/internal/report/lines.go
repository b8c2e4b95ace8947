package report

import (
	"bytes"
	"encoding/json"
)

// JSONLine is a document on a line of its own, so that the reports of several machines
// can be put one after another.
func JSONLine(value any) ([]byte, error) {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	err := encoder.Encode(value)
	return b.Bytes(), err
}
