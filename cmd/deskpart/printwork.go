package main

import (
	"context"
	"fmt"
	"path"
	"path/filepath"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/printing"
	"deskpart/cmd/internal/report"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
	"deskpart/musicxml/parts"
	"deskpart/musicxml/works"
)

// workOf prints a work of several movements: a book for each player. Where the movements
// are one player's part files, it is that player's book.
func (r *printRun) workOf(ctx context.Context, w *run.Worker, in files.Input, result printedScore) (_ printedScore, err error) {
	data, err := r.loadMovements(w, in)
	if err != nil {
		return result, err
	}
	result.source = files.Source{Path: in.Key, SHA256: report.WorkSum(in.Title, data, titlesOf(in), report.Sum)}
	if r.isDone(&result) {
		return result, nil
	}
	job := &printJob{printRun: r, worker: w, input: in, stem: in.Stem(), result: &result}
	if in.Player != "" {
		return result, job.leavesOf(ctx, in, data)
	}
	movements, err := r.readWork(ctx, w, in, data, r.Options)
	if err != nil {
		return result, err
	}
	defer releaseAfter(movements, &err)
	missing := movements.Missing()
	result.Title = movements.Title
	result.NotFound, result.warnings = wordsOf(missing), report.MissingWarnings(missing)
	job.movements, job.assignments = movements, movements.desks()
	return result, job.printAll(ctx)
}

// desks are the players of the work, as what is to be printed.
func (w *readWork) desks() []parts.Assignment {
	var desks []parts.Assignment
	for p, player := range w.Players {
		desk := parts.Assignment{}
		for m := len(player.Files) - 1; m >= 0; m-- {
			if file := player.Files[m]; file >= 0 {
				copies := desk.Copies
				desk = w.Jobs[m].Assignment(file)
				desk.Copies = max(copies, desk.Copies)
			}
		}
		desk.Number, desk.Label = p+1, player.Label
		desks = append(desks, desk)
	}
	return desks
}

// leavesOf prints the part files of one player of a work as they are.
func (j *printJob) leavesOf(ctx context.Context, in files.Input, data [][]byte) (err error) {
	j.asIs = true
	j.result.Title = in.Title
	for i, movement := range in.Movements {
		score, err := j.readData(j.worker, movement, data[i], true)
		if err != nil {
			return musicxml.Locate(err, musicxml.Error{File: movement.Place()})
		}
		defer releaseAfter(score, &err)
		var leaf printing.Movement
		if len(score.Parts) > 0 {
			part, err := score.ReadPart(0, nil)
			if err != nil {
				return musicxml.Locate(err, musicxml.Error{File: movement.Place()})
			}
			leaf = printing.Leaf(score, part)
			for n := range leaf.Said {
				leaf.Said[n].Movement = i + 1
			}
		}
		leaf.Heading, leaf.Tacet = movement.Title, movement.Tacet
		j.leaves = append(j.leaves, leaf)
	}
	catalogue, err := j.program.catalogue()
	if err != nil {
		return err
	}
	player := parts.Assignment{Number: 1, Label: in.Player, Name: in.Player, ID: "P1", RecognisedBy: parts.ByName}
	if found := catalogue.Find(in.Player); len(found) > 0 {
		player.Instrument = found[0]
	}
	j.assignments = []parts.Assignment{player}
	if err := j.leaveOut(); err != nil {
		return err
	}
	return j.printAll(ctx)
}

// gatherBooks puts the part files that an earlier run made of a work together, player by
// player, where all that it made for the player are there.
func gatherBooks(inputs []files.Input, style files.NameStyle) []files.Input {
	at := map[string]int{} // inputs by path
	made := map[string]*report.Manifest{}
	for i, in := range inputs {
		at[filepath.Clean(in.Path)] = i
		if dir := filepath.Dir(in.Path); in.Movements == nil && made[dir] == nil {
			made[dir] = manifestOf(dir)
		}
	}
	books := map[int]files.Input{} // by the place of the first file
	taken := map[int]bool{}
	for dir, m := range made {
		if m != nil && len(m.Movements) > 0 {
			booksOf(dir, m, inputs, at, style, books, taken)
		}
	}
	var gathered []files.Input
	for i, in := range inputs {
		if book, first := books[i]; first {
			gathered = append(gathered, book)
		} else if !taken[i] {
			gathered = append(gathered, in)
		}
	}
	return gathered
}

// booksOf finds the books of one folder.
func booksOf(dir string, m *report.Manifest, inputs []files.Input, at map[string]int, style files.NameStyle, books map[int]files.Input, taken map[int]bool) {
	n := len(m.Movements)
	for from := 0; from+n <= len(m.Parts); from += n {
		rows := m.Parts[from : from+n]
		var places []int
		for _, row := range rows {
			if place, there := at[filepath.Join(dir, row.File)]; there && row.File != "" && row.Player == rows[0].Player {
				places = append(places, place)
			}
		}
		if len(places) < n {
			continue
		}
		first := inputs[places[0]]
		book := files.Input{Path: first.Path, Player: rows[0].Player, Title: m.Source.Title}
		name := style.SafePath(fmt.Sprintf("%02d %s", from/n+1, rows[0].Player))
		book.Key = path.Join(path.Dir(first.Key), name+path.Ext(first.Key))
		book.Rel = path.Join(path.Dir(first.Rel), name+path.Ext(first.Rel))
		for k, place := range places {
			movement := inputs[place]
			movement.Tacet = rows[k].Status == report.Tacet
			movement.Title = works.Heading(k, m.Movements[k].Title)
			if !movement.Tacet && rows[k].Label != rows[k].Player {
				movement.Title += " (" + rows[k].Label + ")"
			}
			book.Movements = append(book.Movements, movement)
			book.Size += movement.Size
			taken[place] = true
		}
		books[places[0]] = book
	}
}
