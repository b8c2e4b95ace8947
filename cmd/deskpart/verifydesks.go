package main

import (
	"context"
	"slices"
	"strings"

	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/collate"
	"deskpart/transpose/verify"
)

// wantsDesks reports whether other desks than the score's staves are to be proved.
func (o *verifyOptions) wantsDesks() bool {
	d := &o.desks
	return d.plan != "" || d.Percussionists > 0 || len(d.share) > 0 || d.Players
}

// heardKinds are the differences that are heard.
var heardKinds = []collate.Kind{collate.Pitch, collate.Rhythm, collate.Bars, collate.Missing, collate.Extra, collate.Unreadable}

// holdDesks makes the parts of all desks that were asked for, takes them apart by the
// staves of the score, and holds them against it by other code: what all desks have
// together is the score.
func (v *verificationRun) holdDesks(ctx context.Context, w *run.Worker, score *musicxml.Score, result []verifiedPart) error {
	if v.desks == nil {
		return nil
	}
	o := v.desks.Options
	o.Input, o.RestBars = v.parts.Input, 0
	job, err := v.assign(ctx, w, score, o)
	if err != nil {
		return err
	}
	catalogue, err := v.program.catalogue()
	if err != nil {
		return err
	}
	held, err := collate.ReadScore(score, catalogue, v.parts.Input, v.each(ctx, w))
	if err != nil {
		return err
	}
	var given []*collate.Part
	for i, a := range job.Assignments() {
		made, err := job.Make(i)
		if err != nil || made.Document == nil {
			continue // the verdict of the part says why
		}
		file, err := musicxml.Read(musicxml.Append(nil, made.Document, layout), musicxml.ReadOptions{Name: a.Label})
		if err != nil {
			return err
		}
		read, err := collate.ReadFile(a.Label, a.ID, file, catalogue, &v.spaces[w.Number()])
		if err != nil {
			return err
		}
		given = append(given, read...)
	}
	results, err := held.Collate(given, collate.Options{Complete: true}, v.each(ctx, w))
	if err != nil {
		return err
	}
	v.takeDesks(results, result)
	return nil
}

// takeDesks adds to the parts of the score what its desks lack or have too much. Octaves
// are the plan's to choose.
func (v *verificationRun) takeDesks(results []collate.Result, parts []verifiedPart) {
	for i := range results {
		at := max(0, slices.IndexFunc(parts, func(p verifiedPart) bool { return p.name == results[i].Part }))
		for _, d := range results[i].Differences {
			octave := v.desks.plan != "" && d.Kind == collate.Pitch && strings.Contains(d.Text, "octave")
			if octave || !slices.Contains(heardKinds, d.Kind) || len(parts) == 0 {
				continue
			}
			text := "the desks together: " + d.Text
			if results[i].File != "" {
				text = results[i].File + ": " + d.Text
			}
			parts[at].found = append(parts[at].found, verify.Finding{Measure: strings.Clone(d.Measure), Beat: d.Beat, Text: strings.Clone(text)})
			parts[at].verdict = verify.Different
		}
	}
}
