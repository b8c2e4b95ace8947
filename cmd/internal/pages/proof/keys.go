package proof

import (
	"slices"

	"github.com/beevik/etree"

	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/transpose"
	"deskpart/transpose/pitch"
)

// KeyRow is the key, and the transposition, from a bar on.
type KeyRow struct {
	Measure string `json:"measure"`
	// Sounding and Written are nil where no signature stands.
	Sounding *Signature `json:"sounding"`
	Written  *Signature `json:"written"`
	// Sounds says the transposition in words; Respelled that it is the part's first
	// one, spelled another way so that the signature stays within its limit.
	Sounds    string `json:"sounds"`
	Respelled bool   `json:"respelled,omitempty"`
}

// Signature is a key signature.
type Signature struct {
	// Fifths counts sharps, negative flats.
	Fifths int `json:"fifths"`
	// Mode as the score says it ("major", "minor"), "" for unsaid.
	Mode string `json:"mode,omitempty"`
	// Special is a signature of chosen signs, which counts no fifths.
	Special bool `json:"special,omitempty"`
}

// key is a signature at its place.
type key struct {
	bar int               // from 0
	at  musicxml.Fraction // in quarter notes from the start of the piece
	Signature
}

// keysOf lists the signatures that are printed on a part's first staff.
func keysOf(t *musicxml.Timeline) ([]key, error) {
	var list []key
	for i := range t.Measures {
		m := &t.Measures[i]
		for k := range m.Events {
			if m.Events[k].Kind != musicxml.Attributes {
				continue
			}
			e := firstStaffKey(m.Events[k].Element)
			if e == nil {
				continue
			}
			said, err := music.ReadKey(e)
			if err != nil {
				return nil, err
			}
			list = append(list, key{i, m.Start.Add(m.Events[k].Onset),
				Signature{Fifths: said.Fifths, Mode: musicxml.ChildText(e, "mode"), Special: !said.Traditional}})
		}
	}
	return list, nil
}

func firstStaffKey(attributes *etree.Element) *etree.Element {
	for _, e := range musicxml.Children(attributes, "key") {
		if n := musicxml.Attr(e, "number"); (n == "" || n == "1") && musicxml.Attr(e, "print-object") != "no" {
			return e
		}
	}
	return nil
}

// soundingKeys are the keys of the score's part as they sound.
func soundingKeys(t *musicxml.Timeline) ([]key, error) {
	list, err := keysOf(t)
	if err != nil {
		return nil, err
	}
	said, err := transpose.Stretches(t)
	if err != nil {
		return nil, err
	}
	for i := range list {
		if !list[i].Special {
			list[i].Fifths += inForce(said, t, list[i].at, 1).Fifths()
		}
	}
	return list, nil
}

// inForce is the transposition at a time, on a staff.
func inForce(said []transpose.Stretch, t *musicxml.Timeline, at musicxml.Fraction, staff int) pitch.Interval {
	var now pitch.Interval
	for i := range said {
		if s := &said[i]; (s.Staff == 0 || s.Staff == staff) && startOf(s, t).Cmp(at) <= 0 {
			now = s.To.Interval()
		}
	}
	return now
}

func startOf(s *transpose.Stretch, t *musicxml.Timeline) musicxml.Fraction {
	return t.Measures[s.Measure].Start.Add(s.Onset)
}

// listKeys lists where the key or the transposition begins or changes, as it
// sounds and as it is read.
func (e *examination) listKeys() {
	written, err := keysOf(e.timeline)
	if err != nil || len(e.timeline.Measures) == 0 {
		return // said by whoever made the part
	}
	for _, c := range e.changes(written) {
		now, first := inForce(e.said, e.timeline, c.at, 1), e.part.Transpose.Interval()
		row := KeyRow{Measure: e.timeline.Measures[c.bar].Number,
			Sounding: latest(e.sounding, c.at), Written: latest(written, c.at),
			Sounds: soundsWords(now), Respelled: now != first && now.Chromatic == first.Chromatic}
		if last := len(e.part.Keys) - 1; last < 0 || !row.like(&e.part.Keys[last]) {
			e.part.Keys = append(e.part.Keys, row)
		}
	}
}

// changes are the places where anything may change, in order, the beginning first.
func (e *examination) changes(written []key) []key {
	list := []key{{}}
	list = append(list, written...)
	for _, k := range e.sounding {
		if k.bar < len(e.timeline.Measures) {
			list = append(list, k)
		}
	}
	for i := range e.said {
		if s := &e.said[i]; s.Staff <= 1 {
			list = append(list, key{bar: s.Measure, at: startOf(s, e.timeline)})
		}
	}
	slices.SortStableFunc(list, func(a, b key) int { return a.at.Cmp(b.at) })
	return list
}

// latest is the signature in force at a time, nil before the first.
func latest(list []key, at musicxml.Fraction) *Signature {
	var now *Signature
	for i := range list {
		if list[i].at.Cmp(at) <= 0 {
			now = &list[i].Signature
		}
	}
	return now
}

func (r *KeyRow) like(s *KeyRow) bool {
	return r.Sounding.like(s.Sounding) && r.Written.like(s.Written) && r.Sounds == s.Sounds
}

func (s *Signature) like(t *Signature) bool {
	if s == nil || t == nil {
		return s == t
	}
	return *s == *t
}
