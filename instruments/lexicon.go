package instruments

import "io/fs"

// A lexicon finds the kinds of instrument that words may mean.
type lexicon struct{}

func (c *Catalogue) readAliases(files fs.FS) error {
	_, err := readTable(files, "aliases.csv", aliasColumns...)
	return err
}
