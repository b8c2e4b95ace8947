package files

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"deskpart/cmd/internal/report"
)

// Input is one file to work on.
type Input struct {
	// Path opens the file. Its slashes are forward ones on every system.
	Path string
	// Key is the path below the folder that was given, with forward slashes, as
	// it was found; for a file that was given itself, its name. Shards go by it.
	Key string
	// Rel is Key made safe on every system and made unique: no two inputs of a
	// search have the same Stem, in whatever capitals. Results go below it. Movements
	// that are inside one file have that file's.
	Rel string
	// Size is the file's size in bytes when it was found; of a work that of all its
	// movements.
	Size int64
	// Inside is the score's name in the compressed file at Path, "" for its own score.
	Inside string
	// Title is what an opus calls the score, or --work the work. Default: "".
	Title string
	// Movements are the scores of a work, in order; nil for a score. Path is then the
	// opus, the compressed file that holds them, or their folder.
	Movements []Input
	// Player is whose the movements are, where they are the part files of one player of a
	// work; Tacet says of one of them that the player is silent. Defaults: a score's.
	Player string
	Tacet  bool
}

// Stem is Rel without the extension of a score.
func (i Input) Stem() string { return strings.TrimSuffix(i.Rel, ScoreExt(i.Rel)) }

// Called is what people are told of an input: its path, but of a work of files its title,
// where it has one, for their folder may hold more than the work.
func (i Input) Called() string {
	if i.Movements != nil && i.Title != "" && ScoreExt(i.Path) == "" {
		return i.Title
	}
	return i.Path
}

// Place is where a score is to be looked for: its path, and behind it the score's own where
// it is one of several in a compressed file.
func (i Input) Place() string {
	if i.Inside == "" {
		return i.Path
	}
	return i.Path + "/" + i.Inside
}

// Problem is a file that was asked for but cannot be an input.
type Problem struct {
	Path string
	Err  error
}

func (p Problem) Error() string { return p.Path + ": " + p.Err.Error() }

func (p Problem) Unwrap() error { return p.Err }

// Search says where the inputs of a run are.
type Search struct {
	// Paths are files and folders as given on the command line. A file is taken
	// whatever its name. Default: none.
	Paths []string
	// FilesFrom is a file with more paths, one a line or separated by NUL;
	// "-" is In. Default: none.
	FilesFrom string
	// In is what "-" reads. Default: nothing.
	In io.Reader
	// Wildcards puts in place of *, ? and […] in Paths what there is. Default: where the
	// system's shells leave that to programs (Windows).
	Wildcards bool
	// Output is the folder that results go to; it is not searched. Default: none.
	Output string
	// Style is how Rel is written. Default: any safe name.
	Style NameStyle
	// Shard is the slice to take. Default: the whole list.
	Shard Shard
	// MadeParts takes folders of parts that an earlier run made as well. Default:
	// they are passed over.
	MadeParts bool
	// EveryFile takes files of any name, hidden ones too, and what an earlier run
	// made: nothing in a folder goes unsaid. Default: files named like scores.
	EveryFile bool
	// Expand returns the scores that a file stands for (those of an opus), to be taken
	// in its place, or nil if it stands for itself. Default: nil.
	Expand func(path string) (*Members, error)
	// Works keeps the scores that Expand returns together, as the movements of one
	// input. Default: each is an input.
	Works bool
	// Lacking takes the scores of a work that lacks a movement by themselves. Default:
	// there is no input then.
	Lacking bool
	// Whole takes all files as the movements of one work. Title is its name; default
	// that of their folder, or what their names begin with.
	Whole bool
	Title string
}

// Members are the scores that a file stands for, in order.
type Members struct {
	Title  string
	Scores []Member
}

// Member is one of them.
type Member struct {
	Path   string
	Inside string // the name in the compressed file at Path; "" for a file of its own
	Title  string
}

// Find returns the inputs in a stable order (the arguments', and within a folder
// the names', byte by byte) and what was asked for in vain. It searches folders
// through, by these rules:
//
//   - Files named .musicxml, .xml or .mxl, in whatever capitals, are inputs. Names
//     that begin with a dot are not looked at.
//   - The scores of a BagIt bag have no folder "data" in their names.
//   - Links are followed. A folder that is reached in several ways, or in a
//     circle, is searched once, and by its own path rather than by a link's.
//   - Pipes, devices and sockets are never opened: they are problems if they are
//     named like a score or given themselves.
//   - A file that is given twice is one input. Two names of one file are two.
//   - A folder of parts that an earlier run made (its manifest tells) is passed
//     over, unless it is given itself or MadeParts is set.
//
// A path on the command line that does not exist, a list that cannot be read, and
// an output folder that is itself to be searched are errors: nothing should be
// done then.
func (s Search) Find(ctx context.Context) ([]Input, []Problem, error) {
	f := &finder{search: s, seen: map[string]bool{}}
	if s.Output != "" {
		f.output = realFolder(s.Output)
	}
	starts, err := s.starts()
	if err != nil {
		return nil, nil, err
	}
	for i, start := range starts {
		f.order = i
		if err := f.start(start); err != nil {
			return nil, nil, err
		}
	}
	if err := f.followLinks(ctx); err != nil {
		return nil, nil, err
	}
	if err := f.expand(ctx); err != nil {
		return nil, nil, err
	}
	f.gatherWork()
	return f.inputs(), f.problems, nil
}

// start is a path that was given, and the key its file would have.
type start struct {
	path, key string
	listed    bool // in the list of --files-from: one bad line is no reason to stop
}

func (s Search) starts() ([]start, error) {
	var starts []start
	for _, given := range s.Paths {
		paths, err := s.named(given)
		if err != nil {
			return nil, err
		}
		for _, path := range paths {
			starts = append(starts, start{path: path, key: filepath.Base(path)})
		}
	}
	if s.FilesFrom == "" {
		return starts, nil
	}
	listed, err := s.readList()
	if err != nil {
		return nil, fmt.Errorf("list of files %s: %w", s.FilesFrom, err)
	}
	for _, path := range listed {
		starts = append(starts, start{path: path, key: listedKey(path), listed: true})
	}
	return starts, nil
}

// found is a file on its way to become an input.
type found struct {
	order     int    // of the start it came from
	key       string // path below the start
	path      string
	size      int64
	inside    string
	title     string
	opus      []string // the real paths of the opus documents that it stands in, outermost first
	movements []found
}

// finder is one search at work.
type finder struct {
	search   Search
	output   string // real path of the folder not to be searched
	order    int
	seen     map[string]bool // real paths of the folders searched and the files found
	links    []found         // folders that are links, for later
	files    []found
	problems []Problem
	// elsewhere: another slice says what cannot be an input.
	elsewhere bool
	lacks     bool // a score of the opus that is looked up cannot be had
}

func (f *finder) start(s start) error {
	if s.path == "" {
		return errors.New("an empty name was given where a file or a folder is wanted")
	}
	info, err := os.Stat(s.path)
	switch {
	case err != nil && s.listed:
		f.problem(s.key, s.path, report.ReadingError(err))
	case err != nil:
		return Problem{s.path, report.ReadingError(err)}
	case info.IsDir():
		folder, err := filepath.EvalSymlinks(s.path)
		if err != nil {
			return Problem{s.path, report.ReadingError(err)}
		}
		return f.startFolder(s, folder)
	default:
		f.file(s.path, s.key, realPath(s.path), info)
	}
	return nil
}

var errOutputSearched = errors.New("this folder is to be searched and cannot take the results; choose another with --out, such as one inside it")

func (f *finder) startFolder(s start, real string) error {
	if realFolder(real) == f.output && f.output != "" {
		return Problem{s.path, errOutputSearched}
	}
	f.links = append(f.links, found{order: f.order, path: s.path})
	return nil
}

// followLinks searches folders until there is none left: first those given, then
// those that links lead to, which are known by then if they have a path of their own.
func (f *finder) followLinks(ctx context.Context) error {
	for len(f.links) > 0 {
		now := f.links
		f.links = nil
		for _, link := range now {
			f.order = link.order
			if err := f.folder(ctx, link.path, link.key, realFolder(link.path)); err != nil {
				return err
			}
		}
	}
	return nil
}

// folder searches the folder at path, whose path below the start is key.
func (f *finder) folder(ctx context.Context, dir, key, real string) error {
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	if f.seen[real] || real == f.output {
		return nil
	}
	f.seen[real] = true
	entries, err := os.ReadDir(dir)
	if err != nil {
		f.problem(key, dir, report.ReadingError(err))
	}
	if key != "" && !f.search.MadeParts && !f.search.EveryFile && ofEarlierRun(dir, entries) {
		return nil
	}
	bag := isBag(entries)
	for _, entry := range entries {
		name := entry.Name()
		if strings.HasPrefix(name, ".") && !f.search.EveryFile {
			continue
		}
		below := path.Join(key, name)
		if bag && name == BagPayload { // a way of packing, no part of a file's name
			below = key
		}
		if err := f.entry(ctx, entry, filepath.Join(dir, name), below, filepath.Join(real, name)); err != nil {
			return err
		}
	}
	return nil
}

// isBag reports whether a folder is a BagIt bag: its declaration and its payload are there.
func isBag(entries []fs.DirEntry) bool {
	return slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == bagDeclared && e.Type().IsRegular() }) &&
		slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == BagPayload && e.IsDir() })
}

// ofEarlierRun reports whether a folder holds the parts that an earlier run wrote:
// they are no scores to make parts of.
func ofEarlierRun(dir string, entries []fs.DirEntry) bool {
	for _, entry := range entries {
		if entry.Name() == report.ManifestName {
			manifest, err := ReadManifest(dir)
			return err == nil && manifest.Tool == report.ToolName
		}
	}
	return false
}

func (f *finder) entry(ctx context.Context, entry fs.DirEntry, at, key, real string) error {
	scoreName := ScoreExt(key) != "" || f.search.EveryFile
	switch {
	case entry.IsDir():
		return f.folder(ctx, at, key, real)
	case entry.Type()&fs.ModeSymlink == 0 && !scoreName:
		return nil
	}
	info, err := os.Stat(at)
	switch {
	case err == nil && info.IsDir():
		f.links = append(f.links, found{order: f.order, key: key, path: at})
	case !scoreName:
	case err != nil:
		f.problem(key, at, report.ReadingError(err))
	default:
		f.file(at, key, real, info)
	}
	return nil
}

// file takes a file that is there, if it is one. Its real path is that of its
// folder with its own name: a link to a file is a name for it like any other.
func (f *finder) file(at, key, real string, info fs.FileInfo) {
	switch {
	case !info.Mode().IsRegular():
		f.problem(key, at, notAFile(info))
	case !f.seen[real]:
		f.seen[real] = true
		f.files = append(f.files, found{order: f.order, key: filepath.ToSlash(key), path: at, size: info.Size()})
	}
}

// problem notes what cannot be an input, by its path below the start: of several slices of
// a list one says so.
func (f *finder) problem(key, path string, err error) {
	if !f.search.Shard.Includes(filepath.ToSlash(cmp.Or(key, filepath.Base(path)))) {
		f.elsewhere = true
		return
	}
	f.problems = append(f.problems, Problem{slashed(path), err})
}

// inputs orders what was found, by the arguments and by paths, names it and takes the
// slice that was asked for.
// Names are given before slices are taken, so that all machines give the same.
func (f *finder) inputs() []Input {
	slices.SortStableFunc(f.files, func(a, b found) int {
		return cmp.Or(cmp.Compare(a.order, b.order), slices.Compare(strings.Split(a.key, "/"), strings.Split(b.key, "/")))
	})
	names := Names{Style: f.search.Style}
	var inputs []Input
	for _, file := range f.files {
		rel := names.uniqueScore(file.key)
		if f.search.Shard.Includes(file.key) {
			inputs = append(inputs, file.input(rel))
		}
	}
	f.nameMovements(&names, inputs)
	slices.SortStableFunc(f.problems, func(a, b Problem) int { return cmp.Compare(a.Path, b.Path) })
	return inputs
}

// nameMovements names the movements that are files of their own, for what is made of
// each. The works have their names by then.
func (f *finder) nameMovements(names *Names, inputs []Input) {
	for i := range inputs {
		for k := range inputs[i].Movements {
			if m := &inputs[i].Movements[k]; m.Inside == "" {
				m.Rel = names.uniqueScore(m.Key)
			}
		}
	}
}

// input is what was found as an input whose results go to rel.
func (f *found) input(rel string) Input {
	in := Input{Path: slashed(f.path), Key: f.key, Rel: rel, Size: f.size, Inside: f.inside, Title: f.title}
	for i := range f.movements {
		in.Movements = append(in.Movements, f.movements[i].input(rel))
	}
	return in
}

// ScoreExt is the extension of a path if it is one that scores have.
func ScoreExt(name string) string {
	ext := path.Ext(name)
	switch strings.ToLower(ext) {
	case ".musicxml", ".xml", ".mxl":
		return ext
	}
	return ""
}
