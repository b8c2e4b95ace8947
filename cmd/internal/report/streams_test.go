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
	closed, err := os.CreateTemp(t.TempDir(), "")
	require.NoError(t, err)
	require.NoError(t, closed.Close())
	for _, c := range []struct {
		name, why string
		to        io.Writer
		want      string
	}{
		{"full", "/dev/full is always full (full(4))", full, "standard output: the disk is full; make room and run it again"},
		{"closed", "cannot be written to", closed, "standard output: it is closed; give the results somewhere to go, or say --quiet"},
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

// A reader who has had enough, as "| head -1", is no fault; what comes after goes nowhere.
func TestReaderGone(t *testing.T) {
	t.Parallel()
	reader, pipe, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	defer pipe.Close()
	streams := &Streams{Out: NewResultWriter(pipe)}
	assert.False(t, streams.Gone())
	for range 2 {
		n, err := streams.Out.Write([]byte("result\n"))
		assert.NoError(t, err)
		assert.Equal(t, 7, n)
	}
	assert.True(t, streams.Gone())
	assert.NoError(t, streams.OutErr())
}

type shortWriter struct{}

func (shortWriter) Write(p []byte) (int, error) { return len(p) - 1, nil }
