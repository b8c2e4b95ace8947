//go:build linux

package run

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/report"
	"deskpart/musicxml/musicxmltest"
)

// Environment variables that make this test binary a run to be tested.
const (
	helperWait = "DESKPART_TEST_WAIT" // waits for signals
	helperPipe = "DESKPART_TEST_PIPE" // writes to standard output
)

func TestMain(m *testing.M) {
	if os.Getenv(helperWait) != "" {
		waitingRun()
	}
	if os.Getenv(helperPipe) != "" {
		os.Exit(brokenPipeRun())
	}
	musicxmltest.HeedSignals()
	os.Exit(m.Run())
}

// waitingRun is what the test binary does as a run that waits to be stopped: it
// says when it is ready and what stopped it, and then waits for the second signal.
func waitingRun() {
	ctx, stop := StopOnSignals(context.Background())
	defer stop()
	os.Stdout.WriteString("ready\n")
	<-ctx.Done()
	os.Stdout.WriteString(context.Cause(ctx).Error() + "\n")
	select {}
}

func TestStopOnSignals(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		signal syscall.Signal
		want   string
	}{
		{syscall.SIGINT, "stopped by Ctrl-C\n"},
		{syscall.SIGTERM, "stopped by SIGTERM\n"},
		{syscall.SIGHUP, "stopped because the terminal was closed\n"},
	} {
		t.Run(c.signal.String(), func(t *testing.T) {
			t.Parallel()
			run := exec.Command(os.Args[0])
			run.Env = append(os.Environ(), helperWait+"=1")
			out, err := run.StdoutPipe()
			require.NoError(t, err)
			require.NoError(t, run.Start())
			read := func() string {
				line := make([]byte, 100)
				n, _ := out.Read(line)
				return string(line[:n])
			}
			assert.Equal(t, "ready\n", read())
			require.NoError(t, run.Process.Signal(c.signal))
			assert.Equal(t, c.want, read(), "the first signal is a request")
			require.NoError(t, run.Process.Signal(c.signal))
			err = run.Wait()
			var exit *exec.ExitError
			require.ErrorAs(t, err, &exit, "the second is an end")
			assert.Equal(t, c.signal, exit.Sys().(syscall.WaitStatus).Signal())
		})
	}
}

// A run whose reader goes away does not die of it and goes on.
func TestBrokenPipe(t *testing.T) {
	t.Parallel()
	reader, writer, err := os.Pipe()
	require.NoError(t, err)
	require.NoError(t, reader.Close())
	var said strings.Builder
	run := exec.Command(os.Args[0])
	run.Env = append(os.Environ(), helperPipe+"=1")
	run.Stdout, run.Stderr = writer, &said
	require.NoError(t, run.Run())
	require.NoError(t, writer.Close())
	assert.Equal(t, "deskpart: goes on\n", said.String())
}

// brokenPipeRun is what the test binary does as a run with results to write.
func brokenPipeRun() int {
	_, stop := StopOnSignals(context.Background())
	defer stop()
	streams := report.SystemStreams()
	streams.Out.Write([]byte("result\n"))
	if streams.Gone() {
		streams.Say("goes on")
	}
	return 0
}

// Shells count a process that a signal ended as 128 and its number.
func TestStatus(t *testing.T) {
	t.Parallel()
	assert.Equal(t, 129, Interrupted{syscall.SIGHUP}.Status())
	assert.Equal(t, 130, Interrupted{os.Interrupt}.Status())
	assert.Equal(t, 143, Interrupted{syscall.SIGTERM}.Status())
}

func TestAbandon(t *testing.T) {
	t.Parallel()
	wrong := errors.New("wrong")
	assert.Equal(t, wrong, Abandon(context.Background(), func() error { return wrong }))
	var fault *Fault
	assert.ErrorAs(t, Abandon(context.Background(), func() error { panic("a mistake") }), &fault)
	ctx, cancel := context.WithCancelCause(context.Background())
	cancel(Interrupted{os.Interrupt})
	assert.Equal(t, Interrupted{os.Interrupt}, Abandon(ctx, func() error { select {} }))
}

func TestInterruptedIsCanceled(t *testing.T) {
	t.Parallel()
	assert.True(t, errors.Is(Interrupted{os.Interrupt}, context.Canceled))
	assert.False(t, errors.Is(Interrupted{os.Interrupt}, context.DeadlineExceeded))
}
