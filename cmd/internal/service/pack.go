package service

import (
	"archive/zip"
	"bytes"
	"io"

	"deskpart/cmd/internal/files"
)

// pack puts the files of a call into one archive, in their order and with safe names. It
// has no clock: the same files are the same archive.
func (s *Service) pack(c *call) (Reply, error) {
	var packed bytes.Buffer
	archive := zip.NewWriter(&packed)
	var style files.NameStyle
	for i, file := range c.files {
		w, err := archive.Create(style.SafePath(file.Name))
		if err != nil {
			return Reply{}, err
		}
		if _, err := io.Copy(w, bytes.NewReader(file.Data)); err != nil {
			return Reply{}, err
		}
		if err := c.step(Progress{Done: i + 1, Of: len(c.files)}); err != nil {
			return Reply{}, err
		}
	}
	err := archive.Close()
	return Reply{Value: struct{}{}, Files: []File{{"parts.zip", packed.Bytes()}}}, err
}
