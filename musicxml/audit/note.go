package audit

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
)

// noteFacts is what the audit wants of one note.
type noteFacts struct {
	chord, grace, cue, rest, hidden bool
	voice                           string
	pitch, duration, notations      *etree.Element
	beams                           bool
	ties                            music.Ties
	onset, end                      int64
}

// note looks over one note.
func (a *auditor) note(e *etree.Element) {
	n := a.readNote(e)
	a.hearVoice(n.voice)
	a.place(&n)
	if len(e.Attr) > 0 {
		n.hidden = musicxml.Attr(e, "print-object") == "no"
	}
	if !n.rest {
		a.changes.lastNote = a.index
		a.rest.sounds(a, &n)
	}
	if n.beams {
		a.beamsOf(e, &n)
	}
	if n.ties.Start() || n.ties.Stop() {
		a.tie(&n)
	}
	if n.notations != nil {
		for notations := range musicxml.Each(e, "notations") {
			a.notations(notations, n.voice, a.atTicks(n.onset))
		}
	}
}

// readNote goes through a note's children once.
func (a *auditor) readNote(e *etree.Element) noteFacts {
	n := noteFacts{voice: "1"}
	for c := range e.ChildElementsSeq() {
		switch c.Tag {
		case "chord":
			n.chord = true
		case "grace":
			n.grace = true
		case "cue":
			n.cue = true
		case "rest":
			n.rest = true
		case "pitch":
			n.pitch = c
		case "duration":
			n.duration = c
		case "voice":
			n.voice = musicxml.Text(c)
		case "staff":
			a.checkStaff(c, "note")
		case "tie":
			n.ties.Add(c)
		case "notations":
			if n.notations == nil {
				n.notations = c
			}
			for tied := range musicxml.Each(c, "tied") {
				n.ties.Add(tied)
			}
		case "beam":
			n.beams = true
		case "instrument", "play":
			a.ids.instrument(a, c)
		case "lyric":
			a.lyric(c, n.voice)
		case "listen":
			a.refer(c)
		}
	}
	return n
}

// place gives a note its time and moves on.
func (a *auditor) place(n *noteFacts) {
	n.onset = a.now
	if n.chord {
		n.onset = a.last
	}
	if n.grace {
		n.end = n.onset
		return
	}
	length := a.duration(n.duration)
	n.end = n.onset + length
	if n.chord {
		return
	}
	a.last = a.now
	a.now += length
	a.reach = max(a.reach, a.now)
}

// hearVoice remembers that there is a voice.
func (a *auditor) hearVoice(voice string) {
	if voice == a.lastVoice && len(a.voices) > 0 {
		return
	}
	a.lastVoice = voice
	if slices.Contains(a.voices, voice) {
		return
	}
	a.voices = append(a.voices, strings.Clone(voice))
}

// voiceRef is a place that speaks of a voice.
type voiceRef struct {
	at   place
	name string
	of   string
}

// voiceNamed remembers that something speaks of a voice.
func (a *auditor) voiceNamed(voice, of string) {
	if voice != "" {
		a.voiceRefs = append(a.voiceRefs, voiceRef{a.at(), voice, of})
	}
}

func (a *auditor) finishVoices() {
	for _, ref := range a.voiceRefs {
		if !slices.Contains(a.voices, ref.name) {
			a.find(ref.at, notice.NoSuchVoice, ref.of+" voice "+ref.name+", which the part does not have")
		}
	}
}
