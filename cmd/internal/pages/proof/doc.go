// Package proof makes a page to look at before the parts of a score are
// printed: for every part its opening in sounding and in written pitch, one above
// the other, the whole part on demand, its notes against the instrument's range,
// its keys bar by bar, warnings that lead to the bar drawn, and what the check of
// the part came to.
//
// An [Examiner] looks at one part at a time, several at once if need be:
//
//	x := proof.Examiner{Job: job, Verification: verify.Options{MaxSignature: 6}}
//	part, err := x.Examine(0, memory)
//
// and [Proof.Page] makes the page of them. It is one file that needs no network:
// whole parts are drawn beforehand, packed (DEFLATE, RFC 1951), and unpacked by
// the browser when their reader opens them, so that a long score opens at once.
package proof
