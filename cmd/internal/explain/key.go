package explain

import "deskpart/transpose/pitch"

// spell says a signature with its notes: "3 sharps (F# C# G#)".
func spell(fifths int) string {
	if fifths == 0 {
		return pitch.SignatureWords(0)
	}
	return pitch.SignatureWords(fifths) + " (" + pitch.SignatureNotes(fifths) + ")"
}
