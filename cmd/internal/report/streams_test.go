//go:build linux

package report

import (
	"io"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A result that does not get out is an error, once and for all.
func TestResultWriter(t *testing.T) {
	t.Parallel()
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	require.NoError(t, err)
	defer full.Close()
	reader, pipe, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	defer pipe.Close()
	closed, err := os.CreateTemp(t.TempDir(), "")
	require.NoError(t, err)
	require.NoError(t, closed.Close())
	for _, c := range []struct {
		name, why string
		to        io.Writer
		want      string
	}{
		{"full", "/dev/full is always full (full(4))", full, "standard output: the disk is full; make room and run it again"},
		{"nobody reads", "a pipe whose reader has gone", pipe, "standard output: nobody reads it any more"},
		{"closed", "cannot be written to", closed, "standard output: file already closed"},
		{"short", "not all of it", shortWriter{}, "standard output: not all of it could be written; run it again"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := NewResultWriter(c.to)
			streams := &Streams{Out: w}
			assert.NoError(t, streams.OutErr())
			for range 2 {
				_, err := w.Write([]byte("result\n"))
				assert.EqualError(t, err, c.want, c.why)
			}
			assert.EqualError(t, streams.OutErr(), c.want)
		})
	}
}

type shortWriter struct{}

func (shortWriter) Write(p []byte) (int, error) { return len(p) - 1, nil }
