package main

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"hash/fnv"

	"github.com/klauspost/compress/zstd"
)

// pack compresses what is small, for the browser's own decompression.
func pack(data []byte) (string, error) {
	var packed bytes.Buffer
	w, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		return "", err
	}
	if _, err := w.Write(data); err != nil {
		return "", err
	}
	if err := w.Close(); err != nil {
		return "", err
	}
	return base64.StdEncoding.EncodeToString(packed.Bytes()), nil
}

// window is how far back the packed program refers: all of it.
const window = 32 << 20

// packProgram compresses the program and writes it as text. A browser's own decompression
// looks 32 KB back, which makes it a seventh larger; the worker has a decoder. The sum is
// that of the compressed bytes.
func packProgram(code []byte) (text string, sum uint32, err error) {
	w, err := zstd.NewWriter(nil, zstd.WithEncoderLevel(zstd.SpeedBestCompression), zstd.WithWindowSize(window),
		zstd.WithSingleSegment(true), zstd.WithEncoderConcurrency(1))
	if err != nil {
		return "", 0, err
	}
	packed := w.EncodeAll(code, nil)
	hash := fnv.New32a()
	_, _ = hash.Write(packed) // never fails
	return asText(packed), hash.Sum32(), w.Close()
}

// barred are the letters that HTML does not keep within a script, or that may end one.
var barred = []byte{0, '\r', '<'}

// asText writes bytes as text that HTML in UTF-8 keeps as it is: seven bits a letter, the
// first bit first. A barred letter and the seven bits after it are one of the letters from
// U+0100, which takes two bytes as well; at the end, alone, one from U+0280.
func asText(data []byte) string {
	groups := septets(data)
	text := make([]byte, 0, len(groups))
	for i := 0; i < len(groups); i++ {
		which := bytes.IndexByte(barred, groups[i])
		switch {
		case which < 0:
			text = append(text, groups[i])
		case i+1 < len(groups):
			i++
			text = append(text, string(rune(0x100+which<<7+int(groups[i])))...)
		default:
			text = append(text, string(rune(0x280+which))...)
		}
	}
	return string(text)
}

// septets are the bits of data in sevens, the last filled up with zeros.
func septets(data []byte) []byte {
	groups := make([]byte, 0, len(data)*8/7+1)
	held, bits := 0, 0
	for _, b := range data {
		held, bits = held<<8|int(b), bits+8
		for bits >= 7 {
			bits -= 7
			groups = append(groups, byte(held>>bits))
			held &= 1<<bits - 1
		}
	}
	if bits > 0 {
		groups = append(groups, byte(held<<(7-bits)))
	}
	return groups
}
