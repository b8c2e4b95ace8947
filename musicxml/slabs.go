package musicxml

// Slabs is the memory that trees are built in: one set a worker, used again for
// part after part. The zero value is ready. It serves one goroutine at a time.
type Slabs struct{}

// Reset takes the memory back: every tree built in it since the last Reset is
// invalid from here on, and so are its attribute slices; its strings stay.
func (s *Slabs) Reset() {}
