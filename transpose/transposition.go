package transpose

import "deskpart/musicxml/music"

// Transposition is the value of MusicXML's <transpose>: what is added to written
// pitch to get sounding pitch.
type Transposition = music.Transposition
