package pdf

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode/utf16"
)

// reference names an object of the file (7.3.10), counted from 1.
type reference int

func (r reference) String() string { return strconv.Itoa(int(r)) + " 0 R" }

// dictionary holds values as they are written (7.3.7), its keys without slash.
type dictionary map[string]string

// String writes the keys in order, so that equal dictionaries are equal bytes.
func (d dictionary) String() string {
	var out strings.Builder
	out.WriteString("<<")
	for _, key := range slices.Sorted(maps.Keys(d)) {
		out.WriteString(name(key) + " " + d[key])
	}
	out.WriteString(">>")
	return out.String()
}

// name writes a name (7.3.5): what is no regular character goes as #xx.
func name(text string) string {
	var out strings.Builder
	out.WriteByte('/')
	for _, c := range []byte(text) {
		if c <= ' ' || c > '~' || strings.IndexByte("#()<>[]{}/%", c) >= 0 {
			fmt.Fprintf(&out, "#%02X", c)
			continue
		}
		out.WriteByte(c)
	}
	return out.String()
}

// escapes are for the characters that end a text string or go before others.
var escapes = strings.NewReplacer(`\`, `\\`, "(", `\(`, ")", `\)`)

// textString writes a text string (7.9.2.2): as it is where ASCII holds it, in
// UTF-16BE with its mark otherwise.
func textString(text string) string {
	if strings.IndexFunc(text, func(r rune) bool { return r < ' ' || r > '~' }) < 0 {
		return "(" + escapes.Replace(text) + ")"
	}
	return "<FEFF" + utf16Hex(text) + ">"
}

// utf16Hex writes text in UTF-16BE as hexadecimal digits.
func utf16Hex(text string) string {
	var out strings.Builder
	for _, unit := range utf16.Encode([]rune(text)) {
		fmt.Fprintf(&out, "%04X", unit)
	}
	return out.String()
}

// array writes values in square brackets (7.3.6).
func array(values []reference) string {
	texts := make([]string, len(values))
	for i, v := range values {
		texts[i] = v.String()
	}
	return "[" + strings.Join(texts, " ") + "]"
}

// number writes a real number (7.3.3) with up to that many decimals.
func number(v float64, decimals int) string {
	var digits [32]byte
	return string(appendNumber(digits[:0], v, decimals))
}

// appendNumber appends it.
func appendNumber(out []byte, v float64, decimals int) []byte {
	begin := len(out)
	out = strconv.AppendFloat(out, v, 'f', decimals, 64)
	if decimals > 0 {
		for out[len(out)-1] == '0' {
			out = out[:len(out)-1]
		}
		out = bytes.TrimSuffix(out, []byte{'.'})
	}
	if string(out[begin:]) == "-0" {
		return append(out[:begin], '0')
	}
	return out
}

// file writes objects one after the other and remembers where each begins.
type file struct {
	out     io.Writer
	at      int64
	digest  hash.Hash
	offsets []int64 // by reference, from 1; 0 where it is not written yet
	err     error   // the first of writing
}

func newFile(out io.Writer) *file {
	f := &file{out: out, digest: sha256.New(), offsets: make([]int64, 1)}
	// A comment of high bytes says that the file is binary (7.5.2).
	f.write("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")
	return f
}

func (f *file) write(text string) {
	if f.err != nil {
		return
	}
	f.digest.Write([]byte(text))
	n, err := io.WriteString(f.out, text)
	f.at += int64(n)
	f.err = err
}

// allot reserves a reference for an object that is written later.
func (f *file) allot() reference {
	f.offsets = append(f.offsets, 0)
	return reference(len(f.offsets) - 1)
}

// put writes an object under its reference.
func (f *file) put(r reference, value string) {
	f.offsets[r] = f.at
	f.write(strconv.Itoa(int(r)) + " 0 obj\n" + value + "\nendobj\n")
}

// add writes an object under a reference of its own.
func (f *file) add(value string) reference {
	r := f.allot()
	f.put(r, value)
	return r
}

// stream writes a stream (7.3.8) that was compressed (7.4.4).
func (f *file) stream(r reference, d dictionary, packed []byte) {
	d["Filter"] = name("FlateDecode")
	f.plainStream(r, d, packed)
}

// plainStream writes a stream as it is.
func (f *file) plainStream(r reference, d dictionary, data []byte) {
	d["Length"] = strconv.Itoa(len(data))
	f.put(r, d.String()+"\nstream\n"+string(data)+"\nendstream")
}

// end writes the table of references and the trailer (7.5.4, 7.5.5). The file's
// identifier is a sum of what was written: no clock is asked.
func (f *file) end(catalogue, info reference) error {
	identifier := "<" + hex.EncodeToString(f.digest.Sum(nil)[:16]) + ">"
	start := f.at
	var table strings.Builder
	fmt.Fprintf(&table, "xref\n0 %d\n0000000000 65535 f \n", len(f.offsets))
	for _, offset := range f.offsets[1:] {
		fmt.Fprintf(&table, "%010d 00000 n \n", offset)
	}
	trailer := dictionary{"Size": strconv.Itoa(len(f.offsets)), "Root": catalogue.String(), "Info": info.String(), "ID": "[" + identifier + identifier + "]"}
	f.write(table.String() + "trailer\n" + trailer.String() + fmt.Sprintf("\nstartxref\n%d\n%%%%EOF\n", start))
	return f.err
}
