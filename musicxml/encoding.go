package musicxml

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
	"unsafe"

	"golang.org/x/text/encoding/charmap"

	"deskpart/musicxml/notice"
)

// decode returns the text of an XML file as UTF-8 without a byte order mark. A
// file that is UTF-8 already is shared and not copied.
func decode(data []byte) (string, error) {
	switch {
	case len(data) == 0:
		return "", refuseForeign(data)
	case bytes.HasPrefix(data, []byte("\xEF\xBB\xBF")):
		return decodeDeclared(data[3:], "UTF-8")
	case bytes.HasPrefix(data, []byte{0, 0, 0xFE, 0xFF}), bytes.HasPrefix(data, []byte{0xFF, 0xFE, 0, 0}), bytes.HasPrefix(data, []byte{0, 0, 0, '<'}), bytes.HasPrefix(data, []byte{'<', 0, 0, 0}):
		return "", encodingError(0, "the file is UTF-32, which is not read")
	case bytes.HasPrefix(data, []byte{0xFE, 0xFF}):
		return decodeUTF16(data[2:], binary.BigEndian)
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}):
		return decodeUTF16(data[2:], binary.LittleEndian)
	case bytes.HasPrefix(data, []byte{0, '<'}):
		return decodeUTF16(data, binary.BigEndian)
	case bytes.HasPrefix(data, []byte{'<', 0}):
		return decodeUTF16(data, binary.LittleEndian)
	}
	return decodeDeclared(data, "")
}

func encodingError(line int, format string, args ...any) error {
	return &Error{Line: line, Code: notice.Encoding, Hint: "save the file as UTF-8", Err: fmt.Errorf(format, args...)}
}

// decodeDeclared decodes a file of single bytes as its XML declaration says.
// Mark is the encoding that a byte order mark has told, or "".
func decodeDeclared(data []byte, mark string) (string, error) {
	declared := declaredEncoding(data)
	name := squeezeName(declared)
	switch {
	case name == "" || name == "utf8":
		return decodeUTF8(data)
	case mark != "":
		return "", encodingError(1, "the file says that it is %s, but begins as %s does", quote(declared), mark)
	case name == "usascii" || name == "ascii":
		if i := bytes.IndexFunc(data, func(r rune) bool { return r >= utf8.RuneSelf }); i >= 0 {
			return "", badByte(data, i, declared)
		}
		return shared(data), nil
	case strings.HasPrefix(name, "utf16"):
		return "", encodingError(1, "the file says that it is UTF-16, but is written in single bytes")
	}
	if table := singleByteTable(name); table != nil {
		return decodeTable(data, table, declared)
	}
	return "", encodingError(1, "the file's encoding %s is not known here", quote(declared))
}

// declaredEncoding returns the encoding that the XML declaration of a file of
// single bytes tells, "" where it tells none.
func declaredEncoding(data []byte) string {
	const open, long = "<?xml", 1024
	head := string(data[:min(len(data), long)])
	inside, found := strings.CutPrefix(head, open)
	if !found || inside == "" || !isBlank(inside[0]) {
		return ""
	}
	inside, _, _ = strings.Cut(inside, "?>")
	d, _ := parseDeclaration(inside)
	return d.encoding
}

// decodeUTF8 checks that the bytes are UTF-8.
func decodeUTF8(data []byte) (string, error) {
	text := shared(data)
	if utf8.ValidString(text) {
		return text, nil
	}
	i := 0
	for {
		r, size := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && size <= 1 {
			return "", badByte(data, i, "UTF-8")
		}
		i += size
	}
}

func badByte(data []byte, i int, encoding string) error {
	return encodingError(lineOf(shared(data), i), "the byte %02X is not %s, the file's encoding", data[i], encoding)
}

// decodeUTF16 decodes UTF-16. A half of a pair that stands alone is refused, as
// in no other decoder at hand, which put a sign of their own in its place.
func decodeUTF16(data []byte, order binary.ByteOrder) (string, error) {
	if len(data)%2 != 0 {
		return "", encodingError(0, "the file is UTF-16, but has half a character at its end")
	}
	var b strings.Builder
	b.Grow(len(data) / 2)
	for i := 0; i < len(data); i += 2 {
		r := rune(order.Uint16(data[i:]))
		if utf16.IsSurrogate(r) {
			i += 2
			if i < len(data) {
				r = utf16.DecodeRune(r, rune(order.Uint16(data[i:])))
			}
			if i >= len(data) || r == utf8.RuneError {
				return "", encodingError(lineOf(b.String(), b.Len()), "the file is UTF-16, but has half a character alone")
			}
		}
		b.WriteRune(r)
	}
	return utf16Text(b.String())
}

// utf16Text checks that a text that was UTF-16 does not say that it is something else.
func utf16Text(text string) (string, error) {
	declared := declaredEncoding([]byte(text[:min(len(text), 1024)]))
	if name := squeezeName(declared); name != "" && !strings.HasPrefix(name, "utf16") && name != "iso10646ucs2" {
		return "", encodingError(1, "the file says that it is %s, but is UTF-16", quote(declared))
	}
	return text, nil
}

// singleByteTable returns the character set of that name, or nil.
func singleByteTable(name string) *charmap.Charmap {
	if name == "latin1" {
		return charmap.ISO8859_1
	}
	if name == "cp1252" {
		return charmap.Windows1252
	}
	for _, known := range charmap.All {
		if table, ok := known.(*charmap.Charmap); ok && squeezeName(table.String()) == name {
			return table
		}
	}
	return nil
}

// squeezeName leaves the letters and digits of an encoding's name, in lower case.
func squeezeName(name string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' || r >= 'a' && r <= 'z' {
			return r
		}
		return -1
	}, strings.ToLower(name))
}

// decodeTable decodes a file in a single-byte character set.
func decodeTable(data []byte, table *charmap.Charmap, declared string) (string, error) {
	var b strings.Builder
	b.Grow(len(data) + len(data)/16)
	for i, c := range data {
		r := table.DecodeByte(c)
		if r == utf8.RuneError {
			return "", badByte(data, i, declared)
		}
		b.WriteRune(r)
	}
	return b.String(), nil
}

// shared returns the bytes as a string without copying them. Whoever hands
// bytes to this package promises not to change them while it reads, and with
// pooled memory (Buffers) until the score is released.
func shared(data []byte) string {
	return unsafe.String(unsafe.SliceData(data), len(data))
}
