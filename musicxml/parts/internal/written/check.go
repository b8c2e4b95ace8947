package written

import (
	"fmt"

	"deskpart/instruments"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// Check refuses settings that make no sense.
func (o *Options) Check(catalogue *instruments.Catalogue) error {
	if (o.MaxSignature < 0 || o.MaxSignature > pitch.MostSigns) && o.MaxSignature != Unlimited {
		return fmt.Errorf("a signature of %d sharps or flats at most is asked for; it is a number from 0 to %d", o.MaxSignature, pitch.MostSigns)
	}
	if o.Spelling != transpose.Exact && o.Spelling != transpose.Readable {
		return fmt.Errorf("spelling %d is neither exact nor readable", o.Spelling)
	}
	for _, word := range o.WithoutSignature {
		if !catalogue.Has(word) {
			return fmt.Errorf("without signature: no instrument or family is called %q", word)
		}
	}
	return nil
}
