package fit

import "deskpart/instruments"

// FindInstrument finds the instrument that a user's words mean: an id or a name in
// any language. The error names what is spelled nearly like them.
func FindInstrument(c *instruments.Catalogue, words string) (*instruments.Instrument, error) {
	found, err := FindInstruments(c, words)
	if err != nil {
		return nil, err
	}
	return found[0], nil
}

// FindInstruments finds all that the words may mean, the likeliest first; at least one.
func FindInstruments(c *instruments.Catalogue, words string) ([]*instruments.Instrument, error) {
	if found := c.Find(words); len(found) > 0 {
		return found, nil
	}
	return nil, c.NotFound(words)
}
