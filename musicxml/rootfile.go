package musicxml

import (
	"archive/zip"
	"cmp"
	"fmt"
	"net/url"
	"path"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"deskpart/musicxml/notice"
)

// findRoot finds the score, or the opus, in a container: where the container's list says, or,
// as lists are often missing or their paths malformed, by looking.
func (c *container) findRoot() (*zip.File, error) {
	var files []*zip.File
	for _, name := range c.rootNames() {
		if f := c.lookup(name); f != nil {
			files = append(files, f)
		}
	}
	var problem error
	for _, f := range append(files, c.candidates()...) {
		start, err := head(f)
		if err == nil && isMusic(start) {
			c.root, c.start = f, start
			return f, nil
		}
		problem = cmp.Or(problem, err)
	}
	return nil, cmp.Or(problem, c.noScore())
}

// rootNames returns the paths that the container lists for scores, first the
// first, and notes the media types of all that it lists.
func (c *container) rootNames() []string {
	list := c.lookup(containerList)
	if list == nil {
		return nil
	}
	start, err := head(list)
	if err != nil {
		return nil
	}
	text, err := decode(start)
	if err != nil {
		return nil
	}
	var names []string
	for _, file := range listedFiles(text) {
		if file.MediaType == "" || file.MediaType == scoreType || strings.Contains(file.MediaType, "xml") {
			names = append(names, file.Name)
		}
		if f := c.lookup(file.Name); f != nil && file.MediaType != "" {
			c.listed[f.Name] = file.MediaType
		}
	}
	return names
}

// listedFiles returns the files that META-INF/container.xml names. Of a list
// that is not XML, as where a name holds its own quotation mark, it makes what
// it can.
func listedFiles(text string) []File {
	var files []File
	doc, err := newScanner(text, DefaultLimits(), nil, nil).document()
	if err == nil {
		for _, e := range doc.FindElements("//rootfile") {
			files = append(files, File{Name: e.SelectAttrValue("full-path", ""), MediaType: e.SelectAttrValue("media-type", "")})
		}
		return files
	}
	for _, tag := range strings.Split(text, "<rootfile ")[1:] {
		tag, _, _ = strings.Cut(tag, ">")
		files = append(files, File{Name: looseValue(tag, "full-path"), MediaType: looseValue(tag, "media-type")})
	}
	return files
}

// looseValue returns an attribute's value from a malformed tag: all up to the
// last quotation mark of its kind before the next attribute.
func looseValue(tag, key string) string {
	_, rest, found := strings.Cut(tag, key)
	rest = strings.TrimLeft(strings.TrimPrefix(strings.TrimLeft(rest, blanks), "="), blanks)
	if !found || rest == "" {
		return ""
	}
	quote := rest[:1]
	value, _, _ := strings.Cut(rest[1:], "media-type")
	if end := strings.LastIndex(value, quote); end >= 0 {
		value = value[:end]
	}
	return value
}

// lookup finds a file by the path that a list gives it, or nil.
func (c *container) lookup(name string) *zip.File {
	if name == "" {
		return nil
	}
	for i, plain := range spellings {
		if f := c.bySpelling(i)[plain(name)]; f != nil {
			return f
		}
	}
	return nil
}

// spellings make paths alike that mean the same, each more than the one before:
// in the wild they are percent-encoded or not, have the wrong slashes, the wrong
// case, letters and their accents together or apart, or lack their folder.
var spellings = []func(name string) string{
	func(name string) string { return name },
	plainPath,
	func(name string) string { return plainPath(unescape(name)) },
	func(name string) string { return strings.ToLower(plainPath(unescape(name))) },
	func(name string) string { return path.Base(strings.ToLower(plainPath(unescape(name)))) },
}

// bySpelling returns the files by one of the spellings of their names; of files
// with the same the first.
func (c *container) bySpelling(i int) map[string]*zip.File {
	for len(c.names) <= i {
		files := map[string]*zip.File{}
		for _, f := range c.files {
			if name := spellings[len(c.names)](f.Name); files[name] == nil {
				files[name] = f
			}
		}
		c.names = append(c.names, files)
	}
	return c.names[i]
}

func unescape(name string) string {
	if plain, err := url.PathUnescape(name); err == nil {
		return plain
	}
	return name
}

// plainPath returns a path as an archive should have it.
func plainPath(name string) string {
	name = strings.ReplaceAll(strings.TrimSpace(name), `\`, "/")
	return norm.NFC.String(path.Clean("/" + name))
}

// candidates returns the files that may be the score, the likeliest first.
func (c *container) candidates() []*zip.File {
	rank := func(f *zip.File) int {
		switch strings.ToLower(path.Ext(f.Name)) {
		case ".musicxml":
			return 0
		case ".xml":
			return 1
		case ".png", ".jpg", ".jpeg", ".pdf", ".mid", ".mp3", ".ogg", ".wav", ".svg":
			return 3
		}
		return 2
	}
	var files []*zip.File
	for _, f := range c.files {
		hidden := strings.HasPrefix(path.Base(f.Name), "._") || strings.HasPrefix(f.Name, "META-INF/")
		if !hidden && rank(f) < 3 {
			files = append(files, f)
		}
	}
	slices.SortStableFunc(files, func(a, b *zip.File) int { return cmp.Compare(rank(a), rank(b)) })
	return files
}

// isMusic tells from the beginning of a file whether it is a score or an opus.
func isMusic(head []byte) bool {
	switch rootOf(head) {
	case "score-partwise", "score-timewise", "opus":
		return true
	}
	return false
}

// rootOf returns the name of the root element of a file of which only the
// beginning may be at hand, or "".
func rootOf(head []byte) string {
	text, err := decode(head[:len(head)-len(head)%2])
	for cut := 0; err != nil && cut < 4 && cut < len(head); cut++ {
		// The beginning may end inside a character.
		text, err = decode(head[:len(head)-cut])
	}
	if err != nil {
		return ""
	}
	s := newScanner(text, DefaultLimits(), nil, nil)
	s.pushHome(nil)
	if err := s.prolog(); err != nil {
		return ""
	}
	return s.rootName()
}

// noScore says what the archive holds in place of a score.
func (c *container) noScore() error {
	const shown = 5
	var names []string
	for _, f := range c.files[:min(len(c.files), shown)] {
		names = append(names, quote(f.Name))
	}
	holds := strings.Join(names, ", ")
	switch {
	case len(c.files) == 0:
		holds = "nothing"
	case len(c.files) > shown:
		holds += fmt.Sprintf(" and %d more", len(c.files)-shown)
	}
	return &Error{Code: notice.NoScoreInArchive, Hint: "give the score itself", Err: fmt.Errorf("the archive holds no score; it holds %s", holds)}
}
