// Package written writes a part in the pitch, key and octave that its player reads, or a
// whole score's part at sounding pitch and back.
package written
