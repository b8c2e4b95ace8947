package musicxml

// Limits bound what reading one file may cost. A field that is zero takes its
// default.
type Limits struct {
	InputBytes    int64 // size of the file as it is. Default: 512 MiB
	ExpandedBytes int64 // size of all that a container unpacks to. Default: 1 GiB
	Ratio         int   // expanded to packed size of one file in a container. Default: 500
	Entries       int   // files in a container. Default: 10,000
	Depth         int   // elements inside one another. Default: 256
	Attributes    int   // attributes of one element. Default: 256
	Parts         int   // parts of a score. Default: 1,000
	TextBytes     int   // one text, attribute value, name, comment or instruction. Default: 1 MiB
	Header        int   // elements beside the parts. Default: 100,000
	EntityBytes   int   // text that internal entities expand to, in each part. Default: 1 MiB
}

// DefaultLimits returns limits that every real score keeps with room to spare.
func DefaultLimits() Limits {
	return Limits{
		InputBytes:    512 << 20,
		ExpandedBytes: 1 << 30,
		Ratio:         500,
		Entries:       10_000,
		Depth:         256,
		Attributes:    256,
		Parts:         1_000,
		TextBytes:     1 << 20,
		Header:        100_000,
		EntityBytes:   1 << 20,
	}
}

// withDefaults fills the fields that are zero or less.
func (l Limits) withDefaults() Limits {
	d := DefaultLimits()
	setLimit(&l.InputBytes, d.InputBytes)
	setLimit(&l.ExpandedBytes, d.ExpandedBytes)
	setLimit(&l.Ratio, d.Ratio)
	setLimit(&l.Entries, d.Entries)
	setLimit(&l.Depth, d.Depth)
	setLimit(&l.Attributes, d.Attributes)
	setLimit(&l.Parts, d.Parts)
	setLimit(&l.TextBytes, d.TextBytes)
	setLimit(&l.Header, d.Header)
	setLimit(&l.EntityBytes, d.EntityBytes)
	return l
}

func setLimit[N int | int64](value *N, standard N) {
	if *value <= 0 {
		*value = standard
	}
}
