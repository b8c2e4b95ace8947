package files

import (
	"os"
	"path/filepath"
	"sync"
)

// protected are the files that must not be written over, by their real paths in
// one spelling for all names that may be the same file.
type protected struct {
	mu    sync.RWMutex
	paths map[string][]string
}

// add protects the file at path and, if path is a link, what it leads to: what
// is renamed over a link takes the link's place, not that of the file.
func (p *protected) add(path string) {
	p.put(realPath(path), path)
	if info, err := os.Lstat(path); err == nil && info.Mode()&os.ModeSymlink != 0 {
		if target, err := filepath.EvalSymlinks(path); err == nil {
			p.put(realPath(target), path)
		}
	}
}

func (p *protected) put(real, path string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.paths == nil {
		p.paths = map[string][]string{}
	}
	key := foldName(real)
	p.paths[key] = append(p.paths[key], path)
}

// find tells which protected file stands at path, if any. What is not there is
// none.
func (p *protected) find(path string) (input string, found bool) {
	target, err := os.Stat(path)
	if err != nil {
		return "", false
	}
	p.mu.RLock()
	defer p.mu.RUnlock()
	for _, candidate := range p.paths[foldName(realPath(path))] {
		// The key folds capitals; whether the disk does, the disk must say.
		if info, err := os.Stat(candidate); err == nil && os.SameFile(info, target) {
			return candidate, true
		}
	}
	return "", false
}

// realPath is the real path of a file's folder, with the file's own name.
func realPath(path string) string {
	return filepath.Join(realFolder(filepath.Dir(path)), filepath.Base(path))
}

// realFolder is the absolute path of a folder without links, or the nearest that
// can be had where there is no such folder.
func realFolder(folder string) string {
	if absolute, err := filepath.Abs(folder); err == nil {
		folder = absolute
	}
	if real, err := filepath.EvalSymlinks(folder); err == nil {
		return real
	}
	return folder
}
