package notice_test

import (
	"fmt"

	"deskpart/musicxml/notice"
)

func ExampleLookup() {
	n, known := notice.Lookup(notice.AboveRange)
	fmt.Println(known, n.Kind, n.Code)
	fmt.Println(n.Meaning)
	fmt.Println(n.Remedy)
	// Output:
	// true warning above-range
	// a note lies above the instrument's range
	// look whether the octave or the instrument is meant; ranges are a guide
}
