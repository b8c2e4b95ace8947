package music

import (
	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/transpose/pitch"
)

// HarmonicRole says which of a harmonic's pitches a note shows (MusicXML 4.0, harmonic).
type HarmonicRole uint8

// The roles. A harmonic that says none may be written as it sounds or as it is touched.
const (
	NoHarmonic HarmonicRole = iota
	RoleUnsaid
	BasePitch     // the string that is stopped
	TouchingPitch // where it is touched
	SoundingPitch // what is heard
)

// RoleOf reads the role of a <note>.
func RoleOf(note *etree.Element) HarmonicRole {
	for notations := range musicxml.Each(note, "notations") {
		for technical := range musicxml.Each(notations, "technical") {
			if e := musicxml.Child(technical, "harmonic"); e != nil {
				return roleIn(e)
			}
		}
	}
	return NoHarmonic
}

func roleIn(harmonic *etree.Element) HarmonicRole {
	switch {
	case musicxml.Child(harmonic, "sounding-pitch") != nil:
		return SoundingPitch
	case musicxml.Child(harmonic, "touching-pitch") != nil:
		return TouchingPitch
	case musicxml.Child(harmonic, "base-pitch") != nil:
		return BasePitch
	}
	return RoleUnsaid
}

// nodes are the places at which a string is touched, as semitones above the stopped
// note, with what is then heard: touched at 1/n of its length it sounds its n-th partial
// (physics of the string; the fourth is the usual artificial harmonic).
var nodes = map[int]pitch.Interval{
	12: {Diatonic: 7, Chromatic: 12},  // 1/2: an octave
	7:  {Diatonic: 11, Chromatic: 19}, // 1/3: an octave and a fifth
	19: {Diatonic: 11, Chromatic: 19}, // 2/3
	5:  {Diatonic: 14, Chromatic: 24}, // 1/4: two octaves
	24: {Diatonic: 14, Chromatic: 24}, // 3/4
	4:  {Diatonic: 16, Chromatic: 28}, // 1/5: two octaves and a third
	9:  {Diatonic: 16, Chromatic: 28}, // 2/5
	16: {Diatonic: 16, Chromatic: 28}, // 3/5
	3:  {Diatonic: 18, Chromatic: 31}, // 1/6: two octaves and a fifth
}

// Heard is the pitch of a harmonic by its stopped and its touched pitch. ok is false
// where a string touched there gives no clear tone.
func Heard(base, touching pitch.Pitch) (heard pitch.Pitch, ok bool) {
	semitones, whole := (touching.MIDI() - base.MIDI()).Whole()
	by, node := nodes[semitones]
	if !whole || !node {
		return pitch.Pitch{}, false
	}
	return by.Apply(base), true
}

// HarmonicNote is one note of a chord for [HarmonicOf].
type HarmonicNote struct {
	Role  HarmonicRole
	Pitch pitch.Pitch
}

// Harmonic is what the notes of a chord that belong to a harmonic come to.
type Harmonic struct {
	Notes []int // their places in the chord
	Keep  int   // the place of the one that stands for all when it is written as it sounds
	Heard pitch.Pitch
	Known bool // what is heard is known
}

// HarmonicOf finds the harmonic in a chord: the sounding pitch where it is written, else
// worked out from stopped and touched pitch. ok is false for a chord without any, and
// for a note that says no role and is written as it sounds, under a circle: its head is
// an ordinary one.
func HarmonicOf(chord []HarmonicNote) (h Harmonic, ok bool) {
	at := map[HarmonicRole]int{}
	for i, n := range chord {
		if n.Role == NoHarmonic || n.Role == RoleUnsaid {
			continue
		}
		h.Notes = append(h.Notes, i)
		if _, again := at[n.Role]; !again {
			at[n.Role] = i
		}
	}
	if len(h.Notes) == 0 {
		return h, false
	}
	h.Keep = h.Notes[0]
	base, hasBase := at[BasePitch]
	touching, hasTouching := at[TouchingPitch]
	if sounding, said := at[SoundingPitch]; said {
		h.Heard, h.Known = chord[sounding].Pitch, true
	} else if hasBase && hasTouching {
		h.Heard, h.Known = Heard(chord[base].Pitch, chord[touching].Pitch)
	}
	return h, true
}
