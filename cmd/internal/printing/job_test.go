package printing_test

import (
	"bytes"
	"testing"

	"github.com/pdfcpu/pdfcpu/pkg/api"
	"github.com/pdfcpu/pdfcpu/pkg/pdfcpu/model"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"deskpart/cmd/internal/printing"
)

// A job by hand: parts of one, two and one pages, of which three, two and one are
// printed, every copy on a right-hand page: 1 blank 1 blank 1 blank, 2 2, 1. A general
// library finds the bookmarks on odd pages.
func TestJob(t *testing.T) {
	t.Parallel()
	conf := model.NewDefaultConfiguration()
	conf.ValidationMode = model.ValidationStrict
	for _, row := range []struct {
		oneSided bool
		pages    int
		from     []int
	}{{false, 11, []int{1, 3, 5, 7, 9, 11}}, {true, 8, []int{1, 2, 3, 4, 6, 8}}} {
		job := printing.Job{Title: "Low Water", Language: "en", OneSided: row.oneSided}
		for _, part := range []struct{ measures, pages, copies int }{{10, 1, 3}, {55, 2, 2}, {10, 1, 1}} {
			printed, err := printing.Options{}.Print(printing.Player{Label: "Viola"}, document(t, part.measures))
			require.NoError(t, err)
			require.Len(t, printed.Sheets, part.pages)
			job.Add(printed, part.copies)
		}
		assert.Equal(t, printing.JobRow{Pages: row.pages, Copies: 6}, job.Row())
		data, err := job.PDF()
		require.NoError(t, err)
		require.NoError(t, api.Validate(bytes.NewReader(data), conf))
		pages, err := api.PageCount(bytes.NewReader(data), conf)
		require.NoError(t, err)
		assert.Equal(t, row.pages, pages)
		marks, err := api.Bookmarks(bytes.NewReader(data), conf)
		require.NoError(t, err)
		var from []int
		for _, m := range marks {
			from = append(from, m.PageFrom)
		}
		assert.Equal(t, row.from, from)
		assert.Equal(t, "Viola (3/3)", marks[2].Title)
		assert.Equal(t, "Viola", marks[5].Title)
	}
}
