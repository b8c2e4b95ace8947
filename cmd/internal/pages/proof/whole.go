package proof

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"io"
)

// packing is the level of DEFLATE: the best is a tenth smaller and takes twice
// as long.
const packing = 6

// pack makes text of a page's script small: raw DEFLATE (RFC 1951) in base64.
func pack(text string) string {
	var packed bytes.Buffer
	w, _ := flate.NewWriter(&packed, packing) // fails for other levels than there are
	io.WriteString(w, text)
	w.Close() // into memory: neither fails
	return base64.StdEncoding.EncodeToString(packed.Bytes())
}
