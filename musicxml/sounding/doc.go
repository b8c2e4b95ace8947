// Package sounding tells when a part sounds, and holds what was made of a part
// against it.
//
// A part that is given to another instrument, or divided among the players of a
// staff, may lose notes: the lower ones of a chord, the voice beside the melody. It
// may not lose time. Wherever the score sounds, the part sounds, and where a staff
// is divided, one of its players does:
//
//	score, err := sounding.Read(part)
//	first, err := sounding.Read(flute1)
//	second, err := sounding.Read(flute2)
//	for _, gap := range score.Missing(sounding.Union(first, second)) {
//		fmt.Println(gap.Measure, gap.Beat)
//	}
//
// A note sounds from its onset for its duration, whether it is pitched or not,
// printed or hidden. Rests and cue notes are silent (MusicXML 4.0, cue: "a silent
// note"), grace notes take no time of their own (grace: no duration).
//
// The package is a check on package parts and shares no code with what divides and
// reduces there: it counts time by itself, from divisions and durations.
package sounding
