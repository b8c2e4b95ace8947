package files

import (
	"cmp"
	"errors"
	"os"
	"path"
	"path/filepath"
	"strings"

	"golang.org/x/text/cases"

	"deskpart/musicxml"
	"deskpart/musicxml/notice"
)

var errNoMatch = &musicxml.Error{Code: notice.Unreadable, Err: errors.New("no file or folder has such a name"), Hint: "check the name"}

// Named are the paths that paths with wildcards stand for, where the system's shells leave
// that to programs. The error is a Problem.
func Named(paths []string) ([]string, error) {
	var all []string
	for _, given := range paths {
		found, err := Search{}.named(given)
		if err != nil {
			return nil, err
		}
		all = append(all, found...)
	}
	return all, nil
}

// named are the paths that a path with wildcards stands for, at least one.
func (s Search) named(given string) ([]string, error) {
	if shellExpands && !s.Wildcards || !hasWildcard(given) {
		return []string{given}, nil
	}
	found := matches(given)
	if len(found) == 0 {
		return nil, Problem{given, errNoMatch}
	}
	return found, nil
}

// hasWildcard leaves out the drive, of which a system's own name begins with \\?\.
func hasWildcard(given string) bool {
	return strings.ContainsAny(given[len(filepath.VolumeName(given)):], "*?[")
}

// matches are the paths that a pattern stands for, folder by folder in the order of their
// names, as shells have it: what has the very name goes first, capitals do not count, and a
// name with a dot in front is meant only where the pattern has one.
func matches(pattern string) []string {
	if _, err := os.Lstat(pattern); err == nil || !hasWildcard(pattern) {
		return []string{pattern}
	}
	dir, name := filepath.Split(pattern)
	var found []string
	for _, folder := range folders(dir) {
		entries, _ := os.ReadDir(cmp.Or(folder, ".")) // what is not there has no names
		for _, entry := range entries {
			if matchesName(name, entry.Name()) {
				found = append(found, folder+entry.Name())
			}
		}
	}
	return found
}

// folders are those that the pattern of a folder stands for; it ends in a separator or is
// "", and so do they.
func folders(dir string) []string {
	if !hasWildcard(dir) {
		return []string{dir}
	}
	end := len(dir) - 1
	found := matches(dir[:end])
	for i := range found {
		found[i] += dir[end:]
	}
	return found
}

// matchesName tells whether a pattern without folders stands for a name.
func matchesName(pattern, name string) bool {
	if strings.HasPrefix(name, ".") && !strings.HasPrefix(pattern, ".") {
		return false
	}
	fold := cases.Fold()
	is, err := path.Match(fold.String(pattern), fold.String(name))
	return is && err == nil // a pattern that is none stands for nothing
}
