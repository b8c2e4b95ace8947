package main

import (
	"cmp"
	"context"
	"fmt"

	"deskpart/cmd/internal/report"
)

// printBooks writes a PDF for each player beside the files. A player whose movements
// cannot be drawn gets a warning: the files are there.
func (j *workJob) printBooks(ctx context.Context, rows []report.PartRow) error {
	options := j.options(string(j.Language), 0)
	names := make([]string, len(j.Players))
	for p := range names {
		names[p] = j.names.Unique(fmt.Sprintf("%02d %s", p+1, j.Players[p].Label), ".pdf")
	}
	return cmp.Or(j.worker.Each(ctx, len(j.Players), func(_ context.Context, _, p int) error {
		row := &rows[p*len(j.Jobs)] // the player's first
		printed, err := options.PrintPlayer(j.Work, p, true)
		if err != nil {
			row.NotPrinted(err)
			return nil
		}
		return j.putPrint(row, names[p], printed)
	})...)
}
