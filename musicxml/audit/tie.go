package audit

import (
	"github.com/beevik/etree"

	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/transpose/pitch"
)

// tie is one that has begun.
type tie struct {
	at    place
	sound pitch.Pitch
	known bool  // sound is read
	end   int64 // of its note in the bar
	voice string
	name  string
	bar   int
	turns bool // the bar ends where the music may jump
}

// tie takes up the ends of ties at a note. Both ends have the same pitch, however
// spelled (MusicXML 4.0, tied: "enharmonic, but not inequivalent").
func (a *auditor) tie(n *noteFacts) {
	sound, known := readPitch(n.pitch)
	t := tie{at: a.atTicks(n.onset), sound: sound, known: known, end: n.end, voice: n.voice, name: nameOf(sound, known), bar: a.index}
	if n.ties.Stop() {
		a.stopTie(n, t)
	}
	if n.ties.Start() {
		a.ties = append(a.ties, t)
	}
}

func readPitch(e *etree.Element) (pitch.Pitch, bool) {
	if e == nil {
		return pitch.Pitch{}, false
	}
	p, err := music.ReadPitch(e)
	return p, err == nil
}

func nameOf(p pitch.Pitch, known bool) string {
	if !known {
		return "the note"
	}
	return p.String()
}

// stopTie looks for the tie that a note ends: of its pitch, from a note that ends
// where this one begins, its own voice first.
func (a *auditor) stopTie(n *noteFacts, stop tie) {
	best := -1
	for i := range a.ties {
		t := &a.ties[i]
		if t.known != stop.known || t.known && t.sound.MIDI() != stop.sound.MIDI() || t.bar == a.index && t.end != n.onset && a.exact {
			continue
		}
		if best < 0 || t.voice == n.voice && a.ties[best].voice != n.voice {
			best = i
		}
	}
	if best >= 0 {
		a.ties = append(a.ties[:best], a.ties[best+1:]...)
		return
	}
	if n.onset == 0 && a.metre.maySkipTo() {
		return // held from the bar that the music jumps from
	}
	stop.end = n.onset
	a.metre.early = append(a.metre.early, stop)
}

// settleTies looks, at the end of a bar, for ties that should have met their note by
// now. What is tied on across the barline waits.
func (a *auditor) settleTies() {
	a.metre.pairLateTies(a)
	kept := a.ties[:0]
	for _, t := range a.ties {
		switch {
		case t.bar == a.index && (t.end >= a.reach || !a.exact):
			t.turns = a.metre.jumpsFrom
			kept = append(kept, t)
		case t.turns:
		default:
			a.openTie(t)
		}
	}
	a.ties = kept
}

func (a *auditor) finishTies() {
	for _, t := range a.ties {
		a.openTie(t)
	}
}

func (a *auditor) openTie(t tie) {
	a.find(t.at, notice.TieToNothing, "the tie from "+t.name+" meets no note of the same pitch")
}
