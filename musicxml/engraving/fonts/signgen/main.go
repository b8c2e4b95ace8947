// Command signgen takes the outlines of the musical symbols that package
// engraving draws out of two openly licensed fonts (SIL Open Font License 1.1)
// and writes them as signs.csv, which package fonts embeds:
//
//	go run ./signgen -fonts /usr/share/fonts/truetype/noto -out signs.csv
//
// Debian's package fonts-noto-core holds the fonts: NotoMusic-Regular.ttf has
// the Unicode musical symbols, NotoSerif-Bold.ttf the numerals of time
// signatures. A symbol that neither has is put together in recipes.go, from
// scaled or mirrored symbols and plain polygons. Nothing else of the fonts is
// copied.
package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
)

func main() {
	fonts := flag.String("fonts", "/usr/share/fonts/truetype/noto", "folder of the font files")
	out := flag.String("out", "signs.csv", "file to write")
	flag.Parse()
	if err := run(*fonts, *out); err != nil {
		fmt.Fprintln(os.Stderr, "signgen:", err)
		os.Exit(1)
	}
}

func run(folder, out string) error {
	faces, err := openFaces(map[string]string{
		music: filepath.Join(folder, "NotoMusic-Regular.ttf"),
		serif: filepath.Join(folder, "NotoSerif-Bold.ttf"),
	})
	if err != nil {
		return err
	}
	rows := [][]string{}
	for _, r := range recipes() {
		row, err := build(r, faces)
		if err != nil {
			return fmt.Errorf("%s: %w", r.name, err)
		}
		rows = append(rows, row)
	}
	slices.SortFunc(rows, slices.Compare)
	var table bytes.Buffer
	err = csv.NewWriter(&table).WriteAll(append([][]string{{"name", "source", "text", "left", "top", "right", "bottom", "path"}}, rows...))
	return errors.Join(err, os.WriteFile(out, table.Bytes(), 0o644))
}

// build returns one row: name, source, what a text tool reads, left, top, right,
// bottom, path.
func build(r recipe, faces map[string]*face) ([]string, error) {
	var path outline
	for _, p := range r.parts {
		if err := p.add(&path, faces); err != nil {
			return nil, err
		}
	}
	if !r.keepX {
		path.shift(-path.box().left)
	}
	text, err := r.text()
	if err != nil {
		return nil, err
	}
	b := path.box()
	return []string{r.name, r.source(), text,
		strconv.Itoa(b.left), strconv.Itoa(b.top), strconv.Itoa(b.right), strconv.Itoa(b.bottom),
		path.String()}, nil
}
