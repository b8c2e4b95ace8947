// Package schema has the JSON Schemas (2020-12) of all that the program says to other
// programs: the documents of --json, the manifest, the lines of a record.
package schema

import (
	"embed"
	"encoding/json"
	"io/fs"
	"strings"
)

//go:embed *.json
var documents embed.FS

// Common is the schema that the others refer to.
const Common = "common"

// Schema is the schema of a document.
type Schema struct {
	Name  string // as its file is called without its ending
	Title string // which document it is of
	Text  []byte
}

// All are the schemas by name.
func All() ([]Schema, error) {
	names, err := fs.Glob(documents, "*.json")
	if err != nil {
		return nil, err
	}
	all := make([]Schema, len(names))
	for i, name := range names {
		text, err := documents.ReadFile(name)
		if err != nil {
			return nil, err
		}
		var head struct {
			Title string `json:"title"`
		}
		if err := json.Unmarshal(text, &head); err != nil {
			return nil, err
		}
		all[i] = Schema{strings.TrimSuffix(name, ".json"), head.Title, text}
	}
	return all, nil
}
