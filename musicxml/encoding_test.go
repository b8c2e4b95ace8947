package musicxml

import (
	"encoding/binary"
	"testing"
	"unicode/utf16"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// utf16Bytes encodes a text as UTF-16 by the standard library.
func utf16Bytes(order binary.AppendByteOrder, text string) []byte {
	var data []byte
	for _, unit := range utf16.Encode([]rune(text)) {
		data = order.AppendUint16(data, unit)
	}
	return data
}

func TestDecode(t *testing.T) {
	t.Parallel()
	utf16Text := "<?xml version='1.0' encoding='UTF-16'?><a>é♭𝄪</a>"
	for _, row := range []struct {
		name, why string
		data      []byte
		want      string
	}{
		{"UTF-8", "the default (XML 1.0, 4.3.3)", []byte("<a>é♭</a>"), "<a>é♭</a>"},
		{"UTF-8 with mark", "the mark is no character", []byte("\uFEFF<a>é</a>"), "<a>é</a>"},
		{"UTF-8 declared", "the name has no case", []byte("<?xml version='1.0' encoding='utf-8'?><a>é</a>"), "<?xml version='1.0' encoding='utf-8'?><a>é</a>"},
		{"UTF-16 big", "with mark", utf16Bytes(binary.BigEndian, "\uFEFF"+utf16Text), utf16Text},
		{"UTF-16 little", "with mark", utf16Bytes(binary.LittleEndian, "\uFEFF"+utf16Text), utf16Text},
		{"UTF-16 big without mark", "told by < (XML 1.0, F.1)", utf16Bytes(binary.BigEndian, utf16Text), utf16Text},
		{"UTF-16 little without mark", "told by < (XML 1.0, F.1)", utf16Bytes(binary.LittleEndian, utf16Text), utf16Text},
		{"UTF-16 undeclared", "the mark is enough", utf16Bytes(binary.LittleEndian, "\uFEFF<a/>"), "<a/>"},
		{"ISO-8859-1", "E9 is é", []byte("<?xml version='1.0' encoding='ISO-8859-1'?><a>\xE9</a>"), "<?xml version='1.0' encoding='ISO-8859-1'?><a>é</a>"},
		{"Latin-1 by another name", "an alias", []byte("<?xml version='1.0' encoding='latin1'?><a>\xDF</a>"), "<?xml version='1.0' encoding='latin1'?><a>ß</a>"},
		{"windows-1252", "80 is the euro, 92 an apostrophe", []byte("<?xml version='1.0' encoding='Windows-1252'?><a>\x80\x92</a>"), "<?xml version='1.0' encoding='Windows-1252'?><a>€’</a>"},
		{"US-ASCII", "a part of UTF-8", []byte("<?xml version='1.0' encoding='US-ASCII'?><a/>"), "<?xml version='1.0' encoding='US-ASCII'?><a/>"},
		{"ISO-8859-2", "other single-byte sets come with the library: E8 is č", []byte("<?xml version='1.0' encoding='iso-8859-2'?><a>\xE8</a>"), "<?xml version='1.0' encoding='iso-8859-2'?><a>č</a>"},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			text, err := decode(row.data)
			require.NoError(t, err, row.why)
			assert.Equal(t, row.want, text, row.why)
			doc, err := ParseDocument(row.data, ReadOptions{})
			require.NoError(t, err)
			written := string(Append(nil, doc, WriteOptions{}))
			assert.NotRegexp(t, `(?i)encoding=.(iso|win|utf-16|latin)`, written, "what is written is UTF-8 and says so")
		})
	}
}

func TestDecodeRefuses(t *testing.T) {
	t.Parallel()
	little, big := binary.LittleEndian, binary.BigEndian
	for _, row := range []struct {
		name, why string
		data      []byte
		line      int
	}{
		{"Latin-1 undeclared", "what is not declared is UTF-8, and E9 alone is not", []byte("<a>\n\xE9</a>"), 2},
		{"cut character", "a character of UTF-8 that is cut off", []byte("<a>\xC3</a>"), 1},
		{"overlong", "no shortest form, no UTF-8", []byte("<a>\xC0\xBC</a>"), 1},
		{"half a pair in UTF-8", "surrogates are not written in UTF-8", []byte("<a>\xED\xA0\x80</a>"), 1},
		{"hole in windows-1252", "81 is no character there", []byte("<?xml version='1.0' encoding='windows-1252'?>\n<a>\x81</a>"), 2},
		{"not ASCII", "E9 is beyond ASCII", []byte("<?xml version='1.0' encoding='us-ascii'?><a>\xE9</a>"), 1},
		{"declared UTF-16", "single bytes are never UTF-16", []byte("<?xml version='1.0' encoding='UTF-16'?><a/>"), 1},
		{"mark against declaration", "one of the two is wrong", []byte("\uFEFF<?xml version='1.0' encoding='ISO-8859-1'?><a/>"), 1},
		{"UTF-16 that says UTF-8", "one of the two is wrong", utf16Bytes(little, "\uFEFF<?xml version='1.0' encoding='UTF-8'?><a/>"), 1},
		{"unknown", "no such encoding here", []byte("<?xml version='1.0' encoding='x-music'?><a/>"), 1},
		{"half a pair", "half a character of UTF-16", append(utf16Bytes(little, "\uFEFF<a>\n"), 0x00, 0xD8, '<', 0), 2},
		{"second half alone", "half a character of UTF-16", append(utf16Bytes(big, "\uFEFF<a>"), 0xDC, 0x00, 0, '<'), 1},
		{"half a pair at the end", "half a character of UTF-16", append(utf16Bytes(big, "\uFEFF<a>"), 0xD8, 0x00), 1},
		{"odd UTF-16", "half a unit", append(utf16Bytes(little, "\uFEFF<a/>"), 'x'), 0},
		{"UTF-32", "not read", []byte{0xFF, 0xFE, 0, 0, '<', 0, 0, 0}, 0},
		{"UTF-32 without mark", "not read", []byte{0, 0, 0, '<', 0, 0, 0, 'a'}, 0},
	} {
		t.Run(row.name, func(t *testing.T) {
			t.Parallel()
			_, err := ParseDocument(row.data, ReadOptions{Name: "x.musicxml"})
			checkRefusal(t, err, "encoding", row.line, row.why)
		})
	}
}
