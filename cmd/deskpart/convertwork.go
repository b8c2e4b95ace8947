package main

import (
	"cmp"
	"context"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"deskpart/cmd/internal/files"
	"deskpart/cmd/internal/run"
	"deskpart/musicxml"
)

// packed converts the scores of a compressed file of several, which is one again: its
// opus, its list and all else that is in it stay.
func (c *conversion) packed(ctx context.Context, w *run.Worker, in files.Input) (convertedScore, error) {
	result := convertedScore{Path: in.Key, Movements: len(in.Movements), Warnings: []convertedWarning{}}
	data, err := c.loadUndone(w, in, c.output, &result.source, func() bool { return c.isDone(&result) })
	if err != nil || data == nil {
		return result, err
	}
	converted := map[string][]byte{}
	for _, m := range in.Movements {
		text, err := c.movement(ctx, w, m, &result)
		if err != nil {
			return result, err
		}
		converted[m.Inside] = text
	}
	root, contents, err := musicxml.Repack(data, musicxml.ReadOptions{Name: in.Path, Limits: c.limits}, converted)
	if err != nil {
		return result, err
	}
	packed, err := container(root, contents...)
	if err != nil {
		return result, err
	}
	return result, c.keep(&result, in.Stem()+".mxl", packed)
}

// movement converts one score of a compressed file of several.
func (c *conversion) movement(ctx context.Context, w *run.Worker, m files.Input, whole *convertedScore) (text []byte, err error) {
	score, err := c.read(w, m)
	if err != nil {
		return nil, err
	}
	defer releaseAfter(score, &err)
	was := whole.Was
	converted, err := c.convert(ctx, w, score, whole)
	if was != "" && was != whole.Was {
		whole.Was = "mixed"
	}
	defer c.buffers.Give(converted)
	return slices.Clone(converted), err
}

// opus converts the scores of an opus document, each to a file of its own, and writes the
// document beside them. One that cannot be converted stops no other, but then there is no
// document: it would lead to nothing.
func (c *conversion) opus(ctx context.Context, w *run.Worker, in files.Input) (convertedInput, error) {
	var done convertedInput
	made := map[string]string{} // the files made, by the path of what they were made of
	for _, m := range in.Movements {
		s, err := c.alone(ctx, w, m)
		switch {
		case err != nil && stopsRun(ctx, err):
			return done, err
		case err != nil:
			done.failed = append(done.failed, files.Problem{Path: m.Path, Err: err})
			continue
		}
		done.scores, done.inputs = append(done.scores, s), append(done.inputs, m.Path)
		made[filepath.Clean(m.Path)] = s.File
	}
	if len(done.failed) > 0 {
		return done, nil
	}
	o := opusWriter{conversion: c, made: made, seen: map[string]bool{}}
	err := o.write(in.Path, in.Key, in.Stem()+path.Ext(in.Rel), &done)
	return done, err
}

// opusWriter writes an opus document, and those that it leads to.
type opusWriter struct {
	*conversion
	made map[string]string
	seen map[string]bool
}

// write writes the document at a path to one below the folder, with links to what was
// made.
func (o *opusWriter) write(at, key, below string, done *convertedInput) error {
	if o.seen[filepath.Clean(at)] {
		return nil
	}
	o.seen[filepath.Clean(at)] = true
	data, err := files.ReadInput(at, o.limits.InputBytes, nil)
	if err != nil {
		return err
	}
	var failed error
	linked := convertedScore{Path: key, Warnings: []convertedWarning{}}
	target := filepath.Join(o.folder, filepath.FromSlash(below))
	text, err := musicxml.RelinkOpus(data, musicxml.ReadOptions{Name: at, Limits: o.limits}, func(link musicxml.OpusScore) string {
		source := filepath.Join(filepath.Dir(at), filepath.FromSlash(link.Href))
		if link.Opus {
			inner := o.safePath(link.Href)
			if failed == nil {
				failed = o.write(source, path.Join(path.Dir(key), link.Href), path.Join(path.Dir(below), inner), done)
			}
			return inner
		}
		file, is := o.made[source]
		if !is {
			return ""
		}
		linked.Movements++
		relative, err := filepath.Rel(filepath.Dir(target), file)
		if err != nil {
			return ""
		}
		return filepath.ToSlash(relative)
	})
	if err != nil || failed != nil {
		return cmp.Or(err, failed)
	}
	linked.source = files.NewSource(key, data)
	linked.Was, linked.Movements = pitchOf(done.scores), max(1, linked.Movements)
	if err := o.keep(&linked, below, text); err != nil {
		return err
	}
	done.scores, done.inputs = append(done.scores, linked), append(done.inputs, at)
	return nil
}

// safePath makes a path safe on every system, as those of scores are.
func (c *conversion) safePath(href string) string {
	extension := path.Ext(href)
	return files.NameStyle{ASCII: c.asciiNames}.SafePath(strings.TrimSuffix(href, extension)) + extension
}

// pitchOf is what scores were taken for together.
func pitchOf(scores []convertedScore) string {
	was := ""
	for _, s := range scores {
		switch was {
		case "", s.Was:
			was = s.Was
		default:
			return "mixed"
		}
	}
	return was
}
