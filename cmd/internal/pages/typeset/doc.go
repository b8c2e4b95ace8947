// Package typeset sets what stands on a page of a lesson on paper: titles, texts, tables,
// lines to write on and systems of music, one below the other, as a PDF. It has one
// reason to exist: the pages of the program are HTML, and whoever copies sheets for a
// class wants the paper itself, the same everywhere. Pages break between systems, a
// heading stays with what follows it, and what is set [Setter.Together] stays together
// where a page has room for it.
package typeset
