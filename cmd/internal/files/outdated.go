package files

import (
	"errors"
	"io/fs"
	"maps"
	"path/filepath"
	"slices"

	"deskpart/cmd/internal/report"
)

// RemoveOutdated removes the files that an older manifest of the folder names, or that
// a run that was killed made there, and the new one does not, so that nobody plays from
// a part of an earlier run. A file that was changed since is somebody's own and stays.
// To be called between Begin and End, before the new manifest is written: whoever stops
// in between starts from the old one again. old may be nil.
func (f *Folder) RemoveOutdated(old, now *report.Manifest) (removed []string, err error) {
	wanted := map[string]bool{foldName(report.ManifestName): true}
	for name := range now.Sums() {
		wanted[foldName(name)] = true
	}
	for _, name := range f.outdated(old, wanted) {
		gone, err := f.output.removeMade(filepath.Join(f.dir, name))
		if err != nil {
			return removed, err
		}
		if gone {
			f.dirty.Store(true)
			removed = append(removed, name)
		}
	}
	return removed, nil
}

// Changed tells whether a file is there and neither as the older manifest names it nor as
// a run that was killed made it: somebody has changed it. old may be nil.
func (f *Folder) Changed(old *report.Manifest, name string) bool {
	if old == nil || old.Sums()[name] == "" {
		return false
	}
	sum, err := sumFile(filepath.Join(f.dir, name))
	if err != nil || sum == old.Sums()[name] {
		return false
	}
	if f.record == nil {
		return true
	}
	made, _, err := f.record.made(name)
	return err == nil && !made
}

// outdated are, in the order of their names, the files of the folder that are as earlier runs made them, without those
// that are wanted.
func (f *Folder) outdated(old *report.Manifest, wanted map[string]bool) []string {
	names := map[string]bool{}
	if old != nil {
		for name, sum := range old.Sums() {
			if wanted[foldName(name)] {
				continue
			}
			if got, err := sumFile(filepath.Join(f.dir, name)); name == filepath.Base(name) && err == nil && got == sum {
				names[name] = true
			}
		}
	}
	if f.record != nil {
		for _, name := range f.record.files() {
			if wanted[foldName(name)] {
				continue
			}
			if made, _, err := f.record.made(name); name == filepath.Base(name) && err == nil && made {
				names[name] = true
			}
		}
	}
	return slices.Sorted(maps.Keys(names))
}

// removeMade removes a file that a run made, unless it is an input.
func (o *Output) removeMade(at string) (gone bool, err error) {
	if _, is := o.inputs.find(at); is {
		return false, nil
	}
	err = o.disk.Remove(at)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, report.NewOutputError(at, err)
	}
	return true, nil
}

// RemoveOthers removes the files that earlier runs with other settings made of the
// sources given, so that nobody takes them for those of now. What was changed since is
// somebody's own and stays.
func (o *Output) RemoveOthers(sources []string) (removed []string, err error) {
	r, _, err := o.recordOf(o.making.Root, ".")
	if err != nil {
		return nil, report.NewOutputError(o.making.Root, err)
	}
	return o.removeUnchanged(r, r.others(sources, madeBy(o.making.Version, o.making.Settings)))
}

// RemoveAllBut removes the files that earlier runs made and that are not among those
// given, by their paths: a folder is to hold what one run made. What was changed since
// is somebody's own and stays.
func (o *Output) RemoveAllBut(paths []string) (removed []string, err error) {
	r, _, err := o.recordOf(o.making.Root, ".")
	if err != nil {
		return nil, report.NewOutputError(o.making.Root, err)
	}
	kept := map[string]bool{}
	for _, path := range paths {
		if below, err := filepath.Rel(o.making.Root, path); err == nil {
			kept[foldName(filepath.ToSlash(below))] = true
		}
	}
	return o.removeUnchanged(r, slices.DeleteFunc(r.files(), func(name string) bool { return kept[foldName(name)] }))
}

func (o *Output) removeUnchanged(r *record, names []string) (removed []string, err error) {
	for _, name := range names {
		if made, _, err := r.made(name); err != nil || !made || !filepath.IsLocal(filepath.FromSlash(name)) {
			continue
		}
		at := filepath.Join(o.making.Root, filepath.FromSlash(name))
		gone, err := o.removeMade(at)
		if err != nil {
			return removed, err
		}
		if gone {
			removed = append(removed, at)
		}
	}
	return removed, nil
}
