package transpose

import (
	"github.com/beevik/etree"

	"deskpart/musicxml/music"
	"deskpart/transpose/pitch"
)

// Transposition is the value of MusicXML's <transpose>: what is added to written
// pitch to get sounding pitch.
type Transposition = music.Transposition

// ReadTransposition is music.ReadTransposition.
func ReadTransposition(e *etree.Element, fifths int) (Transposition, error) {
	return music.ReadTransposition(e, fifths)
}

// ReadPitch is music.ReadPitch.
func ReadPitch(e *etree.Element) (pitch.Pitch, error) { return music.ReadPitch(e) }

// WritePitch is music.WritePitch.
func WritePitch(e *etree.Element, p pitch.Pitch) error { return music.WritePitch(e, p) }

// ReadKey reads a <key>: its fifths (sharps positive), and whether it is a
// traditional signature; one given tone by tone counts no fifths.
func ReadKey(e *etree.Element) (fifths int, isTraditional bool, err error) {
	k, err := music.ReadKey(e)
	return k.Fifths, k.Traditional, err
}
