package files

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

// expand puts the scores of an opus in its place, or keeps them together as its
// movements.
func (f *finder) expand(ctx context.Context) error {
	if f.search.Expand == nil {
		return nil
	}
	opened := f.files
	f.files = nil
	for _, file := range opened {
		if err := ctx.Err(); err != nil {
			return context.Cause(ctx)
		}
		members, err := f.search.Expand(file.path)
		switch {
		case err != nil:
			f.problem(file.key, file.path, err)
		case members == nil:
			f.files = append(f.files, file)
		case f.search.Works:
			f.addWork(file, members)
		default:
			f.files = append(f.files, f.scores(file, members, map[string]bool{})...)
		}
	}
	f.takeMovementsOut()
	return nil
}

// addWork keeps the scores of an opus together. One that lacks a movement is no work: its
// players cannot be told.
func (f *finder) addWork(opus found, members *Members) {
	f.lacks = false
	opus.movements, opus.size, opus.title = f.scores(opus, members, map[string]bool{}), 0, members.Title
	for _, m := range opus.movements {
		opus.size += m.size
	}
	switch {
	case f.lacks && f.search.Lacking:
		f.files = append(f.files, opus.movements...)
	case !f.lacks && len(opus.movements) > 0:
		f.files = append(f.files, opus)
	}
}

// takeMovementsOut leaves out the files that are movements of a work beside them.
func (f *finder) takeMovementsOut() {
	in := map[string]bool{}
	for _, file := range f.files {
		for _, m := range file.movements {
			if m.inside == "" {
				in[realPath(m.path)] = true
			}
		}
	}
	f.files = slices.DeleteFunc(f.files, func(file found) bool { return file.movements == nil && in[realPath(file.path)] })
}

// scores looks up the scores of an opus, and those of an opus within it. It ends
// because every file is taken once; where each stands for itself, once in the whole
// search.
func (f *finder) scores(opus found, members *Members, seen map[string]bool) []found {
	var scores []found
	for _, m := range members.Scores {
		if m.Inside != "" {
			key := strings.TrimSuffix(opus.key, ScoreExt(opus.key)) + "/" + m.Inside
			scores = append(scores, found{order: opus.order, key: key, path: m.Path, size: opus.size / int64(len(members.Scores)), inside: m.Inside, title: m.Title})
			continue
		}
		file, ok := f.member(opus, m, seen)
		if !ok {
			continue
		}
		inner, err := f.search.Expand(file.path)
		switch {
		case err != nil:
			f.lacks = true
			f.problem(file.key, file.path, err)
		case inner == nil:
			scores = append(scores, file)
		default:
			scores = append(scores, f.scores(file, inner, seen)...)
		}
	}
	return scores
}

// member looks up a file of an opus.
func (f *finder) member(opus found, m Member, seen map[string]bool) (found, bool) {
	real := realPath(m.Path)
	within := append(slices.Clip(opus.opus), realPath(opus.path))
	if slices.Contains(within, real) {
		f.problem(opus.key, opus.path, &musicxml.Error{Code: notice.OpusLoop, Err: fmt.Errorf("this opus leads back to %s, in which it stands; that link is not followed", m.Path)})
		return found{}, false
	}
	info, err := os.Stat(m.Path)
	if err != nil {
		f.lacks = true
		f.problem(memberKey(opus, m.Path), m.Path, &musicxml.Error{Code: notice.Unreadable, Err: fmt.Errorf("%s names this file, and it is not there", opus.path)})
		return found{}, false
	}
	twice, known := seen[real], !f.search.Works && f.seen[real]
	seen[real] = true
	switch {
	case twice:
		f.problem(memberKey(opus, m.Path), m.Path, &musicxml.Error{Code: notice.OpusTwice, Err: fmt.Errorf("%s names this file, which stands in the opus already", opus.path)})
		return found{}, false
	case known:
		return found{}, false
	case !info.Mode().IsRegular():
		f.lacks = true
		f.problem(memberKey(opus, m.Path), m.Path, notAFile(info))
		return found{}, false
	}
	f.seen[real] = true
	return found{order: opus.order, key: filepath.ToSlash(memberKey(opus, m.Path)), path: m.Path, size: info.Size(), title: m.Title, opus: within}, true
}

// memberKey is the path of an opus's file below the start: beside the opus, and
// below it where the file is.
func memberKey(opus found, at string) string {
	below, err := filepath.Rel(filepath.Dir(opus.path), at)
	if err != nil || !filepath.IsLocal(below) {
		below = filepath.Base(at)
	}
	return path.Join(path.Dir(opus.key), filepath.ToSlash(below))
}

// gatherWork makes one work of all files, where that was asked for.
func (f *finder) gatherWork() {
	if !f.search.Whole || len(f.files) == 0 || len(f.problems) > 0 || f.elsewhere {
		return
	}
	slices.SortStableFunc(f.files, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.order, b.order), strings.Compare(countable(a.key), countable(b.key)))
	})
	work := found{title: f.search.Title, path: filepath.Dir(f.files[0].path)}
	for _, file := range f.files {
		movements := file.movements
		if movements == nil {
			movements = []found{file}
		}
		work.movements = append(work.movements, movements...)
		work.size += file.size
	}
	work.key = f.workName(work.movements)
	f.files = []found{work}
}

// countable writes the numbers of a name with leading zeros, so that the second movement
// comes before the tenth.
func countable(name string) string {
	return digits.ReplaceAllStringFunc(name, func(n string) string { return fmt.Sprintf("%020s", n) })
}

var digits = regexp.MustCompile(`[0-9]+`)

// workName is what a work is called in paths: by its title, else by the one folder that
// was given, else by what the names of its files begin with.
func (f *finder) workName(movements []found) string {
	if f.search.Title != "" {
		return strings.ReplaceAll(f.search.Title, "/", " ")
	}
	if given := f.search.Paths; len(given) == 1 {
		info, err := os.Stat(given[0])
		absolute, unknown := filepath.Abs(given[0])
		if err == nil && info.IsDir() && unknown == nil {
			return filepath.Base(absolute)
		}
	}
	var paths []string
	for _, m := range movements {
		paths = append(paths, m.key)
	}
	return CommonName(paths)
}

// CommonName is what the names of files begin with, "work" where that is no name.
func CommonName(paths []string) string {
	common := stemOf(paths[0])
	for _, other := range paths[1:] {
		for !strings.HasPrefix(stemOf(other), common) {
			common = common[:len(common)-1]
		}
	}
	common = strings.ToValidUTF8(common, "")
	common = strings.TrimRightFunc(common, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(common) < 3 {
		return "work"
	}
	return common
}

// stemOf is the name of a score's file without its ending.
func stemOf(file string) string { return strings.TrimSuffix(path.Base(file), ScoreExt(file)) }
