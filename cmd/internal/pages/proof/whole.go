package proof

import (
	"bytes"
	"compress/flate"
	"encoding/base64"
	"fmt"
	"io"
)

// packing is the level of DEFLATE: the best is a tenth smaller and takes twice
// as long.
const packing = 6

// pack makes text of a page's script small: raw DEFLATE (RFC 1951) in base64.
func pack(text string) (string, error) {
	var packed bytes.Buffer
	w, err := flate.NewWriter(&packed, packing)
	if err == nil {
		_, err = io.WriteString(w, text)
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		return "", fmt.Errorf("pack the whole part: %w", err)
	}
	return base64.StdEncoding.EncodeToString(packed.Bytes()), nil
}
