package report_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"deskpart/cmd/internal/report"
)

func TestMessage(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, why, text, want string }{
		{"plain", "the contract's line", `trio.mxl: part "Horn in F" (P7), measure 12: what`, `deskpart: trio.mxl: part "Horn in F" (P7), measure 12: what` + "\n"},
		{"letters", "names stay readable", "Flöte in B♭: 笛", "deskpart: Flöte in B♭: 笛\n"},
		{"line ends", "one message is one line", "a\nb\r\nc\n", `deskpart: a\nb\r\nc` + "\n"},
		{"line separator", "some viewers break there", "a\u2028b", `deskpart: a\u2028b` + "\n"},
		{"escape", "a terminal must not obey a part's name", "\x1b]0;x\a", `deskpart: \x1b]0;x\a` + "\n"},
		{"direction of writing", "must not turn the line round", "a\u202eb", `deskpart: a\u202eb` + "\n"},
		{"no UTF-8", "bytes of a file's name", "a\xffb", `deskpart: a\xffb` + "\n"},
		{"replacement character", "a letter like others", "a\uFFFDb", "deskpart: a\uFFFDb\n"},
		{"quotation mark and backslash", "stay", `a"\b`, `deskpart: a"\b` + "\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			assert.Equal(t, c.want, report.Message(c.text), c.why)
		})
	}
}
