package survey

import (
	"bytes"
	"regexp"
	"strings"
)

// declared finds the encoding that an XML declaration names.
var declared = regexp.MustCompile(`^<\?xml[^>]*\sencoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']`)

// HeadBytes is how far into a file its encoding is looked for.
const HeadBytes = 400

// unusualEncoding names the encoding of a plain file that is in none of the usual
// ones: UTF-8 and its subset ASCII. It is "" for those and for a packed file.
func unusualEncoding(data []byte) string {
	switch {
	case bytes.HasPrefix(data, []byte("PK")):
		return ""
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte{0, '<'}):
		return "UTF-16, high byte first"
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{'<', 0}):
		return "UTF-16, low byte first"
	}
	head := bytes.TrimPrefix(data[:min(len(data), HeadBytes)], []byte("\ufeff"))
	m := declared.FindSubmatch(head)
	if m == nil {
		return ""
	}
	switch name := string(m[1]); strings.ToUpper(name) {
	case "UTF-8", "US-ASCII", "ASCII":
		return ""
	default:
		return name
	}
}
