// Package licences holds the notices of all that the program links or embeds and that
// is not its own: libraries, the language they are built with, fonts. It has one reason
// to exist: whoever hands on a binary or the page hands on these notices too.
package licences

import _ "embed"

// Notices are the texts, one work after another.
//
//go:embed THIRD-PARTY.txt
var Notices string
