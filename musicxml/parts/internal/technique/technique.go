package technique

import (
	"slices"
	"strings"

	"github.com/beevik/etree"

	"deskpart/instruments"
	"deskpart/musicxml"
	"deskpart/musicxml/music"
	"deskpart/musicxml/notice"
	"deskpart/musicxml/parts/internal/draft"
)

// RemoveForeign takes out what a part that the plan gives to an instrument of another
// family, or with other strings, says to the instrument of the score alone.
func RemoveForeign(d *draft.Draft) error {
	from, to := d.Survey.Match.Instrument, d.Assignment.Instrument
	if !d.OtherInstrument() || from != nil && from.Family == to.Family && (from.StrungAs(to) || !to.Flags.Bowed && !to.Flags.Plucked) {
		return nil
	}
	d.Warn(Remove(d.Timeline, from, to)...)
	d.Rewritten()
	return nil
}

// Remove takes out of a part, laid out in time, the marks that
// name strings, bows, fingers, holes, mutes or pedals that the instrument to does
// not have, and fingerings of another instrument; from is the instrument they
// were written for, nil where it is not known. What was taken out is said bar by
// bar (code "foreign-technique"), and so is what stays and cannot be played as
// written (code "unplayable"): chords on an instrument of one line, words that
// ask for another instrument's technique. The timeline's elements may be gone
// from the tree afterwards; lay it out anew.
func Remove(t *musicxml.Timeline, from, to *instruments.Instrument) []musicxml.Warning {
	r := techniqueRemover{from: from, to: to}
	r.lacks = r.lacking()
	for i := range t.Measures {
		r.measure(&t.Measures[i])
	}
	return r.warnings
}

// techniqueRemover goes through a part bar by bar.
type techniqueRemover struct {
	from, to *instruments.Instrument
	lacks    []string // what words may ask for in vain
	bar      *musicxml.Measure
	removed  []string // in this bar, each name once
	sung     bool     // syllables have been told of
	tremolo  bool     // one was said in this bar
	at       musicxml.Fraction
	warnings []musicxml.Warning
}

func (r *techniqueRemover) measure(m *musicxml.Measure) {
	r.bar, r.removed, r.tremolo = m, r.removed[:0], false
	chord := false
	for i := range m.Events {
		ev := &m.Events[i]
		switch ev.Kind {
		case musicxml.Note:
			r.note(ev)
			if ev.Chord && r.to.OneLine && !chord {
				chord = true
				r.warn(notice.Unplayable, ev.Onset, "a chord, which "+r.name()+" cannot play")
			}
		case musicxml.Direction:
			r.direction(ev)
		case musicxml.Attributes:
			r.attributes(ev.Element)
		case musicxml.Sound:
			r.sound(ev.Element, ev.Onset)
		case musicxml.Harmony:
			r.marks(ev.Element, ev.Onset)
		}
	}
	if len(r.removed) > 0 {
		r.warn(notice.ForeignTechnique, r.at, "left out what "+r.name()+" does not have: "+strings.Join(r.removed, ", "))
	}
}

func (r *techniqueRemover) name() string { return r.to.Label("en", "") }

func (r *techniqueRemover) warn(code notice.Code, at musicxml.Fraction, text string) {
	r.warnings = append(r.warnings, musicxml.Warning{Code: code, Measure: r.bar.Number, Beat: r.bar.Beat(at), Text: text})
}

// note goes through a note's marks.
func (r *techniqueRemover) note(ev *musicxml.Event) {
	if !r.strings() {
		draft.RemoveAttr(ev.Element, "pizzicato")
	}
	r.plays(ev.Element, ev.Onset)
	r.syllable(ev)
	for k := len(ev.Element.Child) - 1; k >= 0; k-- {
		notations, ok := ev.Element.Child[k].(*etree.Element)
		if !ok || notations.Tag != "notations" {
			continue
		}
		for i := len(notations.Child) - 1; i >= 0; i-- {
			e, ok := notations.Child[i].(*etree.Element)
			if !ok {
				continue
			}
			switch e.Tag {
			case "technical", "articulations":
				r.marks(e, ev.Onset)
				if len(e.ChildElements()) == 0 {
					notations.RemoveChild(e)
				}
			case "arpeggiate", "non-arpeggiate":
				r.mark(e, ev.Onset)
			case "ornaments":
				r.bowTremolo(e, ev.Onset)
			}
		}
		if len(notations.ChildElements()) == 0 {
			ev.Element.RemoveChild(notations)
		}
	}
}

// bowTremolo reports, once a bar, quick repetition of one note on an instrument
// whose player has breath for it and no bow or stick.
func (r *techniqueRemover) bowTremolo(ornaments *etree.Element, at musicxml.Fraction) {
	e := musicxml.Child(ornaments, "tremolo")
	if e == nil || r.tremolo || !r.to.Flags.Breath || r.from == nil || r.from.Flags.Breath {
		return
	}
	if t := musicxml.Attr(e, "type"); (t == "" || t == "single" || t == "unmeasured") && musicxml.Text(e) >= "3" {
		r.tremolo = true
		r.warn(notice.Unplayable, at, "a tremolo on one note, which "+r.name()+" can only tongue; the marks were left")
	}
}

func (r *techniqueRemover) marks(parent *etree.Element, at musicxml.Fraction) {
	for i := len(parent.Child) - 1; i >= 0; i-- {
		if e, ok := parent.Child[i].(*etree.Element); ok {
			r.mark(e, at)
		}
	}
}

// mark removes a mark that is not the instrument's.
func (r *techniqueRemover) mark(e *etree.Element, at musicxml.Fraction) {
	if !r.can(e.Tag) {
		r.drop(e, at, strings.ReplaceAll(e.Tag, "-", " "))
	}
}

// drop takes an element out, to be said by that name.
func (r *techniqueRemover) drop(e *etree.Element, at musicxml.Fraction, name string) {
	e.Parent().RemoveChild(e)
	if len(r.removed) == 0 || at.Less(r.at) {
		r.at = at
	}
	if !slices.Contains(r.removed, name) {
		r.removed = append(r.removed, name)
	}
}

// can reports whether the instrument has what a mark asks for
// (trade/musicxml-coverage.md, section 5). Of an unknown mark nothing is said.
func (r *techniqueRemover) can(mark string) bool {
	f := &r.to.Flags
	switch mark {
	case "up-bow", "down-bow", "snap-pizzicato", "thumb-position", "string-mute":
		return f.Bowed
	case "open-string", "harmonic":
		return r.strings()
	case "string":
		return r.strings() && r.sameStrings()
	case "fret":
		return f.Fretted && r.sameStrings()
	case "hammer-on", "pull-off", "tap", "bend", "golpe":
		return f.Fretted
	case "pluck", "fingernails":
		return f.Plucked
	case "heel", "toe", "pedal":
		return f.Keyboard || f.Mallets && mark == "pedal"
	case "fingering":
		return r.sameKind()
	case "hole":
		return r.to.Group == instruments.Woodwind && r.sameKind()
	case "double-tongue", "triple-tongue", "flip", "smear", "breath-mark":
		return f.Breath
	case "brass-bend", "harmon-mute", "half-muted":
		return r.to.Group == instruments.Brass
	case "stopped", "open":
		return r.to.Group == instruments.Brass || r.strings() || r.to.Group == instruments.Percussion
	case "handbell":
		return r.to.Group == instruments.Percussion
	case "arpeggiate", "non-arpeggiate":
		return !r.to.OneLine
	case "harp-pedals", "damp", "damp-all":
		return r.to.Family == "harp" || mark != "harp-pedals" && (f.Plucked || r.to.Group == instruments.Percussion)
	case "accordion-registration":
		return r.to.Family == "accordion"
	case "percussion":
		return r.to.Group == instruments.Percussion
	case "frame":
		return f.Fretted && r.sameKind()
	case "scordatura":
		return r.strings() && r.sameKind()
	}
	return true
}

func (r *techniqueRemover) strings() bool { return r.to.Flags.Bowed || r.to.Flags.Plucked }

// sameKind reports whether the marks were written for this kind of instrument; of
// an unknown one nothing is known against it.
func (r *techniqueRemover) sameKind() bool { return r.from == nil || r.from.Kind == r.to.Kind }

// sameStrings reports whether strings and frets are numbered as the marks have it; of an
// unknown instrument nothing is known against it.
func (r *techniqueRemover) sameStrings() bool { return r.from == nil || r.from.StrungAs(r.to) }

// direction removes direction-types of another instrument and reports words that
// name its techniques.
func (r *techniqueRemover) direction(ev *musicxml.Event) {
	for i := len(ev.Element.Child) - 1; i >= 0; i-- {
		types, ok := ev.Element.Child[i].(*etree.Element)
		if !ok {
			continue
		}
		switch types.Tag {
		case "sound":
			r.sound(types, ev.Onset)
			if draft.SaysNothing(types) {
				ev.Element.RemoveChild(types)
			}
		case "direction-type":
			r.words(types, ev.Onset)
			r.marks(types, ev.Onset)
			if len(types.ChildElements()) == 0 {
				ev.Element.RemoveChild(types)
			}
		}
	}
	if musicxml.Child(ev.Element, "direction-type") == nil {
		ev.Element.Parent().RemoveChild(ev.Element)
	}
}

// sound takes out of playback what is meant for the sound of another instrument.
func (r *techniqueRemover) sound(sound *etree.Element, at musicxml.Fraction) {
	if !r.strings() {
		draft.RemoveAttr(sound, "pizzicato")
	}
	r.plays(sound, at)
	if sound.Parent() != nil && sound.Parent().Tag == "measure" && draft.SaysNothing(sound) {
		sound.Parent().RemoveChild(sound)
	}
}

// plays takes out techniques of playback: mutes, strokes, vowels. They belong to the
// instrument's sound (MusicXML 4.0, play), which instruments of one group share.
func (r *techniqueRemover) plays(parent *etree.Element, at musicxml.Fraction) {
	if r.from != nil && r.from.Group == r.to.Group {
		return
	}
	for _, e := range musicxml.Children(parent, "play") {
		r.drop(e, at, "techniques of playback")
	}
}

// attributes takes tuning, capo and the lines of tablature away: they are those of the
// strings that the part was written for.
func (r *techniqueRemover) attributes(attributes *etree.Element) {
	if r.sameStrings() && (r.from != nil || r.to.Flags.Fretted) {
		return
	}
	tablature := slices.ContainsFunc(musicxml.Children(attributes, "clef"), func(clef *etree.Element) bool {
		return musicxml.ChildText(clef, "sign") == "TAB" && !music.IsAdditional(clef)
	})
	for _, d := range musicxml.Children(attributes, "staff-details") {
		if tablature || musicxml.Child(d, "staff-tuning") != nil || musicxml.Child(d, "capo") != nil || musicxml.Attr(d, "show-frets") != "" {
			draft.DropAttribute(d)
		}
	}
}
