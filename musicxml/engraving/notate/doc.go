// Package notate reads a part of a MusicXML document as music to be drawn: which bars,
// voices, notes, signs and lines of package engraving its elements stand for, and which
// elements have none. Where and how large they are drawn it leaves to engraving.
package notate
